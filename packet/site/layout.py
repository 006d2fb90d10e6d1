"""Where anchors, ground sheet, trench and drip lie round the open shelter: plan points in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely

from packet.assembly.records import Leaf, Point
from packet.description.terms import Compass, Face
from packet.plan import Plan
from packet.site.stance import Stance, stance

REACH = 1e6
"""mm, farther than any shelter: sides of the half plane that is uphill."""


@dataclass(frozen=True, slots=True)
class Anchor:
    """One anchor: its number, the foot corner it holds, and where it goes into the ground."""

    number: int
    foot: Point
    stake: Point


@dataclass(frozen=True, slots=True)
class Layout:
    """The shelter's axes turned by `turn` degrees; all points are turned already. `sheet` is the ground sheet's outline
    (empty where it has none), `trench` a line uphill of the outline (empty where it is not known), `drips` the corners of
    the eave. `wind` is the way of the usual wind, a unit vector; None where only the hill is known. `north` says whether
    +y is north."""

    turn: float
    base: tuple[Point, ...]
    anchors: tuple[Anchor, ...]
    sheet: tuple[Point, ...]
    trench: tuple[Point, ...]
    drips: tuple[Point, ...]
    wind: Point | None
    north: bool

    def turned(self, point: Point) -> Point:
        """A point of the shelter's axes where the plan shows it."""
        return _turned(point, self.turn)


def layout(plan: Plan) -> Layout:
    """Stakes lie straight out from the corners, so far that they clear every edge by the stated distance.

    The plan is turned to the usual wind. Without `site.wind_from` and `site.uphill` that comes along +x, and uphill is +y;
    with either, +y is north. Only what people are inside of has a ground sheet and a trench.
    """
    own, standing = plan.description.site, stance(plan.assembly)
    north = own.wind_from is not None or own.uphill is not None
    wind = _way(own.wind_from, -1.0) if own.wind_from is not None else (None if north else (1.0, 0.0))
    hill = _way(own.uphill, 1.0) if own.uphill is not None else (None if north else (0.0, 1.0))
    turn = best_turn(plan, standing, wind) if wind is not None else 0.0
    base = tuple(_turned((x * 1000, y * 1000), turn) for x, y in standing.base)
    outline = shapely.Polygon(base)
    inside = plan.ring is not None
    shrunk = outline.buffer(-own.ground_sheet, join_style="mitre") if inside else shapely.Polygon()
    sheet = tuple(shrunk.exterior.coords[:-1]) if not shrunk.is_empty else ()
    return Layout(turn, base, _anchors(base, own.stake_out), tuple((x, y) for x, y in sheet),
                  _trench(outline, own.trench, hill) if inside and hill is not None else (),
                  _drips(base, plan.assembly.thickness) if inside else (), wind, north)


def door_ways(plan: Plan) -> tuple[tuple[Leaf, float], ...]:
    """The doors and the way each looks, degrees counter-clockwise from +x in the shelter's own axes."""
    found = []
    for door in plan.assembly.doors:
        x, y, _ = door.open_pose.z
        sign = 1.0 if door.marked_face is Face.OUTER else -1.0
        found.append((door, math.degrees(math.atan2(sign * y, sign * x))))
    return tuple(found)


def best_turn(plan: Plan, standing: Stance, wind: Point) -> float:
    """The least turn (degrees, -180 to 180) that keeps every door as far from the wind as it can be, and that without
    doors turns the narrowest side to it."""
    blows = math.degrees(math.atan2(wind[1], wind[0]))
    ways = [way for _, way in door_ways(plan)]
    if not ways:
        narrow = min(standing.sides, key=lambda side: round(side.area, 6)).direction
        return min((_half_turn(blows - narrow), _half_turn(blows - narrow + 180)), key=abs)

    def facing(turn: float) -> float:
        return round(max(-math.cos(math.radians(way + turn - blows)) for way in ways), 9)

    # The best has a door along the wind or two doors alike: both are among the turns to whole and half sums of angles.
    tried = {_half_turn(blows - (a + b) / 2 + quarter) for a in ways for b in ways for quarter in (0, 90, 180, 270)}
    return min(sorted(tried, key=abs), key=facing)


def _half_turn(degrees: float) -> float:
    return round((degrees + 180) % 360 - 180, 9)


def _way(point: Compass, sign: float) -> Point:
    angle = math.radians(point.bearing)
    return (sign * math.cos(angle), sign * math.sin(angle))


def _turned(point: Point, degrees: float) -> Point:
    if not degrees:
        return point
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (c * point[0] - s * point[1], s * point[0] + c * point[1])


def _drips(base: tuple[Point, ...], thickness: float) -> tuple[Point, ...]:
    """Corners of the walls' outer faces, under the corners of the eave: there the hips bring the rain down."""
    outer = shapely.Polygon(base).buffer(thickness, join_style="mitre").exterior.coords[:-1]
    return tuple((x, y) for x, y in outer)


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


def _trench(outline: shapely.Polygon, out: float, hill: Point) -> tuple[Point, ...]:
    """The half of a line round the outline that lies to the hill, running out past it on both sides."""
    around = outline.buffer(out, quad_segs=6).exterior
    middle = outline.centroid
    across = (-hill[1] * REACH, hill[0] * REACH)
    near = [(middle.x + sign * across[0], middle.y + sign * across[1]) for sign in (1, -1)]
    half = shapely.Polygon([*near, *((x + hill[0] * REACH, y + hill[1] * REACH) for x, y in reversed(near))])
    above = around.intersection(half)
    line = shapely.line_merge(above) if above.geom_type.startswith("Multi") else above
    return tuple((x, y) for x, y in line.coords)
