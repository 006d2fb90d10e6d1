"""What stands on a page as the operators of a content stream (ISO 32000-1, annex A).

Strokes between two filled areas are gathered by pen and lettering by style; filled areas keep their place in
the order, since they may cover what was drawn before them.

Coordinates are points to the hundredth: 0.004 mm is far below what a printer places, and digits are most of a page. (Whole
hundredths under a scale are written in half the time, but readers then lose the spaces between words of different size.)
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import cache

from reportlab.lib.rl_accel import escapePDF

from packet.drawing.full_size import Correction, correction_note
from packet.drawing.lettering import Lettering, Style
from packet.drawing.marks import Arc, Circle, Drawing, Line, Mark, Text
from packet.drawing.marks import Path as Outline
from packet.drawing.page import FinishedSheet
from packet.drawing.page_code import MODULE, MODULES, PageCode
from packet.drawing.pens import Pen
from packet.pdf.code import runs
from packet.pdf.fonts import cut_of, font
from packet.pdf.measure import POINTS

# In this form numbers are written faster than in any other.
_CLIP = "%.2f %.2f %.2f %.2f re W n"
_STROKE = "%.2f %.2f m %.2f %.2f l"
_PLACE = " %.2f %.2f Tm"

_JOINED = "1 j"
"""Where lines meet they are round, for a mitre would run far past the point of a narrow leaf. Their ends are square, as a page
begins: a line measures exactly its length."""

Used = dict[str, set[str]]
"""The cuts of the type that pages use, each with its letters beside ASCII."""

_NEVER_FILLED = (Line, Text, Arc)

_HANDLE = 4 / 3 * (math.sqrt(2) - 1)
"""How far the handles of four curves stand from their ends to make a circle, in radii."""


def page_operators(letters: Lettering, used: Used, sheet: FinishedSheet, correction: Correction | None) -> str:
    """All that a page shows, of a full-size page first what is cut off at its window; `correction` makes up for a printer
    about the middle of the page, and is written on it. `used` is told of what is lettered."""
    content = [_JOINED]
    if correction:
        across, up = correction.across, correction.up
        middle = (sheet.paper.width * POINTS / 2 * (1 - across), sheet.paper.height * POINTS / 2 * (1 - up))
        content.append(f"q {_real(across)} 0 0 {_real(up)} {_real(middle[0])} {_real(middle[1])} cm")
    if sheet.window and sheet.clipped:
        left, bottom, right, top = sheet.window
        edges = (left, bottom, right - left, top - bottom)
        content += ["q", _CLIP % tuple([edge * POINTS for edge in edges])]
        _Pens(letters, used, content).draw(sheet.clipped)
        content.append("Q")
    pens = _Pens(letters, used, content)
    pens.draw(sheet.marks)
    if sheet.code:
        content += _code(sheet.code)
    if correction:
        pens.draw(correction_note(sheet, correction))
        content.append("Q")
    return "\n".join(content) + "\n"


def note_operators(letters: Lettering, used: Used, marks: Drawing) -> str:
    """A few marks as a content stream of their own."""
    content = ["q " + _JOINED]
    _Pens(letters, used, content).draw(marks)
    return "\n".join(content) + "\nQ\n"


def _real(value: float) -> str:
    """A number with as many places as it needs, at most six."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _code(code: PageCode) -> list[str]:
    """Drawn in its own modules: whole numbers of one or two digits."""
    left, bottom = code.at
    module = _real(MODULE * POINTS)
    squares = [f"{column} {MODULES - 1 - row} {count} 1 re" for column, row, count in runs(code.text)]
    return [f"q {module} 0 0 {module} {_real(left * POINTS)} {_real(bottom * POINTS)} cm 0 g", *squares, "f Q"]


class _Pens:
    """Adds the operators of marks to a page's and remembers the pen and the grey in use. Black is what a page begins with."""

    def __init__(self, letters: Lettering, used: Used, content: list[str]) -> None:
        self._letters = letters
        self._used = used
        self._pen: Pen | None = None
        self._grey = 0.0
        self._content = content

    def draw(self, marks: Iterable[Mark]) -> None:
        """In their order. Areas may cover what was drawn before them, so they part the marks before from those after; dots of
        one grey can go together in one path."""
        add = self._content.append
        opened: list[Mark] = []
        dots: list[str] = []
        dotted = 0.0
        for mark in marks:
            filled = None if isinstance(mark, _NEVER_FILLED) else mark.fill
            if dots and (filled != dotted or not isinstance(mark, Circle) or mark.pen is not None):
                self._dots(dots, dotted)
                dots = []
            if filled is None:
                opened.append(mark)
                continue
            if opened:
                self._open(opened)
                opened = []
            if isinstance(mark, Circle) and mark.pen is None:
                dots.append(_traced(mark))
                dotted = filled
                continue
            self._fill_with(filled)
            pen = None if isinstance(mark, Text) else mark.pen
            if pen is not None:
                self._use(pen)
            add(_traced(mark) + (" f*" if pen is None else " B*"))
        if dots:
            self._dots(dots, dotted)
        if opened:
            self._open(opened)

    def _dots(self, dots: list[str], grey: float) -> None:
        self._fill_with(grey)
        self._content += [*dots, "f*"]

    def _open(self, marks: Sequence[Mark]) -> None:
        """Strokes and lettering, none of which covers another: gathered by pen and by style."""
        by_pen: dict[Pen, tuple[list[str], list[str]]] = {}
        by_style: dict[tuple[Style, float], list[Text]] = {}
        # Most pens and styles are the same record again, which is seen faster than that they are equal.
        pens: dict[int, tuple[list[str], list[str]]] = {}
        styles: dict[tuple[int, float], list[Text]] = {}
        for mark in marks:
            if isinstance(mark, Text):
                look = (id(mark.style), mark.grey)
                if look not in styles:
                    styles[look] = by_style.setdefault((mark.style, mark.grey), [])
                styles[look].append(mark)
                continue
            pen = mark.pen
            if pen is None:
                continue
            if id(pen) not in pens:
                pens[id(pen)] = by_pen.setdefault(pen, ([], []))
            if isinstance(mark, Line):
                (x0, y0), (x1, y1) = mark.a, mark.b
                pens[id(pen)][0].append(_STROKE % (
                    x0 * POINTS, y0 * POINTS, x1 * POINTS, y1 * POINTS))
            else:
                pens[id(pen)][1].append(_traced(mark))
        for pen, both in by_pen.items():
            self._use(pen)
            for group in both:
                if group:
                    self._content += [*group, "S"]
        for (style, grey), block in by_style.items():
            self._letter(style, grey, block)

    def _use(self, pen: Pen) -> None:
        before = self._pen
        if pen is before:
            return
        if before is None or before.width != pen.width:
            self._content.append(f"{_real(pen.width * POINTS)} w")
        if before is None or before.dash != pen.dash:
            self._content.append(f"[{' '.join([_real(length * POINTS) for length in pen.dash])}] 0 d")
        if before is None or before.grey != pen.grey:
            self._content.append(f"{_real(pen.grey)} G")
        self._pen = pen

    def _fill_with(self, grey: float) -> None:
        if grey != self._grey:
            self._content.append(f"{_real(grey)} g")
            self._grey = grey

    def _letter(self, style: Style, grey: float, block: Sequence[Text]) -> None:
        """One text object for a block of lettering of one style."""
        self._fill_with(grey)
        add, measure = self._content.append, self._letters.width
        cut = cut_of(style)
        face, beside = font(cut), self._used.setdefault(cut, set())
        size = f"{self._letters.em(style) * POINTS:.5f} Tf"
        add("BT")
        before = -1
        for text in block:
            x, y = text.at
            anchor = text.anchor
            back = 0.0 if anchor == "left" else measure(text.string, style) / (2 if anchor == "centre" else 1)
            placed = "1 0 0 1"
            if text.angle:
                cos, sin = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))
                x, y = x - back * cos, y - back * sin
                placed = f"{_real(cos)} {_real(sin)} {_real(-sin)} {_real(cos)}"
            else:
                x -= back
            place = placed + _PLACE % (x * POINTS, y * POINTS)
            if not text.string.isascii():
                beside.update(text.string)
            for subset, codes in face.coded(text.string):
                if subset != before:
                    add(f"{face.subset_name(subset)} {size}")
                    before = subset
                add(f"{place} ({escapePDF(codes)}) Tj")
                place = ""
        add("ET")


def _traced(mark: Mark) -> str:
    """The outline of a mark as a path."""
    match mark:
        case Outline():
            return _polygon(len(mark.points), mark.closed) % tuple(
                [way * POINTS for point in mark.points for way in point])
        case Circle(centre=(x, y), radius=r):
            k = _HANDLE * r
            left, low, level, middle = [f"{way * POINTS:.2f}" for way in (x - r, y - k, y, x)]
            right, high, top, bottom = [f"{way * POINTS:.2f}" for way in (x + r, y + k, y + r, y - r)]
            near, far = [f"{way * POINTS:.2f}" for way in (x - k, x + k)]
            return (f"{right} {level} m {right} {high} {far} {top} {middle} {top} c "
                    f"{near} {top} {left} {high} {left} {level} c {left} {low} {near} {bottom} {middle} {bottom} c "
                    f"{far} {bottom} {right} {low} {right} {level} c h")
        case Arc():
            return _arc(mark)
        case _:
            raise TypeError(f"a {type(mark).__name__} has no outline of its own")


@cache
def _polygon(corners: int, closed: bool) -> str:
    """A path with places for its numbers."""
    return "%.2f %.2f m" + " %.2f %.2f l" * (corners - 1) + (" h" if closed else "")


def _arc(arc: Arc) -> str:
    """Curves of a quarter turn at most."""
    (x, y), r = arc.centre, arc.radius
    count = max(1, math.ceil((arc.stop - arc.start) / 90))
    turn = math.radians(arc.stop - arc.start) / count
    handle = 4 / 3 * math.tan(turn / 4)
    places: list[float] = []
    for place in range(count + 1):
        angle = math.radians(arc.start) + place * turn
        cos, sin = math.cos(angle), math.sin(angle)
        if place:
            places += (cos + handle * sin, sin - handle * cos)
        places += (cos, sin)
        if place < count:
            places += (cos - handle * sin, sin + handle * cos)
    ways = [(y if index % 2 else x) + r * way for index, way in enumerate(places)]
    return ("%.2f %.2f m" + " %.2f %.2f %.2f %.2f %.2f %.2f c" * count) % tuple([way * POINTS for way in ways])
