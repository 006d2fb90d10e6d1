"""The marks of a packet as plain tuples in points, so that a bare process can draw them again without this program."""

from __future__ import annotations

import marshal
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from packet.drawing.marks import Arc, Circle, Line, Mark, Text
from packet.drawing.page import FinishedSheet
from packet.drawing.page_code import MODULE, MODULES
from packet.pdf.code import runs
from packet.pdf.fonts import font_name, lettering
from packet.pdf.measure import POINTS

CUTS = ("Regular", "Bold", "Italic", "BoldItalic")


def record(sheets: Sequence[FinishedSheet], title: str, target: Path, copies: int = 1) -> None:
    """Write the marks of the sheets, `copies` times over, for `replay.py`."""
    from fontpkg_atkinson_hyperlegible import ROOT

    letters = lettering()
    fonts = {f"Packet-{cut}": str(ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf") for cut in CUTS}
    plain = [(sheet.number, (sheet.paper.width, sheet.paper.height),
              [*(_plain(mark, letters) for mark in sheet.marks), *_code(sheet)]) for sheet in sheets]
    pages = [(f"{number} {copy}", size, marks) for copy in range(copies) for number, size, marks in plain]
    target.write_bytes(marshal.dumps((title, fonts, pages)))


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
