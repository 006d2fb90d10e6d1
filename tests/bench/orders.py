"""Many shelters: 1, 10 and 100 in one process against the replay of as many, the slope of a further sheet, and the layout."""

from __future__ import annotations

import io
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from packet.boards.layout import lay_out
from packet.boards.nest import nest
from packet.description import load
from packet.drawing.page import FinishedSheet
from packet.pdf.writer import Packet, write_bound
from packet.plan import make_plan
from packet.printing import drawn
from tests.bench.measuring import DRAWING, Taken, bare, packet, pair, row
from tests.bench.recording import record

BATCHES = (1, 10, 100)
MANY = 20
"""Shelters in one order."""


def rows(folder: Path, project: Path, rounds: int) -> None:
    """The largest batch is measured once, the others as often as asked for."""
    plan = make_plan(load(project))
    sheets = drawn(plan)
    text = project.read_text(encoding="utf-8")
    ends: list[tuple[Taken, Taken]] = []
    for count in BATCHES:
        place = folder / f"batch{count}"
        place.mkdir()
        for number in range(count):
            (place / f"hut{number}.yaml").write_text(text, encoding="utf-8")
        marks = folder / "marks"
        record(sheets, plan.description.title, marks, copies=count)
        taken = pair(packet("print", place, "--jobs", 1), bare("replay.py", marks, folder / "floor.pdf", ",".join(DRAWING)),
                     rounds if count < BATCHES[-1] else 1)
        row(f"{count} shelter{'s' if count > 1 else ''} in one process", *taken, "flat memory" if count > 1 else "")
        ends.append(taken)
    further = (BATCHES[-1] - BATCHES[0]) * len(sheets)
    own, least = ((last.seconds - first.seconds) / further * 1000 for first, last in zip(ends[0], ends[-1], strict=True))
    written = _writing(plan.description.title, sheets)
    print(f"| a further sheet, all told | {own / 1000:.5f} | {least / 1000:.5f} | {own / least:.2f} | 1.0 | | "
          f"writing alone {written:.2f} ms, {written / least:.2f} of the replay's |", flush=True)


def _writing(title: str, sheets: Sequence[FinishedSheet]) -> float:
    """Milliseconds that the writer takes for one sheet more."""
    def taken(copies: int) -> float:
        began = time.perf_counter()
        write_bound((Packet(title, sheets) for _ in range(copies)), io.BytesIO(), title)
        return time.perf_counter() - began

    taken(1)
    return (taken(9) - taken(1)) / 8 / len(sheets) * 1000


def layouts(_: Path, project: Path, rounds: int) -> None:
    """Layout alone, in this process and warm: of one shelter, and of many in one order."""
    plan = make_plan(load(project))

    def lay(quantity: int) -> Callable[[], object]:
        return lambda: lay_out(plan.assembly, nest(plan.assembly, plan.nest.stock, quantity))

    for quantity, target in ((1, "0.25 s"), (MANY, "5 s")):
        taken = []
        for _ in range(rounds + 1):
            began = time.perf_counter()
            lay(quantity)()
            taken.append(time.perf_counter() - began)
        seconds = sorted(taken[1:])[rounds // 2]
        row(f"layout of {quantity} shelter{'s in one order' if quantity > 1 else ''}, warm", Taken(seconds, 0.0), None, target)
