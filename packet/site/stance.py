"""How the open shelter stands in the wind: side areas by direction, what is covered, the feet it tips about.

Metres and square metres; directions in degrees counter-clockwise from +x, the way the air moves.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely

from packet.assembly.records import Assembly, Leaf, Point
from packet.description.terms import Face

STEP = 15
"""Degrees between the directions that are looked at."""

LEVEL = 0.1
"""Least upright part of the unit normal of a leaf that covers ground: it leans more than 6 degrees."""

FOOT = 0.5
"""mm above the lowest point that still counts as standing."""

MOSTLY = 0.8
"""Share of the whole footprint from which the inner edges alone count as the base: it then tips about the hinges of a
closed ring of walls, and counts as a little narrower than it is."""


@dataclass(frozen=True, slots=True)
class Side:
    """The silhouette to a wind: its direction, area (m2), and the height of its centroid (m)."""

    direction: float
    area: float
    height: float


@dataclass(frozen=True, slots=True)
class Stance:
    """`base` are the corners it stands on, counter-clockwise (m); `covered` the plan area under the roof (m2) with
    its centroid; `height` over all (m)."""

    sides: tuple[Side, ...]
    base: tuple[Point, ...]
    covered: float
    middle: Point
    height: float

    def edges(self) -> tuple[tuple[Point, Point], ...]:
        return tuple(zip(self.base, (*self.base[1:], self.base[0]), strict=True))


@lru_cache(maxsize=2)  # wind, site and air of one plan ask for it in turn
def stance(assembly: Assembly) -> Stance:
    """From the solids of the open shelter, doors shut."""
    base = _base(assembly)
    normals = [math.degrees(math.atan2(a[0] - b[0], b[1] - a[1])) for a, b in zip(base, (*base[1:], base[0]), strict=True)]
    halves = sorted({round(angle % 180, 6) for angle in (*range(0, 180, STEP), *normals)})
    solids = [_Solid(leaf) for leaf in assembly.leaves]
    seen = [_side(solids, angle) for angle in halves]
    seen += [Side(side.direction + 180, side.area, side.height) for side in seen]  # the same outline from behind
    roof = shapely.unary_union([solid.shadow((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)) for solid in solids if solid.covers]
                               or [shapely.Polygon()])
    filled = shapely.unary_union([shapely.Polygon(part.exterior) for part in _parts(roof)])  # the vent is no roof light
    centre = filled.centroid if filled.area else shapely.Polygon(base).centroid
    top = max(solid.top for solid in solids)
    return Stance(tuple(seen), base, filled.area, (centre.x, centre.y), top)


def _side(solids: Sequence[_Solid], direction: float) -> Side:
    angle = math.radians(direction)
    across = (-math.sin(angle), math.cos(angle), 0.0)
    outline = shapely.unary_union([solid.shadow(across, (0.0, 0.0, 1.0)) for solid in solids])
    return Side(direction, outline.area, outline.centroid.y)


class _Solid:
    """A finished leaf as it stands in the open shelter. `corners` are those of both faces, m."""

    def __init__(self, leaf: Leaf) -> None:
        self.corners = [(x / 1000, y / 1000, z / 1000) for depth in (0.0, leaf.thickness) for point in leaf.outline
                        for x, y, z in (leaf.open_pose.place(point, depth),)]
        self.top = max(z for _, _, z in self.corners)
        self.covers = abs(leaf.open_pose.z[2]) > LEVEL and self.top > (leaf.thickness + FOOT) / 1000
        self._convex = _convex(leaf.outline)

    def shadow(self, right: tuple[float, float, float], up: tuple[float, float, float]) -> shapely.Geometry:
        """The leaf's outline on a plane: its two faces and its edges."""
        (ra, rb, rc), (ua, ub, uc) = right, up
        flat = [(x * ra + y * rb + z * rc, x * ua + y * ub + z * uc) for x, y, z in self.corners]
        if self._convex:
            return shapely.LineString(flat).convex_hull
        count = len(flat) // 2
        near, far = flat[:count], flat[count:]
        turned = [*range(1, count), 0]
        sides = [(near[i], near[j], far[j], far[i]) for i, j in enumerate(turned)]
        return shapely.unary_union([shapely.Polygon(points).buffer(0) for points in (near, far, *sides)])


def _convex(points: tuple[Point, ...]) -> bool:
    outline = shapely.Polygon(points)
    return bool(outline.convex_hull.area - outline.area < 1e-6 * outline.area)


def _parts(shape: shapely.Geometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon) and not part.is_empty]


def _base(assembly: Assembly) -> tuple[Point, ...]:
    """Corners of the footprint. Leaves stand as they are hinged: a door's trimmed edge hangs a little above."""
    feet: dict[Face, list[Point]] = {Face.INNER: [], Face.OUTER: []}
    for leaf in assembly.leaves:
        for face, points in feet.items():
            placed = [leaf.open_pose.place(point, leaf.depth(face)) for point in leaf.hinged]
            points += [(x / 1000, y / 1000) for x, y, z in placed if z < FOOT]
    whole = shapely.MultiPoint([*feet[Face.INNER], *feet[Face.OUTER]]).convex_hull
    inner = shapely.MultiPoint(feet[Face.INNER]).convex_hull if feet[Face.INNER] else shapely.Polygon()
    hull = inner if inner.area > MOSTLY * whole.area else whole
    if not isinstance(hull, shapely.Polygon):
        raise ValueError("the open shape stands on a line: it has no base")
    slack = assembly.thickness / 2000
    ring = shapely.geometry.polygon.orient(hull.simplify(slack)).exterior.coords[:-1]
    # What is simplified keeps the point it starts from, which may lie in the middle of an edge.
    turned = shapely.Polygon((*ring[1:], ring[0])).simplify(slack)
    return tuple((x, y) for x, y in turned.exterior.coords[:-1])
