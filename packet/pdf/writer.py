"""The writer: finished sheets to one PDF, the same bytes for the same sheets.

Strokes between two filled areas are gathered by pen and lettering by style; filled areas keep their place in
the order, since they may cover what was drawn before them.
"""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path
from types import MappingProxyType
from typing import Any, BinaryIO

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFArray, PDFStream, PDFZCompress
from reportlab.pdfgen.canvas import Canvas

from packet.drawing.full_size import Correction, correction_note
from packet.drawing.lettering import Lettering, Style
from packet.drawing.marks import Arc, Circle, Line, Mark, Text
from packet.drawing.marks import Path as Outline
from packet.drawing.page import FinishedSheet, copy_note
from packet.drawing.page_code import MODULE, MODULES, PageCode
from packet.drawing.pens import Pen
from packet.pdf.code import runs
from packet.pdf.files import write_atomically
from packet.pdf.fonts import font_name, lettering
from packet.pdf.measure import POINTS, viewport_array


@dataclass(frozen=True, slots=True)
class Packet:
    """The sheets of one project among several that are bound into one file."""

    title: str
    sheets: Sequence[FinishedSheet]
    correction: Correction | None = None


def write(
    sheets: Sequence[FinishedSheet],
    target: Path | BinaryIO,
    title: str,
    subject: str = "",
    author: str = "",
    progress: Callable[[int, int], None] | None = None,
    correction: Correction | None = None,
    language: str = "en",
    copies: Mapping[str, int] = MappingProxyType({}),
) -> None:
    """Write finished sheets as a PDF 1.7 to a path (whole or not at all) or a binary stream.

    `correction` makes up for a printer on full-size pages, about the middle of each, and is written on them.

    `copies` says of serials that are printed again which copy this is; it stands in a content stream of its own, so that
    the drawing's stream is the same in every copy.

    Pages carry their sheet number as label; the outline lists the sheets by station. `progress` is called
    with (pages done, pages in all). Dates come from SOURCE_DATE_EPOCH or are fixed. Raises ValueError for no
    sheets, OSError when the file cannot be written.
    """
    if not sheets:
        raise ValueError("a packet needs at least one sheet")
    with _Binding(title, subject, author, language) as binding:
        binding.outline(sheets)
        for index, sheet in enumerate(sheets):
            binding.page(sheet, correction, copies.get(sheet.serial))
            if progress is not None:
                progress(index + 1, len(sheets))
        binding.save(target)


def write_bound(packets: Iterable[Packet], target: Path | BinaryIO, title: str, subject: str = "", language: str = "en"
                ) -> int:
    """Write several packets as one PDF, as `write` does one, and say how many pages it has.

    Packets are taken one at a time. The outline lists projects, stations and sheets; page labels carry the place of the
    project before the sheet number (`2 C-04`). Raises ValueError for no packets, OSError.
    """
    with _Binding(title, subject, "", language) as binding:
        for place, packet in enumerate(packets, 1):
            binding.outline(packet.sheets, packet.title, f"{place} ")
            for sheet in packet.sheets:
                binding.page(sheet, packet.correction)
        if not binding.pages:
            raise ValueError("a packet needs at least one sheet")
        binding.save(target)
        return binding.pages


class _Binding:
    """One PDF in the making: pages and their outline, added packet by packet."""

    def __init__(self, title: str, subject: str, author: str, language: str = "en") -> None:
        self._texts = (title, subject, author)
        self._language = language
        self._letters = lettering()
        self._buffer = io.BytesIO()
        self._prefix = ""
        self._bound: set[str] = set()
        self.pages = 0
        self._canvas: Any = None

    def __enter__(self) -> _Binding:
        self._ascii85, rl_config.useA85 = rl_config.useA85, 0
        self._canvas = Canvas(
            self._buffer,
            pageCompression=1,
            invariant=1,
            pdfVersion=(1, 7),
            lang=self._language,
            initialFontName=font_name(Style(2.5)),
        )
        _describe(self._canvas, *self._texts)
        return self

    def __exit__(self, *_: object) -> None:
        rl_config.useA85 = self._ascii85

    def outline(self, sheets: Sequence[FinishedSheet], title: str = "", prefix: str = "") -> None:
        """Announce the pages of a packet; a title puts them below an entry of their own."""
        self._prefix, self._bound = prefix, {sheet.number for sheet in sheets}
        if title:
            self._canvas.addOutlineEntry(f"{prefix} {title}", _project_key(prefix), 0, closed=True)
            self._canvas.bookmarkPage(_project_key(prefix))
        _outline(self._canvas, sheets, prefix, level=1 if title else 0)

    def page(self, sheet: FinishedSheet, correction: Correction | None = None, copy: int | None = None) -> None:
        canvas, number = self._canvas, f"{self._prefix}{sheet.number}"
        canvas.setPageSize(_size(sheet))
        canvas.addPageLabel(self.pages, prefix=number)
        canvas.bookmarkPage(_key(number))
        canvas.bookmarkPage(_station_key(number))
        applied = correction if sheet.window else None
        _draw(canvas, self._letters, sheet, applied)
        # A sheet printed again alone leads nowhere.
        for link in (link for link in sheet.links if link.target in self._bound):
            rect = tuple(edge * POINTS for edge in link.rect)
            canvas.linkAbsolute("", _key(f"{self._prefix}{link.target}"), Rect=rect)
        note = _copy_stream(canvas, self._letters, sheet, copy) if copy else None
        canvas.showPage()
        if note:
            _add_stream(canvas, note)
        if sheet.viewports:
            _add_viewports(canvas, sheet, applied)
        self.pages += 1

    def save(self, target: Path | BinaryIO) -> None:
        self._canvas.save()
        if isinstance(target, Path):
            write_atomically(target, self._buffer.getvalue())
        else:
            target.write(self._buffer.getvalue())


def _size(sheet: FinishedSheet) -> tuple[float, float]:
    return (sheet.paper.width * POINTS, sheet.paper.height * POINTS)


def _key(number: str) -> str:
    return f"sheet {number}"


def _station_key(number: str) -> str:
    """A second name of the page: the outline allows one entry to a name."""
    return f"station at {number}"


def _project_key(prefix: str) -> str:
    return f"project {prefix}"


def _describe(canvas: Any, title: str, subject: str, author: str) -> None:
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor(author)
    canvas.setCreator("packet")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _outline(canvas: Any, sheets: Sequence[FinishedSheet], prefix: str, level: int) -> None:
    """Sheets under the stations they belong to, in page order."""
    for station, group in itertools.groupby(sheets, key=lambda sheet: sheet.tag or sheet.station):
        own = tuple(group)
        canvas.addOutlineEntry(station, _station_key(f"{prefix}{own[0].number}"), level, closed=False)
        for sheet in own:
            canvas.addOutlineEntry(f"{sheet.number}  {sheet.title}", _key(f"{prefix}{sheet.number}"), level + 1,
                                   closed=True)
    canvas.showOutline()


def _draw(canvas: Any, letters: Lettering, sheet: FinishedSheet, correction: Correction | None) -> None:
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
        _Page(canvas, letters).draw(sheet.clipped)
        canvas.restoreState()
    _Page(canvas, letters).draw(sheet.marks)
    if sheet.code:
        _draw_code(canvas, sheet.code)
    if correction:
        _Page(canvas, letters).draw(correction_note(sheet, correction))
        canvas.restoreState()


def _copy_stream(canvas: Any, letters: Lettering, sheet: FinishedSheet, copy: int) -> PDFStream:
    """The copy note as a stream beside the page's own. The canvas knows one stream to a page, so what the note added is
    taken out of it again."""
    end = len(canvas._code)
    canvas.saveState()
    _Page(canvas, letters).draw(copy_note(sheet, copy))
    canvas.restoreState()
    operators = canvas._code[end:]
    del canvas._code[end:]
    return _stream("\n".join(operators) + "\n")


def _add_stream(canvas: Any, further: PDFStream) -> None:
    """A second content stream for the page just shown."""
    page, document = canvas._doc.Pages.pages[-1], canvas._doc
    page.Contents = PDFArray([document.Reference(_stream(page.stream)), document.Reference(further)])


def _stream(content: str) -> PDFStream:
    stream = PDFStream(content=content)
    stream.filters = [PDFZCompress]
    return stream


def _draw_code(canvas: Any, code: PageCode) -> None:
    """Drawn in its own modules: whole numbers take half the room."""
    left, bottom = code.at
    canvas.saveState()
    canvas.translate(left * POINTS, bottom * POINTS)
    canvas.scale(MODULE * POINTS, MODULE * POINTS)
    path = canvas.beginPath()
    for column, row, count in runs(code.text):
        path.rect(column, MODULES - 1 - row, count, 1)
    canvas.setFillGray(0)
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.restoreState()


def _add_viewports(canvas: Any, sheet: FinishedSheet, correction: Correction | None) -> None:
    """The VP entry of the page just shown. The canvas has no call for it, so the page record is told of the
    key."""
    page = canvas._doc.Pages.pages[-1]
    page.__NoDefault__ = [*page.__NoDefault__, "VP"]
    page.VP = viewport_array(sheet.viewports, sheet.system, _size(sheet), correction)


class _Page:
    """Draws marks on one page and remembers the pen and the grey in use."""

    def __init__(self, canvas: Any, letters: Lettering) -> None:
        self._canvas = canvas
        self._letters = letters
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
        for text in block:
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
    return round(mm * POINTS, 2)


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
