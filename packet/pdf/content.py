"""What stands on a page, as the operators of a PDF: a page by itself, whatever others there are.

Strokes between two filled areas are gathered by pen and lettering by style; filled areas keep their place in
the order, since they may cover what was drawn before them.
"""

from __future__ import annotations

import itertools
import math
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from functools import cache
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from packet.drawing.full_size import Correction, correction_note
from packet.drawing.lettering import Lettering, Style
from packet.drawing.marks import Arc, Circle, Line, Link, Mark, Text, Viewport
from packet.drawing.marks import Path as Outline
from packet.drawing.page import FinishedSheet, copy_note
from packet.drawing.page_code import MODULE, MODULES, PageCode
from packet.drawing.pens import Pen
from packet.pdf.code import runs
from packet.pdf.fonts import font_name, lettering
from packet.pdf.measure import POINTS
from packet.units import System

_HUNDREDTHS = 100 * POINTS

_PRESSED = 4
"""How hard zlib presses: half the time of its usual 6 for a twenty-fifth more bytes."""


@dataclass(frozen=True, slots=True)
class PageContent:
    """A page ready to be bound: `stream` and `note` (what stands over it in a copy) are operators, deflated; `letters` are
    the fonts in use, by name, with what they set beside ASCII. `size` in points, `links` and `viewports` in mm."""

    number: str
    title: str
    station: str
    tag: str
    serial: str
    size: tuple[float, float]
    stream: bytes
    note: bytes
    letters: tuple[tuple[str, str], ...]
    links: tuple[Link, ...]
    viewports: tuple[Viewport, ...]
    system: System
    correction: Correction | None


def content_of(sheet: FinishedSheet, correction: Correction | None = None, copy: int = 0) -> PageContent:
    """The page of a sheet. `correction` makes up for a printer on a full-size page, about its middle, and is written on it.

    `copy` says which copy of its serial it is; that stands in a stream of its own, so that the drawing's stream is the same
    in every copy.
    """
    canvas, letters = _canvas(), lettering()
    applied = correction if sheet.window else None
    used: dict[str, set[str]] = {}
    _draw(canvas, letters, used, sheet, applied)
    stream = _taken(canvas)
    note = b""
    if copy:
        canvas.saveState()
        _Page(canvas, letters, used).draw(copy_note(sheet, copy))
        canvas.restoreState()
        note = _taken(canvas)
    return PageContent(sheet.number, sheet.title, sheet.station, sheet.tag, sheet.serial, _size(sheet), stream, note,
                       tuple((name, "".join(sorted(found))) for name, found in used.items()), sheet.links, sheet.viewports,
                       sheet.system, applied)


@cache
def _canvas() -> Any:
    """Where operators are written; never saved itself."""
    return Canvas("", initialFontName=font_name(Style(2.5)))


def _taken(canvas: Any) -> bytes:
    """The operators written so far, deflated; the canvas is empty again."""
    stream = zlib.compress(("\n".join(canvas._code) + "\n").encode("ascii"), _PRESSED)
    canvas._code.clear()
    return stream


def _size(sheet: FinishedSheet) -> tuple[float, float]:
    return (sheet.paper.width * POINTS, sheet.paper.height * POINTS)


def _draw(canvas: Any, letters: Lettering, used: dict[str, set[str]], sheet: FinishedSheet, correction: Correction | None
          ) -> None:
    """What stands on a page; of a full-size page first what is cut off at its window."""
    if correction:
        canvas.saveState()
        across, up = _size(sheet)
        canvas.translate(across / 2 * (1 - correction.across), up / 2 * (1 - correction.up))
        canvas.scale(correction.across, correction.up)
    if sheet.window and sheet.clipped:
        canvas.saveState()
        left, bottom, right, top = (edge * POINTS for edge in sheet.window)
        path = canvas.beginPath()
        path.rect(left, bottom, right - left, top - bottom)
        canvas.clipPath(path, stroke=0, fill=0)
        _Page(canvas, letters, used).draw(sheet.clipped)
        canvas.restoreState()
    _Page(canvas, letters, used).draw(sheet.marks)
    if sheet.code:
        _draw_code(canvas, sheet.code)
    if correction:
        _Page(canvas, letters, used).draw(correction_note(sheet, correction))
        canvas.restoreState()


def _draw_code(canvas: Any, code: PageCode) -> None:
    """Drawn in its own modules: whole numbers take half the room."""
    left, bottom = code.at
    canvas.saveState()
    canvas.translate(left * POINTS, bottom * POINTS)
    canvas.scale(MODULE * POINTS, MODULE * POINTS)
    canvas.setFillGray(0)
    canvas.addLiteral("\n".join([f"{column} {MODULES - 1 - row} {count} 1 re" for column, row, count in runs(code.text)]))
    canvas.addLiteral("f")
    canvas.restoreState()


class _Page:
    """Draws marks on one page and remembers the pen and the grey in use."""

    def __init__(self, canvas: Any, letters: Lettering, used: dict[str, set[str]]) -> None:
        self._canvas = canvas
        self._letters = letters
        self._used = used
        self._pen: Pen | None = None
        self._fill: float | None = None
        canvas.setLineJoin(1)  # a mitre would run far past the point of a narrow leaf
        canvas.setLineCap(0)  # square ends: a line measures exactly its length

    def draw(self, marks: Iterable[Mark]) -> None:
        for (kind, grey), run in itertools.groupby(marks, key=_kind):
            if kind is _Kind.OPEN:
                self._open(list(run))
            elif kind is _Kind.SPOTS:
                self._fill_with(grey)
                self._outlines(list(run), stroke=0, fill=1)
            else:
                for mark in run:
                    self._area(mark, grey)

    def _open(self, marks: Sequence[Mark]) -> None:
        """Strokes and lettering, none of which covers another: gathered by pen and by style."""
        by_pen: dict[Pen, list[Mark]] = {}
        texts: list[Text] = []
        for mark in marks:
            if isinstance(mark, Text):
                texts.append(mark)
            elif mark.pen is not None:
                by_pen.setdefault(mark.pen, []).append(mark)
        for pen, group in by_pen.items():
            self._use(pen)
            self._strokes(group)
        by_style: dict[tuple[Style, float], list[Text]] = {}
        for text in texts:
            by_style.setdefault((text.style, text.grey), []).append(text)
        for (style, grey), block in by_style.items():
            self._letter(style, grey, block)

    def _use(self, pen: Pen) -> None:
        if pen == self._pen:
            return
        before = self._pen
        if before is None or before.width != pen.width:
            self._canvas.setLineWidth(pen.width * POINTS)
        if before is None or before.dash != pen.dash:
            self._canvas.setDash([length * POINTS for length in pen.dash])
        if before is None or before.grey != pen.grey:
            self._canvas.setStrokeGray(pen.grey)
        self._pen = pen

    def _fill_with(self, grey: float) -> None:
        if grey != self._fill:
            self._canvas.setFillGray(grey)
            self._fill = grey

    def _strokes(self, group: Sequence[Mark]) -> None:
        """Lines in one call, then the other outlines; all with the pen in use."""
        lines = [
            (_points(mark.a[0]), _points(mark.a[1]), _points(mark.b[0]), _points(mark.b[1]))
            for mark in group
            if isinstance(mark, Line)
        ]
        if lines:
            self._canvas.lines(lines)
        outlines = [mark for mark in group if not isinstance(mark, Line)]
        if outlines:
            self._outlines(outlines, stroke=1, fill=0)

    def _outlines(self, group: Sequence[Mark], stroke: int, fill: int) -> None:
        path = self._canvas.beginPath()
        for mark in group:
            _trace(path, mark)
        self._canvas.drawPath(path, stroke=stroke, fill=fill)

    def _area(self, mark: Mark, grey: float) -> None:
        self._fill_with(grey)
        pen = None if isinstance(mark, Text) else mark.pen
        if pen is not None:
            self._use(pen)
        self._outlines([mark], stroke=0 if pen is None else 1, fill=1)

    def _letter(self, style: Style, grey: float, block: Sequence[Text]) -> None:
        """One text object for a block of lettering of one style."""
        self._fill_with(grey)
        text_object = self._canvas.beginText()
        text_object.setFont(font_name(style), self._letters.em(style) * POINTS)
        beside = self._used.setdefault(font_name(style), set())
        for text in block:
            if not text.string.isascii():
                beside.update(text.string)
            length = self._letters.width(text.string, style)
            back = {"left": 0.0, "centre": length / 2, "right": length}[text.anchor]
            x, y = text.at
            if text.angle:
                cos, sin = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))
                start = (_points(x - back * cos), _points(y - back * sin))
                text_object.setTextTransform(cos, sin, -sin, cos, *start)
            else:
                text_object.setTextOrigin(_points(x - back), _points(y))
            text_object.textOut(text.string)
        self._canvas.drawText(text_object)


class _Kind(Enum):
    """How marks are drawn: strokes and lettering, dots without an outline, or areas one by one."""

    OPEN = auto()
    SPOTS = auto()
    AREA = auto()


def _kind(mark: Mark) -> tuple[_Kind, float]:
    """The kind of a mark, and the grey it is filled with. Areas may cover what was drawn before them, so they
    part the marks before from those after; dots of one grey can go together in one path."""
    if isinstance(mark, Outline | Circle) and mark.fill is not None:
        spot = isinstance(mark, Circle) and mark.pen is None
        return (_Kind.SPOTS if spot else _Kind.AREA, mark.fill)
    return (_Kind.OPEN, 0.0)


def _points(mm: float) -> float:
    """mm in points, to the hundredth: 0.004 mm is far below what a printer places, and digits are most of a page."""
    return math.floor(mm * _HUNDREDTHS + 0.5) / 100  # `round` takes ten times as long


# How far the handles of four curves stand from their ends to make a circle, in radii.
_HANDLE = 4 / 3 * (math.sqrt(2) - 1)


def _trace(path: Any, mark: Mark) -> None:
    """Append the outline of a mark, in points, to a path."""
    match mark:
        case Outline():
            (x, y), *rest = mark.points
            path.moveTo(_points(x), _points(y))
            for x, y in rest:
                path.lineTo(_points(x), _points(y))
            if mark.closed:
                path.close()
        case Circle(centre=(x, y), radius=r):
            k = _HANDLE * r
            left, low, level, middle = _points(x - r), _points(y - k), _points(y), _points(x)
            right, high, top, bottom = _points(x + r), _points(y + k), _points(y + r), _points(y - r)
            near, far = _points(x - k), _points(x + k)
            path.moveTo(right, level)
            path.curveTo(right, high, far, top, middle, top)
            path.curveTo(near, top, left, high, left, level)
            path.curveTo(left, low, near, bottom, middle, bottom)
            path.curveTo(far, bottom, right, low, right, level)
            path.close()
        case Arc():
            (x, y), r = mark.centre, mark.radius
            box = ((x - r) * POINTS, (y - r) * POINTS, (x + r) * POINTS, (y + r) * POINTS)
            path.arc(*box, mark.start, mark.stop - mark.start)
