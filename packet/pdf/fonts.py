"""The type: its four cuts as reportlab embeds them, and their measures for the drawing side."""

from __future__ import annotations

from functools import cache
from typing import Any

from reportlab.pdfbase.ttfonts import TTFError, TTFont

from packet.drawing.lettering import Face, Lettering, Style

_CUTS = ("Regular", "Bold", "Italic", "BoldItalic")
_NO_BREAK = 0xA0  # the no-break space


class FixedFont(TTFont):  # type: ignore[misc]  # reportlab is not typed
    """A cut whose name and codes in a PDF never hang on what is drawn first, so that a page alone has the bytes that it
    has among others. Only letters that are used are embedded, and ASCII.

    ASCII stands at its own codes, as a space must for words to be spaced; all other letters of the type have fixed places
    after it, Western ones and signs first, 256 to a subset.
    """

    def __init__(self, name: str, path: str, internal: str) -> None:
        super().__init__(name, path)
        self._internal = internal
        free = (place for place in range(1, 0x10000) if not 32 <= place < 127 and place & 0xFF not in (0, 32))
        others = sorted((code for code in self.face.charToGlyph if code > 126),
                        key=lambda code: (code > 0xFF and not 0x2000 <= code < 0x2300, code))
        self._places = {code: code for code in range(32, 127)} | dict(zip(others, free, strict=False))

    def coded(self, text: str) -> list[tuple[int, bytes]]:
        """A text as it stands in a PDF: runs of codes, each in a subset of this cut."""
        if text.isascii() and text.isprintable():  # most texts are: they stand at their own codes
            return [(0, text.encode())]
        runs: list[tuple[int, list[int]]] = []
        for code in map(ord, text):
            place = self._place(code)
            if not runs or runs[-1][0] != place >> 8:
                runs.append((place >> 8, []))
            runs[-1][1].append(place & 0xFF)
        return [(subset, bytes(codes)) for subset, codes in runs]

    def subset_name(self, subset: int) -> str:
        """What a subset is called in a PDF."""
        return f"/{self._internal}+{subset}"

    def embed(self, document: Any, letters: str) -> None:
        """Into a PDF: ASCII, and these letters."""
        state = self._assignState(document)
        for code in map(ord, letters):
            place = self._place(code)
            if place > 126 or 0 < place < 32:
                self._set(state, place, code)
        if state.internalName is None:
            state.internalName = self._internal
            document.fontMapping[self.fontName] = f"/{self._internal}"
            document.delayedFonts.append(self)

    def _place(self, code: int) -> int:
        return self._places.get(32 if code == _NO_BREAK else code, 0)

    def _set(self, state: Any, place: int, code: int) -> None:
        subset, index = divmod(place, 256)
        while len(state.subsets) <= subset:
            state.subsets.append([0] * 32 + [32])
        own = state.subsets[subset]
        own.extend([0] * (index + 1 - len(own)))
        own[index] = code

    def getSubsetInternalName(self, subset: int, doc: Any) -> str:  # noqa: N802  # the library's name
        return self.subset_name(subset)


@cache
def lettering() -> Lettering:
    """The four cuts of Atkinson Hyperlegible, read once.

    Raises RuntimeError, with what to install, when the type is missing.
    """
    return Lettering(*(_face(cut) for cut in _CUTS))


def cut_of(style: Style) -> str:
    """The cut of a style, by its name."""
    return _CUTS[style.bold + 2 * style.italic]


@cache
def font(cut: str) -> FixedFont:
    """A cut, to write with. Raises RuntimeError, with what to install, when the type is missing."""
    try:
        from fontpkg_atkinson_hyperlegible import ROOT

        return FixedFont(f"Packet-{cut}", str(ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf"), f"F{_CUTS.index(cut) + 1}")
    except (ImportError, TTFError) as fault:
        raise RuntimeError(
            f"the type (Atkinson Hyperlegible {cut}) cannot be read: {fault}; "
            "install the package fontpkg-atkinson-hyperlegible again"
        ) from fault


def _face(cut: str) -> Face:
    name, face = font(cut).fontName, font(cut).face
    # The font gives widths to a few codes that are no letters, such as the carriage return.
    advances = {
        code: width for code, width in face.charWidths.items() if chr(code).isprintable() or code == _NO_BREAK
    }
    return Face(name, advances, face.capHeight, face.ascent, face.descent)
