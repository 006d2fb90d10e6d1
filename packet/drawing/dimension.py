"""Dimensions: linear, running from one origin, angular, and leaders (ISO 129).

Text stands above its line and reads from the bottom or from the right of the sheet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Literal

from packet.drawing.lettering import BODY_BOLD, NUMBER, Lettering, Style
from packet.drawing.marks import Arc, Circle, Drawing, Line, Mark, Path, Point, Text
from packet.drawing.pens import DIMENSION, EXTENSION, LEADER
from packet.drawing.symbols import terminator

_ABOVE = 1.0  # mm between a dimension line and its text
_GAP = 1.0  # mm between an outline and its extension line
_PAST = 2.0  # mm an extension line runs past the dimension line
_HEAD = 3.0  # mm, length of an arrowhead
_TICK = 1.8  # mm, half length of a tick
_MOST_SHIFT = 2.4  # capital heights a label may slide along its line before all labels are turned
_LED = 5.0  # mm between ticks and labels that are led to them
_CLEAR = 2.0  # mm kept between neighbouring running dimensions


def readable(angle: float) -> float:
    """The angle, or the angle turned by half, that reads from the bottom or the right: in (-90, 90]."""
    turned = math.remainder(angle, 360.0)
    if turned > 90.0 + 1e-6:
        return turned - 180.0
    return turned + 180.0 if turned <= -90.0 + 1e-6 else turned


def linear(
    a: Point,
    b: Point,
    offset: float,
    text: str,
    lettering: Lettering,
    style: Style = BODY_BOLD,
    gap: float = _GAP,
) -> Drawing:
    """The distance from a to b, dimensioned `offset` mm to the left of the way from a to b (negative: right).

    Arrowheads stand inside, or outside when there is no room; so does the text, then beyond b.
    """
    length = math.dist(a, b)
    if length < 1e-9:
        raise ValueError(f"no distance to dimension for {text!r}: both points are {a}")
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    nx, ny = -uy, ux
    side = math.copysign(1.0, offset)
    first, last = (a[0] + offset * nx, a[1] + offset * ny), (b[0] + offset * nx, b[1] + offset * ny)
    marks: list[Mark] = []
    if abs(offset) > gap:
        for foot in (a, b):
            marks.append(
                Line(
                    _along(foot, (nx, ny), side * gap),
                    _along(foot, (nx, ny), offset + side * _PAST),
                    EXTENSION,
                )
            )
    wide = lettering.width(text, style)
    roomy = length >= 2 * _HEAD + 1.0
    text_fits = length >= wide + (2 * _HEAD if roomy else 0.0) + 1.0
    angle = readable(math.degrees(math.atan2(uy, ux)))
    up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    if roomy:
        marks.append(Line(first, last, DIMENSION))
        marks += [*terminator(first, (-ux, -uy), _HEAD), *terminator(last, (ux, uy), _HEAD)]
    else:
        marks.append(Line(_along(first, (ux, uy), -2 * _HEAD), _along(last, (ux, uy), 2 * _HEAD), DIMENSION))
        marks += [*terminator(first, (ux, uy), _HEAD), *terminator(last, (-ux, -uy), _HEAD)]
    if text_fits:
        middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
        return (*marks, Text(_along(middle, up, _ABOVE), text, style, "centre", angle))
    # Outside, beyond b, on the dimension line drawn on under the text.
    start = 0.0 if roomy else 2 * _HEAD
    end = max(start, _PAST) + wide + 2.0
    marks.append(Line(_along(last, (ux, uy), start), _along(last, (ux, uy), end), DIMENSION))
    middle = _along(last, (ux, uy), max(start, _PAST) + 1.0 + wide / 2)
    return (*marks, Text(_along(middle, up, _ABOVE), text, style, "centre", angle))


def running(
    origin: Point,
    direction: Literal["x", "y"],
    stations: Sequence[tuple[float, str]],
    offset: float,
    lettering: Lettering,
    style: Style = NUMBER,
    reading: Literal["along", "across", "auto"] = "auto",
    extension: float | None = None,
) -> Drawing:
    """Superimposed running dimensions from one origin: one line, a circle at the origin, a tick at each mark.

    `origin` is the datum corner on the outline; `direction` x runs to the right, y upward. `stations` are
    (distance on paper in mm, text), the datum itself included if its 0 is to be written. `offset` places the
    line: in x runs above (+) or below (-) the origin, in y runs right (+) or left (-). Texts stand on the far
    side of the line. `reading` along the line, across it, or whichever needs less shifting; where neighbours
    would still touch they are spread, each led to its tick. `extension` is the gap between outline and
    extension line (0 for lines that start at the outline).
    """
    if not stations:
        raise ValueError("running dimensions need one station at least")
    ordered = sorted(stations)
    side = math.copysign(1.0, offset)
    frame = _Frame(origin, direction, offset, side)
    far = max(distance for distance, _ in ordered)
    near = min(0.0, ordered[0][0])
    start = _GAP if extension is None else extension
    marks: list[Mark] = [Line(frame.at(near, 0.0), frame.at(far, 0.0), DIMENSION)]
    for distance, _ in ordered:
        reach = _TICK if abs(distance) > 1e-9 else _TICK + 0.6
        marks.append(Line(frame.at(distance, -abs(offset) + start), frame.at(distance, -_TICK), EXTENSION))
        marks.append(Line(frame.at(distance, -_TICK), frame.at(distance, reach), DIMENSION))
    marks.append(Circle(frame.at(0.0, 0.0), 1.1, DIMENSION, 1.0))

    wanted = [distance for distance, _ in ordered]
    lengths = [lettering.width(text, style) for _, text in ordered]
    along = _spread(wanted, lengths, _CLEAR)
    across = _spread(wanted, [style.height * 1.06] * len(ordered), _CLEAR * 0.75)
    if reading == "auto":
        shift_along = max(abs(p - w) for p, w in zip(along, wanted, strict=True))
        reading = "along" if shift_along <= _MOST_SHIFT * style.height else "across"
    places = along if reading == "along" else across
    bent = any(abs(place - want) > 0.3 for place, want in zip(places, wanted, strict=True))
    base = _TICK + (_LED if bent else _ABOVE)
    for (distance, text), place, length in zip(ordered, places, lengths, strict=True):
        if bent:
            knee = frame.at(distance, _TICK)
            marks.append(Line(knee, frame.at(place, base - 0.6), LEADER))
        marks.append(frame.text(place, base, text, style, reading == "along", length))
    return tuple(marks)


class _Frame:
    """Where running dimensions stand: run along the line, depth from the line outward."""

    def __init__(self, origin: Point, direction: Literal["x", "y"], offset: float, side: float) -> None:
        self._origin, self._direction, self._offset, self._side = origin, direction, offset, side

    def at(self, run: float, depth: float) -> Point:
        x, y = self._origin
        out = self._offset + self._side * depth
        return (x + run, y + out) if self._direction == "x" else (x + out, y + run)

    def text(self, run: float, depth: float, string: str, style: Style, along: bool, length: float) -> Text:
        """Text whose near edge lies `depth` beyond the line, centred on `run`."""
        high = style.height
        if self._direction == "x":
            if along:
                return Text(self.at(run, depth + (0.0 if self._side > 0 else high)), string, style, "centre")
            x, y = self.at(run, depth)
            return Text((x + high / 2, y), string, style, "left" if self._side > 0 else "right", 90.0)
        if along:
            return Text(
                self.at(run, depth + (high if self._side > 0 else 0.0)), string, style, "centre", 90.0
            )
        x, y = self.at(run, depth)
        return Text((x, y - high / 2), string, style, "left" if self._side > 0 else "right")


def _spread(wanted: Sequence[float], sizes: Sequence[float], clear: float) -> list[float]:
    """Places in the order of `wanted`, as near to it as least squares allow, so that items of the given sizes
    stay `clear` apart. (Isotonic regression by pooling neighbours, on places less the room before each.)"""
    offsets = [0.0]
    for before, after in itertools.pairwise(sizes):
        offsets.append(offsets[-1] + (before + after) / 2 + clear)
    pools: list[tuple[float, int]] = []
    for want, offset in zip(wanted, offsets, strict=True):
        mean, count = want - offset, 1
        while pools and pools[-1][0] > mean:
            other, others = pools.pop()
            mean, count = (mean * count + other * others) / (count + others), count + others
        pools.append((mean, count))
    level = [mean for mean, count in pools for _ in range(count)]
    return [mean + offset for mean, offset in zip(level, offsets, strict=True)]


def angular(
    centre: Point,
    radius: float,
    start: float,
    stop: float,
    text: str,
    lettering: Lettering,
    style: Style = BODY_BOLD,
    extend_from: float | None = None,
) -> Drawing:
    """The angle from `start` to `stop` (degrees counter-clockwise, stop > start) on an arc about `centre`.

    The text stands upright beyond the middle of the arc. `extend_from`: radius from which extension lines run
    to the arc, None for none.
    """
    head = math.degrees(_HEAD / radius)
    marks: list[Mark] = []
    if extend_from is not None:
        for angle in (start, stop):
            marks.append(
                Line(polar(centre, extend_from, angle), polar(centre, radius + _PAST, angle), EXTENSION)
            )
    inside = stop - start > 2.5 * head
    over = 0.0 if inside else 2 * head
    marks.append(Arc(centre, radius, start - over, stop + over, DIMENSION))
    for angle, turn in ((start, -1.0 if inside else 1.0), (stop, 1.0 if inside else -1.0)):
        tip, tail = polar(centre, radius, angle), polar(centre, radius, angle - turn * head)
        marks += terminator(tip, (tip[0] - tail[0], tip[1] - tail[1]), _HEAD)
    middle = math.radians((start + stop) / 2)
    cos, sin = math.cos(middle), math.sin(middle)
    half, high = lettering.width(text, style) / 2, style.height / 2
    reach = radius + _ABOVE + 0.5 + abs(cos) * half + abs(sin) * high
    x, y = centre[0] + reach * cos, centre[1] + reach * sin
    return (*marks, Text((x, y - high), text, style, "centre"))


def leader(
    point: Point,
    text_at: Point,
    text: str,
    lettering: Lettering,
    style: Style = BODY_BOLD,
    end: Literal["arrow", "dot"] = "arrow",
) -> Drawing:
    """A leader from `point` to a short shelf at `text_at`, with the text beyond the shelf on its level.

    The shelf runs away from the point, so the text is set to the right of a knee right of the point. An arrow
    ends on an outline, a dot inside one. Lines of the text are parted by newlines.
    """
    right = text_at[0] >= point[0]
    sign = 1.0 if right else -1.0
    shelf = (text_at[0] + sign * 3.0, text_at[1])
    marks: list[Mark] = [Path((point, text_at, shelf), LEADER, closed=False)]
    if end == "arrow":
        marks += terminator(point, (point[0] - text_at[0], point[1] - text_at[1]), _HEAD)
    else:
        marks.append(Circle(point, 0.6, None, 0.0))
    lines = text.split("\n")
    baseline = text_at[1] - style.height / 2 + (len(lines) - 1) * style.leading / 2
    for line in lines:
        marks.append(Text((shelf[0] + sign, baseline), line, style, "left" if right else "right"))
        baseline -= style.leading
    return tuple(marks)


def polar(centre: Point, radius: float, degrees: float) -> Point:
    """A point at a radius and an angle counter-clockwise from the x axis."""
    radians = math.radians(degrees)
    return (centre[0] + radius * math.cos(radians), centre[1] + radius * math.sin(radians))


def _along(point: Point, direction: Point, length: float) -> Point:
    return (point[0] + direction[0] * length, point[1] + direction[1] * length)
