"""The type: registers its four cuts with reportlab and measures them for the drawing side."""

from __future__ import annotations

from functools import cache
from typing import Any

from reportlab.pdfbase.pdfmetrics import registerFont
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

    def splitString(self, text: str, doc: Any, encoding: str = "utf-8") -> list[tuple[int, bytes]]:  # noqa: N802
        state = self._assignState(doc)
        if text and text.isascii() and text.isprintable():  # most texts are: they stand at their own codes
            return [(0, text.encode())]
        runs: list[tuple[int, list[int]]] = []
        for code in map(ord, text):
            place = self._places.get(32 if code == _NO_BREAK else code, 0)
            if place > 126 or 0 < place < 32:
                self._embed(state, place, code)
            if not runs or runs[-1][0] != place >> 8:
                runs.append((place >> 8, []))
            runs[-1][1].append(place & 0xFF)
        return [(subset, bytes(codes)) for subset, codes in runs]

    def _embed(self, state: Any, place: int, code: int) -> None:
        subset, index = divmod(place, 256)
        while len(state.subsets) <= subset:
            state.subsets.append([0] * 32 + [32])
        own = state.subsets[subset]
        own.extend([0] * (index + 1 - len(own)))
        if own[index] != code and state.frozen:
            raise RuntimeError(f"{self.fontName} is embedded already and has no U+{code:04X}")
        own[index] = code

    def getSubsetInternalName(self, subset: int, doc: Any) -> str:  # noqa: N802
        state = self._assignState(doc)
        if state.internalName is None:
            state.internalName = self._internal
            doc.fontMapping[self.fontName] = f"/{self._internal}"
            doc.delayedFonts.append(self)
        return f"/{self._internal}+{subset}"


@cache
def lettering() -> Lettering:
    """The four cuts of Atkinson Hyperlegible, read once and registered with reportlab.

    Raises RuntimeError, with what to install, when the type is missing.
    """
    return Lettering(*(_face(cut) for cut in _CUTS))


def font_name(style: Style) -> str:
    """The name under which reportlab knows the cut of a style."""
    return _name(_CUTS[style.bold + 2 * style.italic])


def _name(cut: str) -> str:
    return f"Packet-{cut}"


def _face(cut: str) -> Face:
    try:
        from fontpkg_atkinson_hyperlegible import ROOT

        font = FixedFont(_name(cut), str(ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf"), f"F{_CUTS.index(cut) + 1}")
    except (ImportError, TTFError) as fault:
        raise RuntimeError(
            f"the type (Atkinson Hyperlegible {cut}) cannot be read: {fault}; "
            "install the package fontpkg-atkinson-hyperlegible again"
        ) from fault
    registerFont(font)
    face = font.face
    # The font gives widths to a few codes that are no letters, such as the carriage return.
    advances = {
        code: width for code, width in face.charWidths.items() if chr(code).isprintable() or code == _NO_BREAK
    }
    return Face(font.fontName, advances, face.capHeight, face.ascent, face.descent)
