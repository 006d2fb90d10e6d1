"""Values of the ledger's records as they must be: a ledger may be edited by hand, or come by mail."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

LONGEST = 1000  # characters of a text
LARGEST = 1e7  # of a number: mm, minutes, pieces


def text(value: Any) -> str:
    if not isinstance(value, str) or len(value) > LONGEST or not value.isprintable():
        raise ValueError(f"{_shown(value)} is no line of text")
    return value


def number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not -LARGEST < value < LARGEST:
        raise ValueError(f"{_shown(value)} is no number that can be recorded")
    return value


def whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < LARGEST:
        raise ValueError(f"{_shown(value)} is no count")
    return value


def length(value: Any) -> float:
    if not number(value) > 0:
        raise ValueError(f"{_shown(value)} is no length")
    return number(value)


def lengths(*counts: int) -> Callable[[Any], tuple[float, ...]]:
    """So many lengths; none where 0 is among the counts."""
    def read(value: Any) -> tuple[float, ...]:
        if not isinstance(value, list | tuple) or len(value) not in counts:
            raise ValueError(f"{_shown(value)} is no list of {' or '.join(map(str, counts))} lengths")
        return tuple(length(one) for one in value)
    return read


def bars(value: Any) -> tuple[tuple[float, ...], ...]:
    if not isinstance(value, list | tuple) or not 1 <= len(value) <= 2:
        raise ValueError(f"{_shown(value)} are no one or two bars")
    return tuple(lengths(2)(one) for one in value)


def board(value: Any) -> str:
    """A board's number, as it is counted in the order."""
    if not re.fullmatch(r"[1-9][0-9]{0,3}", text(value), re.ASCII):
        raise ValueError(f"{_shown(value)} is no number of a board")
    return str(value)


def sizes(value: Any) -> dict[str, float]:
    if not isinstance(value, Mapping):
        raise ValueError(f"{_shown(value)} are no sizes by name")
    return {text(name): number(size) for name, size in value.items()}


def decision(value: Any) -> dict[str, Any]:
    """Plain data of one level. What it says of files may only name a PDF and what is written for it beforehand."""
    if not isinstance(value, Mapping):
        raise ValueError(f"{_shown(value)} is no decision")
    found: dict[str, Any] = {}
    for name, one in value.items():
        if isinstance(one, list | tuple):
            found[text(name)] = [text(each) for each in one]
        else:
            found[text(name)] = text(one) if isinstance(one, str) else number(one)
    pdf, part = found.get("reissue"), found.get("part")
    named = isinstance(pdf, str) and re.fullmatch(r"[^/\\]+\.pdf", pdf)
    if ("reissue" in found or "part" in found) and not (named and (part is None or (
            isinstance(part, str) and re.fullmatch(rf"\.{re.escape(str(pdf))}\.[A-Za-z0-9_.]+\.part", part)))):
        raise ValueError(f"{_shown((pdf, part))} are no names of pages")
    return found


def maybe(read: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda value: None if value is None else read(value)


def _shown(value: Any) -> str:
    """A value, short and safe to send to a terminal."""
    said = ascii(value) if not (isinstance(value, int) and abs(value) > LARGEST) else "a huge number"
    return said if len(said) <= 40 else f"{said[:37]}..."
