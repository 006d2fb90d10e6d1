"""Lettering: sizes by the height of the capitals, and what a string measures before it is written.

The advance widths come from the type itself (made in packet/pdf, handed in); nothing here opens a font file.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from packet.drawing.marks import Text

# ISO 3098: nominal sizes of lettering in mm, the height of the capitals. 1.8 is left out: nothing in the
# packet is lettered under 2.5 mm.
HEIGHTS = (2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)

_REMEMBERED = 20_000  # strings whose measure is kept: a few packets' worth

LEADING = 1.9  # line pitch over capital height; ISO 3098 asks for 1.3 or more

Point = tuple[float, float]


class GlyphError(ValueError):
    """A character that the type cannot set."""


@dataclass(frozen=True, slots=True)
class Style:
    """A size and cut of the type: height of the capitals in mm (one of HEIGHTS), bold, italic."""

    height: float
    bold: bool = False
    italic: bool = False

    def __post_init__(self) -> None:
        if self.height not in HEIGHTS:
            raise ValueError(f"capital height {self.height} mm is not in the series {HEIGHTS}")

    @property
    def leading(self) -> float:
        """Line pitch in mm."""
        return LEADING * self.height


FINE = Style(2.5)  # the least allowed anywhere
FINE_BOLD = Style(2.5, bold=True)
BODY = Style(3.5)  # instructions
BODY_BOLD = Style(3.5, bold=True)
BODY_ITALIC = Style(3.5, italic=True)
LARGE = Style(5.0)
NUMBER = Style(5.0, bold=True)  # cutting numbers
HEAD = Style(7.0, bold=True)
TITLE = Style(10.0, bold=True)
POSTER = Style(14.0, bold=True)


@dataclass(frozen=True, slots=True, eq=False)
class Face:
    """One cut of the type: advance widths by code point, capital height, ascent and descent (negative), all
    in thousandths of the em."""

    name: str
    advances: Mapping[int, float]
    cap_height: float
    ascent: float
    descent: float
    # The same few words are measured again and again while a page is laid out.
    lengths: dict[str, float] = field(default_factory=dict, init=False, repr=False)
    """Of strings measured before, as `length` gives it."""

    def length(self, text: str) -> float:
        """Length of a string in thousandths of the em. Raises KeyError for a character the type lacks."""
        found = self.lengths.get(text)
        if found is None:
            advances = self.advances
            found = sum([advances[ord(letter)] for letter in text])
            if len(self.lengths) >= _REMEMBERED:
                self.lengths.clear()
            self.lengths[text] = found
        return found


# How far the letters of this type reach below the baseline and up, in capital heights (the farthest of the
# four cuts). What stands in no group keeps within _DESCENT and _RISE.
_DESCENT, _RISE = 0.05, 1.06
_DEEP = {
    letter: depth
    for depth, letters in (
        (0.16, "Q$¢◊"),
        (0.23, ",;_\u201a\u201e"),
        (0.32, "()[]gjpqy{|}¡¦§µ¶\u00b8¿ÇçýþÿĄąĘęğġģĮįŞşŲųƒ\u02db\u0327\u0328μ∏∑√∫"),
        (0.39, "ĢĶķĻļŅņŢţȘșȚț\u0326"),
    )
    for letter in letters
}
_TALL = {
    letter: height
    for height, letters in (
        (1.14, "$ijfįť`¨\u00b4àáâäèéêëìíîïðòóôöùúûüýÿćċčėěġńňőŕřśšűźżžƒ\u02c6\u02c7\u02d9\u02dd"),
        (1.14, "\u0300\u0301\u0302\u0308\u030b\u030c◊"),
        (1.30, "²³¹ÃÄËÏÑÕÖÜåĀĂĒĞģĪŪůŸ\u02da\u030a⁴"),
        (1.48, "ÀÁÂÅÈÉÊÌÍÎÒÓÔÙÚÛÝĆĊČĎĖĚĠŃŇŐŔŘŚŠŤŮŰŹŻŽ"),
    )
    for letter in letters
}


_BEFORE = {"left": 0.0, "centre": 0.5, "right": 1.0}
"""How much of a text stands before the point that it is set at."""


@lru_cache(maxsize=_REMEMBERED)
def _reach(text: str) -> tuple[float, float]:
    """How far a string reaches below its baseline and above it, in capital heights."""
    return (max([_DEEP.get(letter, _DESCENT) for letter in text], default=_DESCENT),
            max([_TALL.get(letter, _RISE) for letter in text], default=_RISE))


@dataclass(frozen=True, slots=True, eq=False)
class Lettering:
    """The four cuts of the type, and the measure of strings set in them."""

    regular: Face
    bold: Face
    italic: Face
    bold_italic: Face

    def face(self, style: Style) -> Face:
        """The cut a style is set in."""
        if style.bold:
            return self.bold_italic if style.italic else self.bold
        return self.italic if style.italic else self.regular

    def em(self, style: Style) -> float:
        """Type size in mm: the capitals are `cap_height` thousandths of it."""
        return style.height * 1000 / self.face(style).cap_height

    def width(self, text: str, style: Style) -> float:
        """Length of a string on its baseline in mm. Raises GlyphError for a character the type lacks."""
        face = self.face(style)
        found = face.lengths.get(text)
        if found is None:
            try:
                found = face.length(text)
            except KeyError:
                raise GlyphError(self._complaint(text, face)) from None
        return found * style.height / face.cap_height

    def can_set(self, text: str) -> bool:
        """Whether all four cuts have every character of the text."""
        faces = (self.regular, self.bold, self.italic, self.bold_italic)
        return all(ord(letter) in face.advances for letter in text for face in faces)

    def box(self, text: Text) -> tuple[Point, Point, Point, Point]:
        """Corners in mm of the box that a text mark's ink keeps within (its advance widths sideways),
        counter-clockwise from the lower left, turned with it."""
        width = self.width(text.string, text.style)
        height = text.style.height
        left = -_BEFORE[text.anchor] * width
        deep, tall = _reach(text.string)
        low, high = -height * deep, height * tall
        x0, y0 = text.at
        if not text.angle:
            x1, x2, y1, y2 = x0 + left, x0 + (left + width), y0 + low, y0 + high
            return ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
        cos, sin = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))

        def turned(x: float, y: float) -> Point:
            return (x0 + x * cos - y * sin, y0 + x * sin + y * cos)

        return (turned(left, low), turned(left + width, low), turned(left + width, high), turned(left, high))

    @staticmethod
    def _complaint(text: str, face: Face) -> str:
        missing = sorted({letter for letter in text if ord(letter) not in face.advances})
        names = ", ".join(f"{letter!r} (U+{ord(letter):04X})" for letter in missing)
        return f"the type has no {names}, used in {text!r}; write it with letters the type has"
