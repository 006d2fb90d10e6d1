"""The writer: pages to one PDF, the same bytes for the same sheets."""

from __future__ import annotations

import io
import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any, BinaryIO

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFResourceDictionary, PDFStream
from reportlab.pdfbase.pdfmetrics import getFont
from reportlab.pdfgen.canvas import Canvas

from packet.drawing.full_size import Correction
from packet.drawing.lettering import Style
from packet.drawing.page import FinishedSheet
from packet.pdf.content import PageContent, content_of
from packet.pdf.files import write_atomically
from packet.pdf.fonts import font_name, lettering
from packet.pdf.measure import POINTS, shared, viewport_array


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
    correction: Correction | None = None,
    language: str = "en",
    copies: Mapping[str, int] = MappingProxyType({}),
) -> None:
    """Write finished sheets as a PDF 1.7 to a path (whole or not at all) or a binary stream.

    `correction` makes up for a printer on full-size pages, about the middle of each, and is written on them. `copies` says
    of serials that are printed again which copy this is. Raises ValueError for no sheets, OSError when the file cannot be
    written.
    """
    write_pages([content_of(sheet, correction, copies.get(sheet.serial, 0)) for sheet in sheets], target, title, subject,
                author, language)


def write_pages(pages: Sequence[PageContent], target: Path | BinaryIO, title: str, subject: str = "", author: str = "",
                language: str = "en") -> None:
    """Write pages that are drawn already as one PDF, as `write` does.

    Pages carry their sheet number as label; the outline lists the sheets by station. Dates come from SOURCE_DATE_EPOCH or
    are fixed. Raises ValueError for no pages, OSError when the file cannot be written.
    """
    if not pages:
        raise ValueError("a packet needs at least one sheet")
    with _Binding(title, subject, author, language) as binding:
        binding.outline(pages)
        for page in pages:
            binding.page(page)
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
                binding.page(content_of(sheet, packet.correction))
        if not binding.pages:
            raise ValueError("a packet needs at least one sheet")
        binding.save(target)
        return binding.pages


class _Binding:
    """One PDF in the making: pages and their outline, added packet by packet."""

    def __init__(self, title: str, subject: str, author: str, language: str = "en") -> None:
        self._texts = (title, subject, author)
        self._language = language
        self._buffer = io.BytesIO()
        self._prefix = ""
        self._bound: set[str] = set()
        self.pages = 0
        self._canvas: Any = None
        lettering()  # registers the fonts

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

    def outline(self, sheets: Sequence[FinishedSheet | PageContent], title: str = "", prefix: str = "") -> None:
        """Announce the pages of a packet; a title puts them below an entry of their own."""
        self._prefix, self._bound = prefix, {sheet.number for sheet in sheets}
        if title:
            self._canvas.addOutlineEntry(f"{prefix} {title}", _project_key(prefix), 0, closed=True)
            self._canvas.bookmarkPage(_project_key(prefix))
        _outline(self._canvas, sheets, prefix, level=1 if title else 0)

    def page(self, page: PageContent) -> None:
        canvas, number = self._canvas, f"{self._prefix}{page.number}"
        canvas.setPageSize(page.size)
        canvas.addPageLabel(self.pages, prefix=number)
        canvas.bookmarkPage(_key(number))
        canvas.bookmarkPage(_station_key(number))
        # A sheet printed again alone leads nowhere.
        for link in (link for link in page.links if link.target in self._bound):
            rect = tuple(edge * POINTS for edge in link.rect)
            canvas.linkAbsolute("", _key(f"{self._prefix}{link.target}"), Rect=rect)
        _embed(canvas, page)
        canvas.showPage()
        _fill(canvas, page)
        self.pages += 1

    def save(self, target: Path | BinaryIO) -> None:
        self._canvas.save()
        if isinstance(target, Path):
            write_atomically(target, self._buffer.getvalue())
        else:
            target.write(self._buffer.getvalue())


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


def _outline(canvas: Any, sheets: Sequence[FinishedSheet | PageContent], prefix: str, level: int) -> None:
    """Sheets under the stations they belong to, in page order."""
    for station, group in itertools.groupby(sheets, key=lambda sheet: sheet.tag or sheet.station):
        own = tuple(group)
        canvas.addOutlineEntry(station, _station_key(f"{prefix}{own[0].number}"), level, closed=False)
        for sheet in own:
            canvas.addOutlineEntry(f"{sheet.number}  {sheet.title}", _key(f"{prefix}{sheet.number}"), level + 1,
                                   closed=True)
    canvas.showOutline()


def _embed(canvas: Any, page: PageContent) -> None:
    """The letters of a page into the fonts of the file, each in its fixed place."""
    for name, others in page.letters:
        font = getFont(name)
        font.splitString(others, canvas._doc)
        font.getSubsetInternalName(0, canvas._doc)


def _fill(canvas: Any, page: PageContent) -> None:
    """What a page drawn before shows, into the one just shown; the canvas has no calls for these, so the page record is
    told of them."""
    record, document = canvas._doc.Pages.pages[-1], canvas._doc
    record.Resources = shared(document, "Resources", _resources)
    record.Contents = _stream(page.stream)
    if page.note:
        record.Contents = PDFArray([document.Reference(_stream(one)) for one in (page.stream, page.note)])
    if page.viewports:
        record.__NoDefault__ = [*record.__NoDefault__, "VP"]
        record.VP = viewport_array(document, page.viewports, page.system, page.size, page.correction)


def _resources() -> PDFResourceDictionary:
    """All fonts: pages show nothing else that needs to be named."""
    resources = PDFResourceDictionary()
    resources.basicFonts()
    return resources


def _stream(deflated: bytes) -> PDFStream:
    return PDFStream(PDFDictionary({"Filter": PDFArray([PDFName("FlateDecode")])}), deflated)
