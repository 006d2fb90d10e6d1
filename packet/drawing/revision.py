"""Revision marks: a bar beside what changed on a page and a triangle with the index of the change (ISO 7200 leaves the
place free; the triangle is common practice, no source). They are laid over a finished sheet and are no part of its serial."""

from __future__ import annotations

from dataclasses import replace

from packet.drawing.lettering import FINE_BOLD, Lettering
from packet.drawing.marks import Drawing, Line, Mark, Path, Text, bounds
from packet.drawing.page import FILING_EDGE, FinishedSheet
from packet.drawing.pens import HEAVY, NARROW
from packet.drawing.room import Room

_BAR = FILING_EDGE - 5.0
"""mm from the left edge of the page: in the filing edge, where nothing else is drawn."""
_HALF = 4.0
_APART = 8.0
"""mm of unchanged page that part two bars."""


def with_revision(sheet: FinishedSheet, before: FinishedSheet | None, room: Room, index: str,
                  lettering: Lettering) -> FinishedSheet:
    """The sheet with a bar beside each part of its content that is not on the page before; all along a new sheet."""
    spans = [(room.bottom, room.top)] if before is None else _spans(sheet, before, room, lettering)
    marks: list[Mark] = []
    for low, high in spans:
        middle = (low + high) / 2
        low, high = min(low, middle - _HALF), max(high, middle + _HALF)
        marks += [Line((_BAR, low), (_BAR, high), HEAVY), *_triangle((_BAR - 1.5, middle), index)]
    return replace(sheet, marks=(*sheet.marks, *marks))


def _spans(sheet: FinishedSheet, before: FinishedSheet, room: Room, lettering: Lettering) -> list[tuple[float, float]]:
    """From where to where the content differs, up the page, mm; header and title block are left aside."""
    known = set(before.marks)
    found = []
    for mark in sheet.marks:
        if mark in known:
            continue
        _, low, _, high = bounds((mark,), lettering)
        if high > room.bottom and low < room.top and high - low < room.height:
            found.append((max(low, room.bottom), min(high, room.top)))
    merged: list[tuple[float, float]] = []
    for low, high in sorted(found):
        if merged and low - merged[-1][1] < _APART:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return merged or [(room.bottom, room.top)]


def _triangle(centre: tuple[float, float], index: str) -> Drawing:
    """Left of the bar, its point up, the index in it."""
    x, y = centre[0] - _HALF, centre[1]
    return (Path(((x - _HALF, y - 3.0), (x + _HALF, y - 3.0), (x, y + 4.0)), NARROW, 1.0),
            Text((x, y - 2.2), index, FINE_BOLD, "centre"))
