"""Ledgers that went wrong: bytes damaged, lines doubled, moved and lost, and values changed by one who mends the checksums."""

from __future__ import annotations

import json
import random
from functools import cache
from typing import Any

from packet.ledger.entries import Collected, Decided, Done, Gauged, Issued, Item, Measured, Piece, SetAside, State, to_data
from packet.ledger.store import FORMAT, _sum
from tests.fuzz.mutations import VALUES, damaged

MARKS = ("A1", "A2", "A6", "B3", "L1", "", "7", "A99")
ACTS: tuple[tuple[Item, ...], ...] = (
    (Issued("C-01", "K3F-9QZ1", "A", "8f3a01bc", "cutting table"), Issued("L-01", "K3F-9QZ2", "A", "8f3a01bc", "lead")),
    (Collected("K3F-9QZ1", "cutting table"),),
    (Measured("1", 2437.0, 1219.0), Measured("2", 2436.0, 1219.0, (2724.0, 2726.0), (25.0, 25.0, 24.5, 25.0))),
    (SetAside("2"),),
    (Piece("A2", State.CUT, "1", "K3F-9QZ1", {"width": 596.9}), Piece("A3", State.SPOILED)),
    (Done("mark:board 1", "C", 22.5, 13.4, 2), Done("brief", "L")),
    (Decided({"number": 1, "remedy": "use", "leaf": "A2", "told": "as it is", "reissue": "hut-reissue-1.pdf",
              "part": ".hut-reissue-1.pdf.abcdefgh.pages.part"}),),
    (Decided({"number": 1, "remedy": "blank", "leaf": "A3", "told": "cut", "trimmed": ["A2", "A4"], "x": 1.5}),),
    (Gauged(((100.0, 99.2),), ((150.0, 148.8), (100.0, 99.1))),),
)
ODD: tuple[Any, ...] = (None, True, -1, 0, 1e308, float("nan"), float("inf"), 10 ** 400, "", "\x1b[2J", "../../x", [], {},
                        [[[]]], {"a": 1}, "9" * 5000, *VALUES[:20])


@cache
def texts() -> tuple[list[dict[str, Any]], ...]:
    return tuple([{"act": number, "at": "2031-05-02T09:30:00Z", "entries": [to_data(item) for item in act]}] for number, act
                 in enumerate(ACTS, 1))


def chained(acts: list[dict[str, Any]]) -> bytes:
    """The lines with the checksums that belong to them, so that only what they say can be wrong."""
    lines, last = [json.dumps({"ledger": "packet", "format": FORMAT})], ""
    for body in acts:
        last = _sum(last, body)
        lines.append(json.dumps({**body, "sum": last}, ensure_ascii=False))
    return ("\n".join(lines) + "\n").encode("utf-8", "surrogatepass")


def one(number: int) -> bytes:
    """The mutated ledger of that number."""
    dice = random.Random(number)
    acts = [json.loads(json.dumps(body)) for body in
            (dice.choice(texts())[0] for _ in range(dice.randrange(1, 6)))]
    for place, body in enumerate(acts, 1):
        body["act"] = place
    if dice.random() < 0.75:
        for _ in range(dice.choice((1, 1, 2, 4))):
            _change(dice.choice(acts), dice)
    content = chained(acts)
    if dice.random() < 0.2:
        lines = content.splitlines(keepends=True)
        dice.shuffle(lines)
        content = b"".join(lines)
    return damaged(content, dice) if dice.random() < 0.3 else content


def _change(body: dict[str, Any], dice: random.Random) -> None:
    """One value somewhere in an act becomes another, goes, or has company."""
    places: list[tuple[Any, Any]] = []

    def walk(node: Any) -> None:
        for key, value in (node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()):
            places.append((node, key))
            walk(value)

    walk(body)
    node, key = dice.choice(places)
    kind = dice.randrange(6)
    if kind == 0:
        del node[key]
    elif kind == 1 and isinstance(node, dict):
        node[dice.choice(("board", "mark", "width", "extra", "\x07", "remedy"))] = dice.choice(ODD)
    elif kind == 2 and isinstance(node[key], int | float) and not isinstance(node[key], bool):
        node[key] = node[key] * dice.choice((0.5, 0.99, 1.01, 2, -1, 1000))
    elif kind == 3:
        node[key] = dice.choice(MARKS)
    elif kind == 4:
        other, far = dice.choice(places)
        node[key] = json.loads(json.dumps(other[far]))
    else:
        node[key] = dice.choice(ODD)

