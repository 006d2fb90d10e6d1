"""The type: registers its four cuts with reportlab and measures them for the drawing side."""

from __future__ import annotations

from functools import cache

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from packet.drawing.lettering import Face, Lettering, Style

_CUTS = ("Regular", "Bold", "Italic", "BoldItalic")
_NO_BREAK = 0xA0  # the no-break space


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

        font = TTFont(_name(cut), str(ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf"))
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
