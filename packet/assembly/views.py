"""The open shelter seen and cut: outlines of its leaves as they stand, with their thickness.

Plan and section cut every leaf by a plane; solids stand as a face and the direction of their thickness. The
shelter's frame: origin on the ground at the centre, z up, mm; the first door looks towards -y.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from packet.assembly.records import Assembly, Leaf, LeafKind, Point, Point3, SeamKind
from packet.assembly.vectors import cross, dot, minus
from packet.description.terms import Face

_TOUCH = 1e-6
"""mm within which a point lies in a plane."""


@dataclass(frozen=True, slots=True)
class Plane:
    """A cutting plane: a point of it, and unit directions right and up on the drawing.

    The viewer looks against `towards`, which is right x up; the kept side lies beyond the plane.
    """

    origin: Point3
    right: Point3
    up: Point3

    @property
    def towards(self) -> Point3:
        """Unit direction to the viewer."""
        return cross(self.right, self.up)

    def distance(self, point: Point3) -> float:
        """mm before the plane (+, on the viewer's side) or beyond it (-)."""
        return dot(minus(point, self.origin), self.towards)

    def flat(self, point: Point3) -> Point:
        """Where a point falls on the drawing, mm."""
        away = minus(point, self.origin)
        return (dot(away, self.right), dot(away, self.up))


@dataclass(frozen=True, slots=True)
class Swing:
    """How a door swings in plan: pivot, radius of its free edge (mm), and the directions of the free edge shut
    and swung fully back (degrees counter-clockwise from +x, seen from above)."""

    door: str
    pivot: Point
    radius: float
    shut: float
    back: float


def standing(leaf: Leaf, depth: float = 0.0) -> tuple[Point3, ...]:
    """The finished outline in space, `depth` mm behind the marked face."""
    return tuple(leaf.open_pose.place(point, depth) for point in leaf.outline)


def into_board(leaf: Leaf) -> Point3:
    """Unit direction from the marked face into the board."""
    x, y, z = leaf.open_pose.z
    return (-x, -y, -z)


def centre_of(leaf: Leaf, face: Face) -> Point3:
    """Mean of the finished outline's corners on a face, in space."""
    points = standing(leaf, leaf.depth(face))
    return (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points),
            sum(p[2] for p in points) / len(points))


def horizontal(height: float) -> Plane:
    """The plane of a plan: cut at `height` mm above ground, seen from above."""
    return Plane((0.0, 0.0, height), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def middle(assembly: Assembly) -> Plane:
    """The upright plane through the mid seam of the first door's wall and the centre, door to the right.

    An even ring has the opposite wall's mid seam in it too.
    """
    door = assembly.doors[0]
    foot = door.open_pose.place(door.edge("mid")[0])
    reach = math.hypot(foot[0], foot[1])
    return Plane((0.0, 0.0, 0.0), (foot[0] / reach, foot[1] / reach, 0.0), (0.0, 0.0, 1.0))


def cut(leaves: Iterable[Leaf], plane: Plane) -> dict[str, tuple[Point, ...]]:
    """Section polygon of every leaf the plane cuts, by mark, counter-clockwise in the drawing's mm.

    A leaf that only touches the plane with an edge face is cut when it lies beyond it: a section along a mid
    seam then shows the leaves that are kept.
    """
    found = {}
    for leaf in leaves:
        polygon = _cut(leaf, plane)
        if polygon:
            found[leaf.mark] = polygon
    return found


def beyond(leaves: Iterable[Leaf], plane: Plane) -> tuple[Leaf, ...]:
    """Leaves that lie wholly on the far side of the plane or touch it from there."""
    return tuple(leaf for leaf in leaves if max(map(plane.distance, _corners(leaf))) <= _TOUCH)


def swing(assembly: Assembly, door: Leaf) -> Swing:
    """The swing of a door about its hinge, whose pivot lies on the hinge's closing face."""
    seam = next(s for s in assembly.seams_of(door.mark) if s.bonded and s.kind is SeamKind.WALL_MID)
    depth = door.depth(seam.closing_face)
    pivot = door.open_pose.place(door.edge("mid")[0], depth)
    free = door.open_pose.place(door.edge("corner")[0], depth)
    arm = (free[0] - pivot[0], free[1] - pivot[1])
    normal = door.open_pose.z if seam.closing_face is door.marked_face else into_board(door)
    # It turns to the side its closing face looks to, until the closing faces meet.
    sense = 1.0 if arm[0] * normal[1] - arm[1] * normal[0] > 0 else -1.0
    shut = math.degrees(math.atan2(arm[1], arm[0]))
    return Swing(door.mark, (pivot[0], pivot[1]), math.hypot(*arm), shut, shut + sense * 180.0)


def walls_in_order(assembly: Assembly) -> tuple[tuple[Leaf, Leaf], ...]:
    """The walls of the ring, numbered from the first door's, as pairs of leaves joined at their mid seam."""
    return tuple((assembly.by_mark[a], assembly.by_mark[b])
                 for a, b in (s.leaves for s in assembly.seams if s.kind is SeamKind.WALL_MID))


def opening_height(assembly: Assembly, face: Face) -> float:
    """Height of the peak opening's rim on a face of the roof, mm above ground."""
    rims = [leaf.open_pose.place(point, leaf.depth(face))[2]
            for leaf in assembly.of_kind(LeafKind.ROOF) for point in leaf.edge("tip")]
    return max(rims)


def opening_width(assembly: Assembly, face: Face) -> float:
    """Peak opening across flats on a face, mm: twice the distance of a tip's middle from the axis."""
    leaf = assembly.of_kind(LeafKind.ROOF)[0]
    mid = min(leaf.edge("tip"), key=lambda point: abs(point[0]))
    x, y, _ = leaf.open_pose.place(mid, leaf.depth(face))
    return 2 * math.hypot(x, y)


def _corners(leaf: Leaf) -> tuple[Point3, ...]:
    return (*standing(leaf), *standing(leaf, leaf.thickness))


def _cut(leaf: Leaf, plane: Plane) -> tuple[Point, ...]:
    near, far = standing(leaf), standing(leaf, leaf.thickness)
    count = len(near)
    if max(map(plane.distance, (*near, *far))) <= -_TOUCH or min(map(plane.distance, (*near, *far))) >= -_TOUCH:
        return ()
    edges = [(ring[i], ring[(i + 1) % count]) for ring in (near, far) for i in range(count)]
    edges += list(zip(near, far, strict=True))
    points = [plane.flat(p) for p in (*near, *far) if abs(plane.distance(p)) <= _TOUCH]
    for a, b in edges:
        da, db = plane.distance(a), plane.distance(b)
        if min(da, db) < -_TOUCH and max(da, db) > _TOUCH:
            k = da / (da - db)
            points.append(plane.flat((a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1]), a[2] + k * (b[2] - a[2]))))
    return _hull(points)


def _hull(points: list[Point]) -> tuple[Point, ...]:
    """Convex hull, counter-clockwise (monotone chain); empty when the points span no area."""
    ordered = sorted({(round(x, 9), round(y, 9)) for x, y in points})

    def half(run: Iterable[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= _TOUCH:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    ring = tuple(half(ordered) + half(reversed(ordered)))
    return ring if len(ring) > 2 else ()


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
