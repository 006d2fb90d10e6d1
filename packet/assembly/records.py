"""The assembly graph: leaves, seams and where each leaf stands when the shelter is open.

Every preset fills these records and nothing after the presets knows which preset it was.

A leaf is drawn in its own frame, *seen on its marked face* (the printed face, where people draw and
write): origin at the eave or sill corner on the mid edge, x along the eave or sill, y away from it.
A leaf whose mid edge is its left edge runs towards +x, one whose mid edge is its right edge towards
-x, so the outline itself carries the hand. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from packet.description.terms import Face

Point = tuple[float, float]
Point3 = tuple[float, float, float]


class LeafKind(StrEnum):
    WALL = "wall"
    ROOF = "roof"


class Hand(StrEnum):
    """Side of the mid edge, seen on the marked face with the eave or sill below."""

    MID_LEFT = "mid left"
    MID_RIGHT = "mid right"

    @property
    def sign(self) -> int:
        """+1 where the leaf runs towards +x of its own frame, -1 towards -x."""
        return 1 if self is Hand.MID_LEFT else -1

    @property
    def other(self) -> Hand:
        return Hand.MID_RIGHT if self is Hand.MID_LEFT else Hand.MID_LEFT


class SeamKind(StrEnum):
    WALL_MID = "wall mid"
    GORE_MID = "gore mid"
    CORNER = "corner"
    HIP = "hip"
    EAVE = "eave"
    SEAM = "seam"


@dataclass(frozen=True, slots=True)
class Pose:
    """A rigid motion from a leaf's frame to the shelter's: p -> rotation p + origin.

    `rotation` holds the three world directions of the leaf's x, y and z axis; z points out of the
    marked face. The shelter's frame: origin on the ground at the centre, z up, mm.
    """

    x: Point3
    y: Point3
    z: Point3
    origin: Point3

    def place(self, point: Point, depth: float = 0.0) -> Point3:
        """World position of a point of the marked face, or `depth` mm behind it in the board."""
        px, py = point
        return (
            self.origin[0] + px * self.x[0] + py * self.y[0] - depth * self.z[0],
            self.origin[1] + px * self.x[1] + py * self.y[1] - depth * self.z[1],
            self.origin[2] + px * self.x[2] + py * self.y[2] - depth * self.z[2],
        )


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole: centre in the leaf's frame, diameter, what passes through it (mm)."""

    x: float
    y: float
    diameter: float
    purpose: str


@dataclass(frozen=True, slots=True)
class Opening:
    """An opening cut through a leaf: centre in the leaf's frame, width along x and height along y, mm.

    A round one has its diameter for both. `kind` is the word of the trade for it.
    """

    kind: str
    x: float
    y: float
    width: float
    height: float
    round: bool

    @property
    def area(self) -> float:
        """mm2"""
        return math.pi * self.width**2 / 4 if self.round else self.width * self.height

    @property
    def perimeter(self) -> float:
        """mm"""
        return math.pi * self.width if self.round else 2 * (self.width + self.height)


@dataclass(frozen=True, slots=True)
class Splice:
    """A straight line on which two parts of one leaf are butted and taped on both faces, so that they stay one rigid
    piece: from edge to edge of the hinged outline, in the leaf's frame, mm. `parts` are their marks."""

    a: Point
    b: Point
    parts: tuple[str, str]

    @property
    def length(self) -> float:
        """mm"""
        return math.dist(self.a, self.b)

    @property
    def mark(self) -> str:
        return "/".join(self.parts)


@dataclass(frozen=True, slots=True)
class Leaf:
    """One rigid piece.

    `hinged` is the outline while it is being hinged; `outline` the finished one (a door loses its
    bottom trim after hinging). `edges[i]` names the edge from point i to point i + 1 of `hinged`.
    `rough` is the outline before any trim, as it is snapped on the board.
    """

    mark: str
    kind: LeafKind
    half: str
    hand: Hand
    door: bool
    outline: tuple[Point, ...]
    hinged: tuple[Point, ...]
    rough: tuple[Point, ...]
    edges: tuple[str, ...]
    thickness: float
    marked_face: Face
    open_pose: Pose
    holes: tuple[Hole, ...] = ()
    openings: tuple[Opening, ...] = ()
    splices: tuple[Splice, ...] = ()

    def edge(self, name: str) -> tuple[Point, Point]:
        """The two ends of the hinged outline's edge of that name, in the outline's order."""
        index = self.edges.index(name)
        return self.hinged[index], self.hinged[(index + 1) % len(self.hinged)]

    def depth(self, face: Face) -> float:
        """How far behind the marked face the given face lies, mm."""
        return 0.0 if face is self.marked_face else self.thickness


@dataclass(frozen=True, slots=True)
class Seam:
    """A line along which two leaves meet, edge to edge.

    `edge_a` and `edge_b` are the same segment in the frames of the two leaves, start to start.
    Angles are between the two boards: 0 folded shut, 180 in one plane. `closing_face` is the face
    pair that meets when the hinge folds; the pivot lies on it. An unbonded seam only touches; a removable one is
    closed with a strip that comes off.
    """

    mark: str
    kind: SeamKind
    leaves: tuple[str, str]
    edge_a: tuple[Point, Point]
    edge_b: tuple[Point, Point]
    closing_face: Face
    angle_open: float
    angle_packed: float
    bonded: bool
    removable: bool = False

    @property
    def length(self) -> float:
        """Length of the seam in mm."""
        return math.dist(*self.edge_a)

    @property
    def opening_face(self) -> Face:
        return self.closing_face.other

    @property
    def turn(self) -> float:
        """How far the hinge is from flat when the shelter is open, degrees."""
        return 180.0 - self.angle_open


@dataclass(frozen=True)
class Assembly:
    """The whole graph. `halves` are the strips that are built apart and then joined."""

    leaves: tuple[Leaf, ...]
    seams: tuple[Seam, ...]
    halves: tuple[str, ...]
    thickness: float

    @cached_property
    def by_mark(self) -> dict[str, Leaf]:
        return {leaf.mark: leaf for leaf in self.leaves}

    @cached_property
    def seam_by_mark(self) -> dict[str, Seam]:
        return {seam.mark: seam for seam in self.seams}

    def of_kind(self, kind: LeafKind) -> tuple[Leaf, ...]:
        return tuple(leaf for leaf in self.leaves if leaf.kind is kind)

    def bonded(self, *kinds: SeamKind) -> tuple[Seam, ...]:
        """Bonded seams, of the given kinds or of all."""
        return tuple(s for s in self.seams if s.bonded and (not kinds or s.kind in kinds))

    def seams_of(self, mark: str) -> Iterator[Seam]:
        """Every seam that touches the leaf."""
        return (seam for seam in self.seams if mark in seam.leaves)

    @cached_property
    def doors(self) -> tuple[Leaf, ...]:
        """Leaves that swing free at corner and eave."""
        return tuple(leaf for leaf in self.leaves if leaf.door)

    def jamb_of(self, door: Leaf) -> Leaf:
        """The wall leaf that the door's free upright edge closes against."""
        seam = next(s for s in self.seams_of(door.mark) if s.kind is SeamKind.CORNER)
        other = seam.leaves[0] if seam.leaves[1] == door.mark else seam.leaves[1]
        return self.by_mark[other]

    def above(self, wall: Leaf) -> Leaf:
        """The roof leaf over a wall leaf."""
        seam = next(s for s in self.seams_of(wall.mark) if s.kind is SeamKind.EAVE)
        return self.by_mark[seam.leaves[1]]


def polygon_area(points: Iterable[Point]) -> float:
    """Signed area in mm2 (positive counter-clockwise), by the shoelace formula."""
    ring = list(points)
    return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def overall(assembly: Assembly) -> Point3:
    """Width (x), depth (y) and height (z) over all of the open shelter, mm."""
    corners = [leaf.open_pose.place(p, depth) for leaf in assembly.leaves for p in leaf.outline
               for depth in (0.0, leaf.thickness)]
    spans = [max(c[i] for c in corners) - min(c[i] for c in corners) for i in range(3)]
    return (spans[0], spans[1], spans[2])


def seam_gap(thickness: float, angle_open: float) -> float:
    """Width of the V on the opening face of an open hinge: 2 t sin(turn / 2), mm.

    The chord between two board edges that share a pivot on the other face (hinge law, common practice;
    the isosceles triangle of two legs t with the turn between them).
    """
    return 2.0 * thickness * math.sin(math.radians(180.0 - angle_open) / 2.0)
