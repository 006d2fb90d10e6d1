"""Preset: a closed ring of walls with a pyramid roof and a swing leaf in two opposite walls.

Walls are numbered from the first door wall, which faces south (-y) in the plan. With the doors hung
on their right, seen from outside, the leaves run left to right seen from outside, which is
counter-clockwise in the plan; with the doors hung on their left everything runs the other way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import (
    Assembly,
    Hand,
    Hole,
    Leaf,
    LeafKind,
    Point,
    Point3,
    Pose,
    Seam,
    SeamKind,
)
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.vectors import cross
from packet.description.terms import Face, Side


@dataclass(frozen=True, slots=True)
class RingDoors:
    """How the two doors are made; lengths in mm."""

    hand: Side
    bottom_trim: float
    latch_below_head: float
    latch_from_free_edge: float
    latch_hole: float


WALL_EDGES = ("sill", "corner", "eave", "mid")
ROOF_EDGES = ("eave", "hip", "tip", "mid")


def ring_assembly(geometry: RingGeometry, doors: RingDoors, marked_face: Face, releasable: bool = False) -> Assembly:
    """The graph of a ring: 2 n wall leaves, 2 n roof leaves and every seam between them.

    With `releasable` the corner-and-hip line before the first leaf comes apart: its hip is not bonded, every mid
    seam folds, and the ring packs as an open chain; an odd wall count packs only so. The ring must close
    (slant > apothem). The project file's checks see to both.
    """
    turn_sense = 1 if doors.hand is Side.RIGHT else -1
    per_half = (geometry.walls + 1) // 2
    walls: list[Leaf] = []
    roofs: list[Leaf] = []
    for wall in range(geometry.walls):
        for second in (False, True):
            place = _Place(geometry, wall, second, turn_sense, per_half, marked_face)
            walls.append(place.wall_leaf(doors))
            roofs.append(place.roof_leaf())
    seams = _seams(geometry, walls, roofs, releasable)
    return Assembly(tuple(walls + roofs), seams, ("A", "B"), geometry.thickness)


@dataclass(frozen=True, slots=True)
class _Place:
    """One place in the ring: which wall, and which of its two leaves."""

    geometry: RingGeometry
    wall: int
    second: bool
    turn_sense: int
    per_half: int
    marked_face: Face

    @property
    def half(self) -> str:
        return "AB"[self.wall // self.per_half]

    @property
    def mark(self) -> str:
        return f"{self.half}{2 * (self.wall % self.per_half) + 1 + self.second}"

    @property
    def door(self) -> bool:
        return self.wall % self.per_half == 0 and not self.second

    @property
    def hand(self) -> Hand:
        outward = self.turn_sense * (-1 if self.second else 1)
        seen_from_inside = outward if self.marked_face is Face.INNER else -outward
        return Hand.MID_LEFT if seen_from_inside > 0 else Hand.MID_RIGHT

    @property
    def corner(self) -> int:
        """The corner at this leaf's other edge; corner i stands between wall i and the next."""
        return self.wall if self.second else (self.wall - 1) % self.geometry.walls

    @property
    def width(self) -> float:
        return self.geometry.widths[self.corner]

    def _pose(self, height: float, slope: float) -> Pose:
        """Pose of a leaf whose mid edge starts at the wall's middle, `slope` from the vertical inward."""
        if self.geometry.corner_widths:
            turned = sum(self.geometry.turn_at(corner) for corner in range(self.wall))
        else:
            turned = math.radians(self.wall * 360.0 / self.geometry.walls)
        bearing = math.radians(-90.0) + self.turn_sense * turned
        radial = (math.cos(bearing), math.sin(bearing))
        lean = math.radians(slope)
        up: Point3 = (-radial[0] * math.sin(lean), -radial[1] * math.sin(lean), math.cos(lean))
        side = 1 if self.marked_face is Face.INNER else -1
        along: Point3 = (side * math.sin(bearing), -side * math.cos(bearing), 0.0)
        out = cross(along, up)
        shift = 0.0 if self.marked_face is Face.INNER else self.geometry.thickness
        start = (radial[0] * self.geometry.apothem, radial[1] * self.geometry.apothem, height)
        origin = (start[0] + shift * out[0], start[1] + shift * out[1], start[2] + shift * out[2])
        return Pose(along, up, out, origin)

    def wall_leaf(self, doors: RingDoors) -> Leaf:
        width, height = self.width, self.geometry.wall_height
        trim = doors.bottom_trim if self.door else 0.0
        hinged, edges = _handed([(0, -trim), (width, -trim), (width, height - trim), (0, height - trim)],
                                WALL_EDGES, self.hand)
        finished, _ = _handed([(0, 0), (width, 0), (width, height - trim), (0, height - trim)],
                              WALL_EDGES, self.hand)
        return Leaf(
            mark=self.mark, kind=LeafKind.WALL, half=self.half, hand=self.hand, door=self.door,
            outline=finished, hinged=hinged, rough=hinged, edges=edges,
            thickness=self.geometry.thickness, marked_face=self.marked_face,
            open_pose=self._pose(trim, 0.0), holes=self._latch(doors, height - trim),
        )

    def _latch(self, doors: RingDoors, head: float) -> tuple[Hole, ...]:
        """Latch hole of a door, and of the jamb leaf whose corner edge it closes against."""
        last_of_half = self.second and self.wall in (self.per_half - 1, self.geometry.walls - 1)
        if not (self.door or last_of_half):
            return ()
        x = self.width - doors.latch_from_free_edge
        return (Hole(self.hand.sign * x, head - doors.latch_below_head, doors.latch_hole, "latch"),)

    def roof_leaf(self) -> Leaf:
        ring = self.geometry
        short = self.width * ring.tip_trim / ring.slant
        rough, _ = _handed([(0, 0), (self.width, 0), (0, ring.slant)], ("eave", "hip", "mid"), self.hand)
        trimmed, edges = _handed(
            [(0, 0), (self.width, 0), (short, ring.mid_trimmed), (0, ring.mid_trimmed)],
            ROOF_EDGES, self.hand)
        return Leaf(
            mark=f"{self.mark}R", kind=LeafKind.ROOF, half=self.half, hand=self.hand, door=False,
            outline=trimmed, hinged=trimmed, rough=rough, edges=edges,
            thickness=ring.thickness, marked_face=self.marked_face,
            open_pose=self._pose(ring.wall_height, 90.0 - ring.slope),
        )


def _handed(points: list[Point], edges: tuple[str, ...], hand: Hand) -> tuple[tuple[Point, ...], tuple[str, ...]]:
    """Outline and edge names of a leaf given as mid left, counter-clockwise; mirrored for mid right."""
    if hand is Hand.MID_LEFT:
        return tuple((float(x), float(y)) for x, y in points), edges
    mirrored = tuple((-float(x), float(y)) for x, y in reversed(points))
    # Reversing the points of a closed outline turns edge i into edge k - 2 - i.
    return mirrored, tuple(reversed(edges[:-1])) + edges[-1:]


def _upward(leaf: Leaf, edge: str) -> tuple[Point, Point]:
    """The edge's ends, lower or nearer the mid edge first, so that two leaves' edges match end to end."""
    start, stop = leaf.edge(edge)
    lower_first = start[1] < stop[1] if abs(start[1] - stop[1]) > 1e-9 else abs(start[0]) < abs(stop[0])
    return (start, stop) if lower_first else (stop, start)


def _seams(ring: RingGeometry, walls: list[Leaf], roofs: list[Leaf], releasable: bool) -> tuple[Seam, ...]:
    count = len(walls)
    seams: list[Seam] = []

    def join(kind: SeamKind, a: Leaf, b: Leaf, edges: tuple[str, str], closing: Face,
             angles: tuple[float, float], bonded: bool = True, removable: bool = False) -> None:
        seams.append(Seam(f"{a.mark}/{b.mark}", kind, (a.mark, b.mark), _upward(a, edges[0]),
                          _upward(b, edges[1]), closing, *angles, bonded, removable))

    for kind, corner_kind, leaves in ((SeamKind.WALL_MID, SeamKind.CORNER, walls),
                                      (SeamKind.GORE_MID, SeamKind.HIP, roofs)):
        edge, angle_at = (("corner", ring.angle_corner_at) if kind is SeamKind.WALL_MID
                          else ("hip", ring.angle_hip_at))
        for i in range(0, count, 2):
            first, second, following = leaves[i], leaves[i + 1], leaves[(i + 2) % count]
            # The last wall of each half stays in one plane and bridges the two columns of the pack.
            bridge = second.half != following.half and not releasable
            join(kind, first, second, ("mid", "mid"), Face.OUTER, (180.0, 180.0 if bridge else 0.0))
            free = first.kind is LeafKind.WALL and (second.door or following.door)
            comes_apart = releasable and i == count - 2 and not free
            join(corner_kind, second, following, (edge, edge), Face.INNER, (angle_at(i // 2), 0.0),
                 bonded=not (free or comes_apart), removable=comes_apart)
    for wall, roof in zip(walls, roofs, strict=True):
        join(SeamKind.EAVE, wall, roof, ("eave", "eave"), Face.INNER, (ring.angle_eave, 180.0),
             bonded=not wall.door)
    return tuple(seams)
