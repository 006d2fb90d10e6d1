"""Where anchors, ground sheet and trench lie round the open shelter: plan points in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely

from packet.assembly.records import Point
from packet.plan import Plan
from packet.site.stance import stance


@dataclass(frozen=True, slots=True)
class Anchor:
    """One anchor: its number, the foot corner it holds, and where it goes into the ground."""

    number: int
    foot: Point
    stake: Point


@dataclass(frozen=True, slots=True)
class Layout:
    """`sheet` is the ground sheet's outline (empty where it has none), `trench` a line uphill of the outline."""

    base: tuple[Point, ...]
    anchors: tuple[Anchor, ...]
    sheet: tuple[Point, ...]
    trench: tuple[Point, ...]


def layout(plan: Plan) -> Layout:
    """Stakes lie straight out from the corners, so far that they clear every edge by the stated distance; uphill is
    +y. Only what people are inside of has a ground sheet and a trench."""
    own = plan.description.site
    base = tuple((x * 1000, y * 1000) for x, y in stance(plan.assembly).base)
    outline = shapely.Polygon(base)
    inside = plan.ring is not None
    shrunk = outline.buffer(-own.ground_sheet, join_style="mitre") if inside else shapely.Polygon()
    sheet = tuple(shrunk.exterior.coords[:-1]) if not shrunk.is_empty else ()
    return Layout(base, _anchors(base, own.stake_out), tuple((x, y) for x, y in sheet),
                  _trench(outline, own.trench) if inside else ())


def _anchors(base: tuple[Point, ...], out: float) -> tuple[Anchor, ...]:
    found = []
    count = len(base)
    for number, corner in enumerate(base, 1):
        before, after = base[number - 2], base[number % count]
        ways = [_away(corner, other) for other in (before, after)]
        x, y = ways[0][0] + ways[1][0], ways[0][1] + ways[1][1]
        size = math.hypot(x, y)
        # Half the corner's angle lies between the bisector and each edge: the reach grows as the corner opens.
        half = math.acos(max(-1.0, min(1.0, (ways[0][0] * x + ways[0][1] * y) / size)))
        reach = out / max(math.cos(math.pi / 2 - half), 0.5)
        found.append(Anchor(number, corner, (corner[0] + x / size * reach, corner[1] + y / size * reach)))
    return tuple(found)


def _away(corner: Point, other: Point) -> Point:
    """Unit direction from a neighbour to the corner."""
    length = math.dist(corner, other)
    return ((corner[0] - other[0]) / length, (corner[1] - other[1]) / length)


def _trench(outline: shapely.Polygon, out: float) -> tuple[Point, ...]:
    """The uphill half of a line round the outline, running out past it on both sides."""
    around = outline.buffer(out, quad_segs=6).exterior
    left, _, right, top = outline.bounds
    middle = outline.centroid.y
    above = around.intersection(shapely.box(left - 2 * out, middle, right + 2 * out, top + 2 * out))
    line = shapely.line_merge(above) if above.geom_type.startswith("Multi") else above
    return tuple((x, y) for x, y in line.coords)
