"""The marks of a packet as plain tuples in points, so that a bare process can draw them again without this program."""

from __future__ import annotations

import marshal
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from packet.drawing.marks import Arc, Circle, Line, Mark, Text
from packet.drawing.page import FinishedSheet
from packet.drawing.page_code import MODULE, MODULES
from packet.pdf.code import runs
from packet.pdf.fonts import font_name, lettering
from packet.pdf.measure import POINTS

CUTS = ("Regular", "Bold", "Italic", "BoldItalic")


Placed = tuple[FinishedSheet, str, tuple[float, float]]
"""A page, the form that is placed on it (none: empty), and by how much it is moved, mm."""


def record(sheets: Sequence[FinishedSheet], title: str, target: Path, copies: int = 1) -> None:
    """Write the marks of the sheets, to be drawn `copies` times over, for `replay.py`."""
    pages = [(*_page(sheet), None) for sheet in sheets]
    target.write_bytes(marshal.dumps((title, _fonts(), {}, pages, copies)))


def record_forms(forms: Mapping[str, Iterable[Mark]], placed: Sequence[Placed], title: str, target: Path) -> None:
    """The same with drawings that are made once, and placed on the pages with a clip."""
    letters = lettering()
    plain = {name: [_plain(mark, letters) for mark in marks] for name, marks in forms.items()}
    pages = [(*_page(sheet), (name, [side * POINTS for side in sheet.window], [way * POINTS for way in by])
              if name and sheet.window else None) for sheet, name, by in placed]
    target.write_bytes(marshal.dumps((title, _fonts(), plain, pages, 1)))


def _fonts() -> dict[str, str]:
    from fontpkg_atkinson_hyperlegible import ROOT

    return {f"Packet-{cut}": str(ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf") for cut in CUTS}


def _page(sheet: FinishedSheet) -> tuple[Any, ...]:
    letters = lettering()
    return sheet.number, (sheet.paper.width, sheet.paper.height), [
        *(_plain(mark, letters) for mark in sheet.marks), *_code(sheet)]


def _plain(mark: Mark, letters: Any) -> tuple[Any, ...]:
    if isinstance(mark, Text):
        place = (mark.at[0] * POINTS, mark.at[1] * POINTS)
        shape = (mark.string, font_name(mark.style), letters.em(mark.style) * POINTS, mark.anchor, mark.angle, *place)
        return ("text", shape, None, mark.grey)
    pen = mark.pen and (mark.pen.width * POINTS, mark.pen.grey, [length * POINTS for length in mark.pen.dash])
    if isinstance(mark, Line):
        return ("line", tuple(value * POINTS for value in (*mark.a, *mark.b)), pen, None)
    if isinstance(mark, Circle):
        return ("circle", tuple(value * POINTS for value in (*mark.centre, mark.radius)), pen, mark.fill)
    if isinstance(mark, Arc):
        place = tuple(value * POINTS for value in (*mark.centre, mark.radius))
        return ("arc", (*place, mark.start, mark.stop - mark.start), pen, None)
    return ("path", ([(x * POINTS, y * POINTS) for x, y in mark.points], mark.closed), pen, mark.fill)


def _code(sheet: FinishedSheet) -> Iterator[tuple[Any, ...]]:
    """The dark runs of the square code, a rectangle each."""
    if sheet.code is not None:
        left, bottom = sheet.code.at
        for column, row, count in runs(sheet.code.text):
            x, y = (left + column * MODULE) * POINTS, (bottom + (MODULES - 1 - row) * MODULE) * POINTS
            wide, high = count * MODULE * POINTS, MODULE * POINTS
            yield ("path", ([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], True), None, 0.0)
