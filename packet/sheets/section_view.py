"""A hinge section drawn: boards with their face words and textures, strips, lands, pivot, callouts.

Everything here is in paper mm about the pivot at (0, 0); the scale is applied once, when the section is made.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packet.assembly.records import Point
from packet.description.terms import Face
from packet.drawing.dimension import leader, linear, readable
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, Lettering, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text
from packet.drawing.pens import LEADER, NARROW, VISIBLE, Pen
from packet.drawing.symbols import FaceSide, circled, face_texture, terminator
from packet.tape.section import Section, bar, roll_spans, stretch
from packet.words import Words

THICK = 1.0
"""mm a strip is drawn thick: real tape is too thin to see at full size."""
STEP = 1.6
"""mm between strips that lie over each other."""
BAND = 7.0
"""mm of board that carries the texture of a face, at most."""
STEEP_V = 25.0
"""Degrees of turn below which a strip in the V is drawn as one line."""

SHUT = 2.0
"""Degrees between boards up to which a hinge is drawn as folded shut."""
SHARP = 90.0
"""Degrees between boards below which there is no room for words and full strips between them."""

_JOINT = Pen(0.7)


@dataclass(frozen=True, slots=True)
class Roll:
    """Rolls laid side by side as one strip, all in paper mm; `foil` is drawn hollow."""

    tapes: tuple[float, ...]
    overlap: float
    foil: bool = False

    @property
    def spans(self) -> tuple[tuple[float, float], ...]:
        return roll_spans(self.tapes, self.overlap)

    @property
    def width(self) -> float:
        return self.spans[-1][1] - self.spans[0][0]

    @property
    def layers(self) -> int:
        return 2 if len(self.tapes) > 1 else 1


@dataclass(frozen=True, slots=True)
class SectionView:
    """One section on paper. `closing` is the face on the side of the pivot; `names` stand in the boards."""

    section: Section
    closing: Face
    names: tuple[str, ...]
    lettering: Lettering
    words: Words

    def boards(self) -> Drawing:
        """Outlines with broken far ends, both faces with texture and word."""
        marks: list[Mark] = []
        for board, name in zip(self.section.boards, self.names, strict=True):
            near, far, far_open, near_open = board
            along, out = _unit(near, far), _unit(near, near_open)
            thick, reach = math.dist(near, near_open), math.dist(near, far)
            band = min(BAND, 0.34 * thick)
            marks.append(Path(board, None, 1.0))
            word_style = BODY_BOLD if band >= 5.6 else FINE_BOLD
            for base, inward, face in ((near, out, self.closing), (near_open, _minus(out), self.closing.other)):
                area = (
                    base,
                    _go(base, along, reach),
                    _go(_go(base, along, reach), inward, band),
                    _go(base, inward, band),
                )
                marks += face_texture(FaceSide(face.value.upper()), area, 2.0)
                if band >= 3.6:
                    word = self.words.name(face).upper()
                    marks += self._word(
                        _go(_go(base, along, reach / 2), inward, band / 2), along, word, word_style, band
                    )
            core = thick - 2 * band
            style = next((s for s in (BODY, FINE) if core >= 1.5 * s.height), None)
            if style and name:
                marks += self._word(_go(_go(near, along, reach / 2), out, thick / 2), along, name, style, core)
            marks.append(Path((far, near, near_open, far_open), VISIBLE, closed=False))
            marks.append(break_line(far, far_open, along))
        return tuple(marks)

    def _word(self, centre: Point, along: Point, text: str, style: Style, ground: float) -> Drawing:
        angle = readable(math.degrees(math.atan2(along[1], along[0])))
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        half = self.lettering.width(text, style) / 2
        wide, high = half + 0.5 * style.height, min(ground, 1.7 * style.height) / 2

        def at(x: float, y: float) -> Point:
            return (centre[0] + x * c - y * s, centre[1] + x * s + y * c)

        return (
            Path((at(-wide, -high), at(wide, -high), at(wide, high), at(-wide, high)), None, 1.0),
            Text(at(0.0, -style.height / 2), text, style, "centre", angle),
        )

    def wrap(self, roll: Roll, base: float = 0.3) -> Drawing:
        """Rolls over the opening faces and both board edges, `base` mm off the boards."""
        turn = 180.0 - self.section.angle if len(self.section.boards) > 1 else 180.0
        marks: list[Mark] = []
        for index, (start, stop) in enumerate(roll.spans):
            low = base + (index % 2) * STEP
            pieces = [(start, stop)]
            if turn < STEEP_V:
                edge = self.section.thickness
                pieces = [(start, min(stop, -edge)), (max(start, edge), stop)]
                if start < -edge / 2 and stop > edge / 2 and not roll.foil:
                    marks.append(Path(self.section.opening_path[1:4], _JOINT, closed=False))
            for first, last in pieces:
                marks += _bar(stretch(self.section.opening_path, first, last), low, roll.foil)
        return tuple(marks)

    def flat(self, roll: Roll, base: float = 0.3) -> Drawing:
        """Rolls on the closing faces; between the boards when they are folded shut."""
        path = self.section.closing_path
        if self.section.angle < SHUT:
            reach = _go(path[1], _unit(path[1], path[0]), roll.width / 2)
            return () if roll.foil else (Line(path[1], reach, Pen(1.0)),)
        marks: list[Mark] = []
        for index, (start, stop) in enumerate(roll.spans):
            # The boards lie to the left of the path, so the strip goes to its right.
            low = -base - (index % 2) * STEP
            pieces = [(start, stop)]
            if self.section.angle < SHARP:
                # Deep in a sharp hinge the two sides of a strip run into each other: drawn from where they part.
                apart = (THICK - low) / math.tan(math.radians(self.section.angle / 2))
                pieces = [(start, min(stop, -apart)), (max(start, apart), stop)]
                if not roll.foil:
                    marks.append(Path(stretch(path, max(start, -apart), min(stop, apart)), _JOINT, closed=False))
            for first, last in pieces:
                marks += _bar(stretch(path, first, last), low - THICK, roll.foil)
        return tuple(marks)

    def pivot(self) -> Drawing:
        return (Circle((0.0, 0.0), 1.7, NARROW, 1.0), Circle((0.0, 0.0), 0.8, None, 0.0))

    def on_opening(self, place: float, lift: float = 0.0) -> Point:
        """A point of the opening path, measured from its middle, `lift` mm off it."""
        return _point_on(self.section.opening_path, place, lift)

    def on_closing(self, place: float, lift: float = 0.0) -> Point:
        """A point of the closing path, `lift` mm off the board."""
        return _point_on(self.section.closing_path, place, -lift)

    def measure(self, a: Point, b: Point, away: Point, offset: float, text: str, style: Style = BODY_BOLD) -> Drawing:
        """A dimension from a to b on the side that `away` looks to."""
        left = (-(b[1] - a[1]), b[0] - a[0])
        side = 1.0 if left[0] * away[0] + left[1] * away[1] > 0 else -1.0
        return linear(a, b, side * offset, text, self.lettering, style)


def callout(
    point: Point,
    knee: Point,
    number: str,
    text: str,
    lettering: Lettering,
    style: Style = BODY_BOLD,
    end: str = "arrow",
) -> Drawing:
    """A leader that ends in a circled step number (if any) and a short text of one or more lines."""
    if not number:
        return leader(point, knee, text, lettering, style, "dot" if end == "dot" else "arrow")
    sign = 1.0 if knee[0] >= point[0] else -1.0
    radius = 0.95 * style.height
    shelf = (knee[0] + sign * 2.5, knee[1])
    marks: list[Mark] = [Path((point, knee, shelf), LEADER, closed=False)]
    if end == "dot":
        marks.append(Circle(point, 0.6, None, 0.0))
    else:
        marks += terminator(point, (point[0] - knee[0], point[1] - knee[1]), 3.0)
    marks += circled((shelf[0] + sign * radius, shelf[1]), number, lettering, radius, style)
    lines = text.split("\n")
    baseline = shelf[1] - style.height / 2 + (len(lines) - 1) * style.leading / 2
    x = shelf[0] + sign * (2 * radius + 1.5)
    for line in lines:
        marks.append(Text((x, baseline), line, style, "left" if sign > 0 else "right"))
        baseline -= style.leading
    return tuple(marks)


def _bar(piece: Sequence[Point], low: float, foil: bool) -> Drawing:
    if len(piece) < 2:
        return ()
    area = bar(piece, low, low + THICK)
    return (Path(area, Pen(0.25), 1.0),) if foil else (Path(area, None, 0.0),)


def break_line(a: Point, b: Point, along: Point) -> Path:
    """A zigzag from a to b where a board goes on."""
    across, length = _unit(a, b), math.dist(a, b)
    jag = min(2.2, length / 6)
    middle = length / 2
    points = (
        a,
        _go(a, across, middle - jag),
        _go(_go(a, across, middle - jag / 2), along, jag),
        _go(_go(a, across, middle + jag / 2), along, -jag),
        _go(a, across, middle + jag),
        b,
    )
    return Path(points, NARROW, closed=False)


def _point_on(path: Sequence[Point], place: float, lift: float) -> Point:
    ahead = stretch(path, place, place + 0.01) or stretch(path, place - 0.01, place)
    point = ahead[0]
    (x0, y0), (x1, y1) = ahead[0], ahead[-1]
    length = math.hypot(x1 - x0, y1 - y0)
    return (point[0] - (y1 - y0) / length * lift, point[1] + (x1 - x0) / length * lift)


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def _minus(v: Point) -> Point:
    return (-v[0], -v[1])


def _go(point: Point, direction: Point, length: float) -> Point:
    return (point[0] + direction[0] * length, point[1] + direction[1] * length)
