"""A hinge or an edge cut across: the boards and the line on which each strip lies.

Section frame, mm: the pivot at the origin, x to the right. A hinge stands with its closing face below, so
that it folds downward: leaf A to the left, leaf B to the right, both turned down by half the turn. Folded
shut the boards hang side by side and their edges lie in one line above the pivot. A single edge hangs the
same way, its board below it.

A strip lies on a path of straight pieces. Places on a path are measured along it from its middle (the
pivot, or the middle of a single edge): negative towards leaf A.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from packet.assembly.records import Point

TIGHT = 1e-9


@dataclass(frozen=True, slots=True)
class Section:
    """Boards as closed polygons, and the paths along their surfaces from far left to far right.

    `opening_path` runs over the opening faces and the board edges (for a single edge: over both faces and
    the edge); `closing_path` along the closing faces (empty for a single edge). `reach` is how far the
    boards are drawn beyond the edge.
    """

    boards: tuple[tuple[Point, ...], ...]
    opening_path: tuple[Point, ...]
    closing_path: tuple[Point, ...]
    thickness: float
    angle: float
    reach: float

    @property
    def gap(self) -> float:
        """Width of the V between the board edges at the opening face: the chord 2 t sin(turn / 2)."""
        if len(self.boards) < 2:
            return 0.0
        return math.dist(self.opening_path[1], self.opening_path[3])

    @property
    def bridge_path(self) -> tuple[Point, ...]:
        """Along the opening faces and straight over the V: where a strip lies that is laid on the open hinge."""
        far_a, near_a, _, near_b, far_b = self.opening_path
        return (far_a, near_a, near_b, far_b)

    def rotated(self, degrees: float) -> Section:
        """The same section turned counter-clockwise about the pivot."""

        def turned(points: tuple[Point, ...]) -> tuple[Point, ...]:
            return tuple(rotate(p, degrees) for p in points)

        return Section(
            tuple(turned(board) for board in self.boards),
            turned(self.opening_path),
            turned(self.closing_path),
            self.thickness,
            self.angle,
            self.reach,
        )


def hinge_section(thickness: float, angle: float, reach: float) -> Section:
    """Two boards on a pivot that lies on their closing faces; `angle` between them: 180 flat, 0 folded shut.

    Raises ValueError for an angle outside 0 to 180.
    """
    if not 0.0 <= angle <= 180.0:
        raise ValueError(f"a hinge stands between 0 and 180 degrees, not at {angle}")
    half_turn = (180.0 - angle) / 2
    along_a, along_b = _direction(180.0 + half_turn), _direction(-half_turn)
    out_a, out_b = _direction(90.0 + half_turn), _direction(90.0 - half_turn)
    pivot: Point = (0.0, 0.0)
    boards, opening = [], []
    for along, out in ((along_a, out_a), (along_b, out_b)):
        far = _sum(pivot, along, reach)
        near_open, far_open = _sum(pivot, out, thickness), _sum(far, out, thickness)
        boards.append((pivot, far, far_open, near_open))
        opening.append((far_open, near_open))
    (far_a, near_a), (far_b, near_b) = opening
    return Section(
        tuple(boards),
        (far_a, near_a, pivot, near_b, far_b),
        (boards[0][1], pivot, boards[1][1]),
        thickness,
        angle,
        reach,
    )


def bridge_width(gap: float, land: float) -> float:
    """Least width of a strip laid over the V of an open hinge: a land on each board and the gap between, mm."""
    return 2 * land + gap


def edge_section(thickness: float, reach: float) -> Section:
    """One board that hangs from its edge; the middle of the edge is the origin. The left face is named first."""
    left, right = -thickness / 2, thickness / 2
    board = ((left, 0.0), (left, -reach), (right, -reach), (right, 0.0))
    return Section((board,), ((left, -reach), (left, 0.0), (right, 0.0), (right, -reach)), (), thickness, 0.0, reach)


def path_length(path: Sequence[Point]) -> float:
    """Length along a path, mm."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(path))


def stretch(path: Sequence[Point], start: float, stop: float) -> tuple[Point, ...]:
    """The piece of a path from `start` to `stop`, both measured from its middle; cut off at the path's ends."""
    half = path_length(path) / 2
    low, high = max(start, -half) + half, min(stop, half) + half
    if high - low < TIGHT:
        return ()
    points: list[Point] = []
    run = 0.0
    for a, b in itertools.pairwise(path):
        length = math.dist(a, b)
        first, last = max(low, run), min(high, run + length)
        if length > TIGHT and last - first > -TIGHT:
            for place in (first, last):
                share = (place - run) / length
                point = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
                if not points or math.dist(points[-1], point) > 1e-7:
                    points.append(point)
        run += length
    return tuple(points)


def bar(path: Sequence[Point], low: float, high: float) -> tuple[Point, ...]:
    """A strip drawn with thickness: the area between `low` and `high` mm to the left of a path, mitred."""
    return tuple(offset(path, low)) + tuple(reversed(offset(path, high)))


def offset(path: Sequence[Point], distance: float) -> list[Point]:
    """A line `distance` mm to the left of a path, its corners mitred. A path must not turn back on itself."""
    normals = [_left(a, b) for a, b in itertools.pairwise(path)]
    moved = [_sum(path[0], normals[0], distance)]
    for point, before, after in zip(path[1:-1], normals[:-1], normals[1:], strict=True):
        cosine = before[0] * after[0] + before[1] * after[1]
        share = distance / (1.0 + cosine)
        moved.append((point[0] + (before[0] + after[0]) * share, point[1] + (before[1] + after[1]) * share))
    moved.append(_sum(path[-1], normals[-1], distance))
    return moved


def rotate(point: Point, degrees: float) -> Point:
    """A point turned counter-clockwise about the origin."""
    cosine, sine = _direction(degrees)
    return (point[0] * cosine - point[1] * sine, point[0] * sine + point[1] * cosine)


def roll_spans(tapes: Sequence[float], overlap: float) -> tuple[tuple[float, float], ...]:
    """Where rolls laid side by side begin and end across a strip, measured from the strip's middle, mm."""
    whole = sum(tapes) - overlap * (len(tapes) - 1)
    spans, start = [], -whole / 2
    for tape in tapes:
        spans.append((start, start + tape))
        start += tape - overlap
    return tuple(spans)


def _direction(degrees: float) -> Point:
    radians = math.radians(degrees)
    return (math.cos(radians), math.sin(radians))


def _sum(point: Point, direction: Point, length: float) -> Point:
    return (point[0] + direction[0] * length, point[1] + direction[1] * length)


def _left(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)
