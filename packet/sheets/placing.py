"""Finding room for words and numbers inside a drawing, so that nothing touches anything."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from packet.drawing.lettering import Lettering, Style
from packet.drawing.marks import Drawing, Point, Rect, Text

LINE_PITCH = 1.55
"""Line pitch over capital height in a short label, where lines have few descenders."""

_DROP = 0.36
"""Room below the last baseline for descenders, in capital heights."""


@dataclass(slots=True)
class Taken:
    """What already stands in a drawing: boxes of lettering and segments of lines (paper mm)."""

    boxes: list[Rect] = field(default_factory=list)
    segments: list[tuple[Point, Point]] = field(default_factory=list)

    def free(self, box: Rect, clear: float = 0.8, lines: bool = True) -> bool:
        """Whether a box keeps `clear` mm from all boxes and, if asked, from all lines."""
        left, bottom, right, top = box[0] - clear, box[1] - clear, box[2] + clear, box[3] + clear
        for other in self.boxes:
            if left < other[2] and right > other[0] and bottom < other[3] and top > other[1]:
                return False
        if not lines:
            return True
        return not any(crosses((left, bottom, right, top), a, b) for a, b in self.segments)

    def add(self, box: Rect) -> None:
        self.boxes.append(box)


def crosses(box: Rect, a: Point, b: Point) -> bool:
    """Whether a segment has a point inside a box (clipping its parameter range, axis by axis)."""
    low, high = 0.0, 1.0
    for start, end, near, far in ((a[0], b[0], box[0], box[2]), (a[1], b[1], box[1], box[3])):
        run = end - start
        if abs(run) < 1e-12:
            if start <= near or start >= far:
                return False
            continue
        first, second = (near - start) / run, (far - start) / run
        low, high = max(low, min(first, second)), min(high, max(first, second))
        if low >= high:
            return False
    return True


@dataclass(frozen=True, slots=True)
class Label:
    """A few short lines, centred one above the other; `upright` labels read from the right of the sheet."""

    lines: tuple[tuple[str, Style], ...]
    upright: bool
    width: float
    height: float

    @staticmethod
    def of(lines: Sequence[tuple[str, Style]], lettering: Lettering, upright: bool = False) -> Label:
        """The label and the room it takes on the page (width and height swapped when upright)."""
        long = max(lettering.width(text, style) for text, style in lines)
        tall = lines[0][1].height + sum(LINE_PITCH * style.height for _, style in lines[1:])
        tall += _DROP * lines[-1][1].height
        return Label(tuple(lines), upright, *((tall, long) if upright else (long, tall)))

    def box(self, centre: Point) -> Rect:
        x, y = centre
        return (x - self.width / 2, y - self.height / 2, x + self.width / 2, y + self.height / 2)

    def drawn(self, centre: Point) -> Drawing:
        """The label with the middle of its room at `centre`."""
        along = self.width if self.upright else self.height
        depth = along / 2
        marks = []
        for index, (text, style) in enumerate(self.lines):
            depth -= style.height if index == 0 else LINE_PITCH * style.height
            at = (centre[0] - depth, centre[1]) if self.upright else (centre[0], centre[1] + depth)
            marks.append(Text(at, text, style, "centre", 90.0 if self.upright else 0.0))
        return tuple(marks)


def inset(polygon: Sequence[Point], by: Sequence[float]) -> tuple[Point, ...]:
    """A convex polygon (counter-clockwise) with edge i moved inward by `by[i]`; empty where nothing is left."""
    points = list(polygon)
    for (a, b), depth in zip(zip(polygon, [*polygon[1:], polygon[0]], strict=True), by, strict=True):
        points = _clipped(points, a, b, depth)
    return tuple(points)


def _clipped(points: list[Point], a: Point, b: Point, depth: float) -> list[Point]:
    """The part of a polygon that lies `depth` or more to the left of the line from a to b."""
    length = math.dist(a, b)
    if length < 1e-9:
        return points
    nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
    kept: list[Point] = []
    for p, q in zip(points, points[1:] + points[:1], strict=True):
        dp = (p[0] - a[0]) * nx + (p[1] - a[1]) * ny - depth
        dq = (q[0] - a[0]) * nx + (q[1] - a[1]) * ny - depth
        if dp >= 0:
            kept.append(p)
        if (dp > 0 > dq) or (dp < 0 < dq):
            share = dp / (dp - dq)
            kept.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    return kept


def best_place(polygon: Sequence[Point], label: Label, taken: Taken) -> Point | None:
    """Where a label stands clearest inside a convex polygon (counter-clockwise), or None if it has no room.

    Its middle may lie where every edge is as far away as the label reaches towards that edge; the clearest
    place is the last that is left when this area shrinks evenly.
    """
    if len(polygon) < 3:
        return None
    reach = [_reach(a, b, label) for a, b in zip(polygon, [*polygon[1:], polygon[0]], strict=True)]
    if not inset(polygon, reach):
        return None
    clear = _deepest(polygon, reach)
    room = inset(polygon, [depth + clear for depth in reach])
    centre = _middle(room)
    if taken.free(label.box(centre), lines=False):
        return centre
    free = [place for place in _grid(inset(polygon, reach)) if taken.free(label.box(place), lines=False)]
    return min(free, key=lambda place: math.dist(place, centre), default=None)


def _reach(a: Point, b: Point, label: Label) -> float:
    """How far a label reaches from its middle towards the edge from a to b."""
    length = math.dist(a, b) or 1.0
    return (abs(b[1] - a[1]) * label.width + abs(b[0] - a[0]) * label.height) / (2.0 * length)


def _deepest(polygon: Sequence[Point], reach: Sequence[float]) -> float:
    """By how much more the area can shrink before nothing is left of it, mm, to a tenth."""
    low, high = 0.0, max(math.dist(polygon[0], point) for point in polygon)
    while high - low > 0.1:
        middle = (low + high) / 2
        if inset(polygon, [depth + middle for depth in reach]):
            low = middle
        else:
            high = middle
    return low


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _grid(polygon: Sequence[Point], count: int = 15) -> list[Point]:
    """Points of a grid over the bounds of a convex polygon that lie in it."""
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return [(x, y) for x in _ticks(min(xs), max(xs), count) for y in _ticks(min(ys), max(ys), count)
            if _depth(polygon, (x, y)) >= -1e-6]


def _ticks(low: float, high: float, count: int) -> Iterable[float]:
    return (low + (high - low) * i / (count - 1) for i in range(count))


def clearance(polygon: Sequence[Point], box: Rect) -> float:
    """Least distance of a box's corners from the polygon's edges; negative when one lies outside."""
    return _depth(polygon, (box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))


def _depth(polygon: Sequence[Point], *points: Point) -> float:
    """Least distance of the points from the polygon's edges; negative when one lies outside."""
    found = math.inf
    for a, b in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        length = math.dist(a, b)
        if length < 1e-9:
            continue
        for x, y in points:
            found = min(found, ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length)
    return found
