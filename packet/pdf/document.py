"""One PDF in the making: its objects beside what the pages show. Pages are added one by one.

Objects are written as they will stand in the file, with a reference wherever they name another (ISO 32000-1, 7.7 and 12.3).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase.pdfdoc import BasicFonts, PDFDocument, PDFObject, PDFObjectReference, PDFString

_PREFERENCES = b"<< /DisplayDocTitle true /PrintScaling /None >>"
_OUTLINE = "Outline"


class Written(PDFObject):  # type: ignore[misc]  # reportlab is not typed
    """An object that is written out already, but for its references."""

    def __init__(self, *parts: bytes | PDFObject) -> None:
        self._parts = parts

    def format(self, document: PDFDocument) -> bytes:
        return b"".join([part if isinstance(part, bytes) else part.format(document) for part in self._parts])


@dataclass(slots=True)
class _Entry:
    """A line of the outline: where it leads, and the lines below it."""

    title: str
    page: PDFObjectReference
    below: list[_Entry] = field(default_factory=list)
    open: bool = False

    @property
    def shown(self) -> int:
        """Lines that are seen below it while it is open."""
        return sum(1 + (entry.shown if entry.open else 0) for entry in self.below)


class _Outline(PDFObject):  # type: ignore[misc]
    """The outline, in the place of the library's own."""

    ready = 1

    def __init__(self) -> None:
        self.entries: list[_Entry] = []

    def prepare(self, document: PDFDocument, _: object) -> None:
        """Called by the library before it writes: all entries become objects."""
        self._register(document, document.Reference(self), self.entries, _OUTLINE)

    def format(self, document: PDFDocument) -> bytes:
        whole = _Entry("", PDFObjectReference(""), self.entries)
        ends = _ends(_OUTLINE, len(self.entries))
        return Written(b"<< /Type /Outlines /Count %d" % whole.shown, *ends, b" >>").format(document)

    def _register(self, document: PDFDocument, parent: PDFObjectReference, entries: Sequence[_Entry], name: str) -> None:
        for place, entry in enumerate(entries):
            own = f"{name}.{place}"
            parts: list[bytes | PDFObject] = [
                b"<< /Title ", string(entry.title), b" /Parent ", parent, b" /Dest [", entry.page, b" /Fit]"]
            if place:
                parts += [b" /Prev ", PDFObjectReference(f"{name}.{place - 1}")]
            if place + 1 < len(entries):
                parts += [b" /Next ", PDFObjectReference(f"{name}.{place + 1}")]
            if entry.below:
                parts += [b" /Count %d" % (entry.shown if entry.open else -entry.shown), *_ends(own, len(entry.below))]
            reference = document.Reference(Written(*parts, b" >>"), own)
            self._register(document, reference, entry.below, own)


def _ends(name: str, count: int) -> tuple[bytes | PDFObject, ...]:
    return (b" /First ", PDFObjectReference(f"{name}.0"), b" /Last ", PDFObjectReference(f"{name}.{count - 1}"))


class Document:
    """A PDF 1.7 whose bytes hang on nothing but what is put in. Texts as in `write`."""

    def __init__(self, title: str, subject: str, author: str, language: str) -> None:
        self.record = PDFDocument(invariant=1, compression=1, pdfVersion=(1, 7), lang=language)
        self.record.setTitle(title)
        self.record.setSubject(subject)
        self.record.setAuthor(author)
        self.record.setCreator("packet")
        self._outline = _Outline()
        catalog = self.record.Catalog
        self.record.outline = self.record.Outlines = catalog.Outlines = self._outline
        catalog.ViewerPreferences = Written(_PREFERENCES)
        self._resources = self.record.Reference(
            Written(b"<< /Font ", PDFObjectReference(BasicFonts), b" /ProcSet [/PDF /Text] >>"), "Resources")
        self._pages = self.record.Reference(self.record.Pages)
        self._labels: list[bytes] = []
        self._shared: dict[bytes, PDFObjectReference] = {}

    @property
    def pages(self) -> int:
        """How many there are so far."""
        return len(self._labels)

    def reference(self, page: int) -> PDFObjectReference:
        """To a page by its place from 0, whether it is there yet or not."""
        return PDFObjectReference(f"Page{page + 1}")

    def shared(self, content: bytes) -> PDFObjectReference:
        """To an object of this content, which is written once."""
        if content not in self._shared:
            self._shared[content] = self.record.Reference(Written(content))
        return self._shared[content]

    def page(self, label: str, size: tuple[float, float], streams: Sequence[bytes], links: Iterable[Written],
             viewports: Written | None) -> None:
        """Add a page: its label, its size in points, its operators deflated, the links on it and its views to scale."""
        box = b" ".join([f"{side:.4f}".rstrip("0").rstrip(".").encode() for side in size])
        parts: list[bytes | PDFObject] = [b"<< /Type /Page /Parent ", self._pages, b" /MediaBox [0 0 ", box,
                                          b"] /Resources ", self._resources, b" /Contents "]
        contents = [self.record.Reference(_stream(stream)) for stream in streams]
        parts += contents if len(contents) == 1 else [b"[", *_spaced(contents), b"]"]
        notes = [self.record.Reference(link) for link in links]
        if notes:
            parts += [b" /Annots [", *_spaced(notes), b"]"]
        if viewports:
            parts += [b" /VP ", viewports]
        self.record.addPage(Written(*parts, b" >>"))
        self._labels.append(b"%d << /P %s >>" % (self.pages, string(label).format(self.record)))

    def head(self, title: str, page: int, level: int, is_open: bool) -> None:
        """A line of the outline, below the last one of the level above it."""
        entries = self._outline.entries
        for _ in range(level):
            entries = entries[-1].below
        entries.append(_Entry(title, self.reference(page), open=is_open))

    def finished(self) -> bytes:
        """The whole file. The document cannot be used any more."""
        catalog = self.record.Catalog
        catalog.PageLabels = Written(b"<< /Nums [", b" ".join(self._labels), b"] >>")
        catalog.showOutline()
        ascii85, rl_config.useA85 = rl_config.useA85, 0
        try:
            content: bytes = self.record.GetPDFData(None)
        finally:
            rl_config.useA85 = ascii85
        return content


def link(rect: Iterable[float], page: PDFObjectReference) -> Written:
    """A rectangle, in points, that leads to a page."""
    edges = " ".join([f"{edge:.3f}" for edge in rect]).encode()
    return Written(b"<< /Type /Annot /Subtype /Link /Border [0 0 0] /Contents () /Rect [", edges, b"] /Dest [", page,
                   b" /Fit] >>")


def string(text: str) -> PDFObject:
    """A text outside the pages."""
    return Written(b"(%s)" % escapePDF(text).encode()) if text.isascii() else PDFString(text)


def _stream(deflated: bytes) -> Written:
    return Written(b"<< /Filter /FlateDecode /Length %d >>\nstream\n" % len(deflated), deflated, b"\nendstream")


def _spaced(parts: Iterable[PDFObject]) -> Iterable[bytes | PDFObject]:
    for part in parts:
        yield b" "
        yield part
