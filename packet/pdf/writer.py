"""The writer: pages to one PDF, the same bytes for the same sheets."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import BinaryIO

from packet.drawing.full_size import Correction
from packet.drawing.page import FinishedSheet
from packet.pdf.content import PageContent, content_of
from packet.pdf.document import Document, link
from packet.pdf.files import write_atomically
from packet.pdf.fonts import font
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
    binding = _Binding(title, subject, author, language)
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
    binding = _Binding(title, subject, "", language)
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
        self._document = Document(title, subject, author, language)
        self._places: dict[str, int] = {}
        self._prefix = ""

    @property
    def pages(self) -> int:
        return self._document.pages

    def outline(self, sheets: Sequence[FinishedSheet | PageContent], title: str = "", prefix: str = "") -> None:
        """Announce the pages of a packet, which are added next: sheets under the stations they belong to, in page order. A
        title puts them below an entry of their own."""
        document, first = self._document, self._document.pages
        self._prefix = prefix
        self._places = {sheet.number: first + place for place, sheet in enumerate(sheets)}
        if title:
            document.head(f"{prefix} {title}", first, 0, is_open=False)
        level = 1 if title else 0
        for station, group in itertools.groupby(sheets, key=lambda sheet: sheet.tag or sheet.station):
            own = tuple(group)
            document.head(station, self._places[own[0].number], level, is_open=True)
            for sheet in own:
                document.head(f"{sheet.number}  {sheet.title}", self._places[sheet.number], level + 1, is_open=False)

    def page(self, page: PageContent) -> None:
        document = self._document
        for cut, letters in page.letters:
            font(cut).embed(document.record, letters)
        # A sheet printed again alone leads nowhere.
        links = (link([edge * POINTS for edge in one.rect], document.reference(self._places[one.target]))
                 for one in page.links if one.target in self._places)
        views = (viewport_array(document, page.viewports, page.system, page.size, page.correction) if page.viewports
                 else None)
        streams = (page.stream, page.note) if page.note else (page.stream,)
        document.page(f"{self._prefix}{page.number}", page.size, streams, links, views)

    def save(self, target: Path | BinaryIO) -> None:
        content = self._document.finished()
        if isinstance(target, Path):
            write_atomically(target, content)
        else:
            target.write(content)
