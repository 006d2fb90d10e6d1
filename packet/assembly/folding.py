"""A half on its way from flat to folded, as a horizontal section through its wall leaves.

Every leaf is a rectangle of its real thickness; every hinge turns about its pivot, a point of the closing
face. The view is that of somebody at the sill end of a half that lies on its last wall, inner face up, as it
lies in the pack: x runs to the right, y up from the table. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

from packet.assembly.pack import Pack
from packet.assembly.records import Assembly, Leaf, LeafKind, Point, Seam, SeamKind
from packet.description.terms import Face

FLAT = 180.0

_STRAIGHT = 1e-6
"""mm by which an upright edge may lean."""


@dataclass(frozen=True, slots=True)
class Section:
    """Wall leaves cut across: corners of each leaf by mark, and the pivot of each seam that joins two of them.

    `leaves` run counter-clockwise from the end of the inner face at the mid edge.
    """

    leaves: dict[str, tuple[Point, ...]]
    pivots: dict[str, Point]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top, mm."""
        points = [point for corners in self.leaves.values() for point in corners]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def centre(self, mark: str) -> Point:
        """Middle of a leaf's section, mm."""
        corners = self.leaves[mark]
        return (sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners))

    def turned_half(self) -> Section:
        """The same section turned half a turn in its plane (never mirrored), standing on the table again."""
        left, bottom, right, top = self.bounds

        def turned(point: Point) -> Point:
            return (left + right - point[0], bottom + top - point[1])

        return Section({mark: tuple(turned(p) for p in corners) for mark, corners in self.leaves.items()},
                       {seam: turned(p) for seam, p in self.pivots.items()})


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a leaf's frame stands in the section: origin on the marked face, x axis at `angle` degrees.

    Seen from the sill end the marked face looks to the left of the x axis.
    """

    origin: Point
    angle: float

    def place(self, x: float, depth: float) -> Point:
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        return (self.origin[0] + x * c + depth * s, self.origin[1] + x * s - depth * c)


def thickened(assembly: Assembly, thickness: float) -> Assembly:
    """The same leaves and seams with boards of another thickness, mm: for pictures of folds, in which boards
    at true thickness would be too thin to letter."""
    return replace(assembly, thickness=thickness,
                   leaves=tuple(replace(leaf, thickness=thickness) for leaf in assembly.leaves))


def section_state(assembly: Assembly, half: str, fraction: float, *, opened: bool = False) -> Section:
    """A half's wall leaves with every hinge `fraction` of the way from packed (0) to flat (1).

    With `opened`, 1 is the angle of the erected shelter instead. A seam that stays flat in the pack stays
    flat all the way. Raises ValueError for a fraction outside 0 to 1.
    """
    if not 0.0 <= fraction <= 1.0:
        raise ValueError(f"fraction {fraction} is not between 0 (packed) and 1 (flat or open)")

    def angle(seam: Seam) -> float:
        full = seam.angle_open if opened else FLAT
        return seam.angle_packed + fraction * (full - seam.angle_packed)

    return _chain(assembly, half, angle)


def chain(assembly: Assembly) -> tuple[str, ...]:
    """Marks of all leaves in a row, where they are joined end to end along upright edges and a cut across tells
    all about the fold; otherwise empty."""
    next_to: dict[str, list[str]] = {leaf.mark: [] for leaf in assembly.leaves}
    for seam in assembly.bonded():
        if not _upright(seam):
            return ()
        a, b = seam.leaves
        next_to[a].append(b)
        next_to[b].append(a)
    ends = [mark for mark, others in next_to.items() if len(others) == 1]
    if len(ends) != 2 or any(len(others) > 2 for others in next_to.values()):
        return ()
    row = [ends[0]]
    while row[-1] != ends[1]:
        row.append(next(mark for mark in next_to[row[-1]] if mark not in row[-2:]))
    return tuple(row) if len(row) == len(next_to) else ()


def chain_state(assembly: Assembly, packed: Pack, fraction: float) -> Section:
    """A row of leaves on the lowest leaf of its pack, every hinge `fraction` of the way from packed (0) to flat (1)."""
    if not 0.0 <= fraction <= 1.0:
        raise ValueError(f"fraction {fraction} is not between 0 (packed) and 1 (flat)")
    row = chain(assembly)
    base = assembly.by_mark[min(row, key=lambda mark: packed.flats[mark].layer)]
    return _placed(assembly, row, base, packed.flats[base.mark].face_up,
                   lambda seam: seam.angle_packed + fraction * (FLAT - seam.angle_packed))


def _upright(seam: Seam) -> bool:
    """Whether the seam runs along y in the frames of both leaves, the same way."""
    runs = [(stop[0] - start[0], stop[1] - start[1]) for start, stop in (seam.edge_a, seam.edge_b)]
    return all(abs(dx) < _STRAIGHT for dx, _ in runs) and runs[0][1] * runs[1][1] > 0


def pack_section(assembly: Assembly, packed: Pack) -> Section:
    """The wall leaves of the whole pack seen from the sill end, layer upon layer, centre line at x = 0."""
    thickness = assembly.thickness
    middle = _centre_line(assembly, packed)
    leaves: dict[str, tuple[Point, ...]] = {}
    for leaf in assembly.of_kind(LeafKind.WALL):
        flat = packed.flats[leaf.mark]
        xs = [flat.place(point)[0] - middle for point in leaf.hinged]
        low, left, right = (flat.layer - 1) * thickness, min(xs), max(xs)
        leaves[leaf.mark] = ((left, low), (right, low), (right, low + thickness), (left, low + thickness))
    pivots: dict[str, Point] = {}
    for seam in assembly.bonded(SeamKind.WALL_MID, SeamKind.CORNER):
        flat = packed.flats[seam.leaves[0]]
        leaf = assembly.by_mark[seam.leaves[0]]
        closing_up = (seam.closing_face is leaf.marked_face) == flat.face_up
        height = (flat.layer if closing_up else flat.layer - 1) * thickness
        pivots[seam.mark] = (flat.place(seam.edge_a[0])[0] - middle, height)
    return Section(leaves, pivots)


def _centre_line(assembly: Assembly, packed: Pack) -> float:
    """x of the mid seams in the pack's plane: they all lie on one line."""
    seam = assembly.bonded(SeamKind.WALL_MID)[0]
    return packed.flats[seam.leaves[0]].place(seam.edge_a[0])[0]


def _chain(assembly: Assembly, half: str, angle: Callable[[Seam], float]) -> Section:
    """Place the half's wall leaves one after another from its last leaf, which lies on the table, inner face up."""
    walls = [leaf for leaf in assembly.of_kind(LeafKind.WALL) if leaf.half == half]
    last = walls[-1]
    return _placed(assembly, tuple(leaf.mark for leaf in walls), last, last.marked_face is Face.INNER, angle)


def _placed(assembly: Assembly, row: tuple[str, ...], base: Leaf, face_up: bool,
            angle: Callable[[Seam], float]) -> Section:
    """The row's leaves, each beside the one before, both ways from the base, which lies on the table."""
    frames = {base.mark: _Frame((0.0, base.thickness if face_up else 0.0), 0.0 if face_up else FLAT)}
    pivots: dict[str, Point] = {}
    place = row.index(base.mark)
    for run in (row[place::-1], row[place:]):
        for known, new in pairwise(assembly.by_mark[mark] for mark in run):
            seam = next(s for s in assembly.seams_of(known.mark) if s.bonded and new.mark in s.leaves)
            frames[new.mark], pivots[seam.mark] = _across(seam, known, new, frames[known.mark], angle(seam))
    return Section({mark: _corners(assembly.by_mark[mark], frames[mark]) for mark in row}, pivots)


def _across(seam: Seam, known: Leaf, new: Leaf, frame: _Frame, angle: float) -> tuple[_Frame, Point]:
    """Frame of the leaf across a hinge, and the hinge's pivot."""
    here, there = (seam.edge_a, seam.edge_b) if seam.leaves[0] == known.mark else (seam.edge_b, seam.edge_a)
    depth = known.depth(seam.closing_face)
    pivot = frame.place(here[0][0], depth)
    left, right = _extent(new)
    side = 1 if (left + right) / 2 > there[0][0] else -1
    # The far end of the new leaf swings to the side that its closing face looks to.
    sense = side if seam.closing_face is new.marked_face else -side
    turned = _Frame((0.0, 0.0), frame.angle + sense * (FLAT - angle))
    foot = turned.place(there[0][0], new.depth(seam.closing_face))
    return _Frame((pivot[0] - foot[0], pivot[1] - foot[1]), turned.angle), pivot


def _extent(leaf: Leaf) -> tuple[float, float]:
    xs = [x for x, _ in leaf.hinged]
    return min(xs), max(xs)


def _corners(leaf: Leaf, frame: _Frame) -> tuple[Point, ...]:
    left, right = _extent(leaf)
    near, far = (left, right) if leaf.hand.sign > 0 else (right, left)
    inner, outer = leaf.depth(Face.INNER), leaf.depth(Face.OUTER)
    ring = (frame.place(near, inner), frame.place(near, outer), frame.place(far, outer), frame.place(far, inner))
    doubled = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    return ring if doubled > 0 else (ring[0], *reversed(ring[1:]))
