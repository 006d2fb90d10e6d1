"""A half laid flat: its walls in a row, each roof leaf above its wall, wedges open between the gores.

Plane frame, mm: the walls' sill line on y = 0, the leftmost wall corner on x = 0, seen on the face asked for.
The row is found by walking the half's seams and laying edge on edge, so it holds for any leaves that a
half can have.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import Assembly, Leaf, LeafKind, Point, Seam, SeamKind
from packet.description.terms import Face

FOLDED_IN_PACK = SeamKind.HIP
"""Hips part when the half lies flat; they are bonded later, in the pack."""

APART = 1.0
"""mm from which two edges of a seam do not lie together; listed edges may differ by half of it in length."""


@dataclass(frozen=True, slots=True)
class LaidLeaf:
    """A leaf in the plane: `outline` while it is hinged, `finished` once it is trimmed, edges named as the leaf's."""

    mark: str
    kind: LeafKind
    door: bool
    outline: tuple[Point, ...]
    finished: tuple[Point, ...]
    edges: tuple[str, ...]

    def edge(self, name: str) -> tuple[Point, Point]:
        """The two ends of the edge of that name, in the outline's order."""
        index = self.edges.index(name)
        return self.outline[index], self.outline[(index + 1) % len(self.outline)]

    @property
    def base(self) -> tuple[Point, Point]:
        """The two ends of the lowest edge, from left to right."""
        sides = zip(self.outline, (*self.outline[1:], self.outline[0]), strict=True)
        a, b = min(sides, key=lambda side: side[0][1] + side[1][1])
        return (a, b) if a[0] < b[0] else (b, a)

    @property
    def centre(self) -> Point:
        """Mean of the outline's corners."""
        count = len(self.outline)
        return (sum(p[0] for p in self.outline) / count, sum(p[1] for p in self.outline) / count)


@dataclass(frozen=True, slots=True)
class _Motion:
    """p -> rotation p + shift, in the plane of the marked faces."""

    cos: float
    sin: float
    shift: Point

    def place(self, p: Point) -> Point:
        return (self.shift[0] + self.cos * p[0] - self.sin * p[1], self.shift[1] + self.sin * p[0] + self.cos * p[1])


def unfolded_half(assembly: Assembly, half: str, face: Face, band: float = 0.0) -> tuple[LaidLeaf, ...]:
    """Every leaf of a half, walls first, laid flat and seen on `face`.

    The other face is seen by walking round, so its picture is the mirror image. `band` parts the roof from
    the walls by so much: the board edges of an eave, for tape that lies over them.
    """
    return laid_flat(assembly, tuple(leaf.mark for leaf in assembly.leaves if leaf.half == half), face, band)


def laid_flat(assembly: Assembly, marks: tuple[str, ...], face: Face, band: float = 0.0) -> tuple[LaidLeaf, ...]:
    """The leaves of these marks, joined by seams between them, laid flat as by `unfolded_half`."""
    leaves = [assembly.by_mark[mark] for mark in marks]
    motions = _walk(assembly, set(marks), marks[0])
    mirror = 1.0 if face is leaves[0].marked_face else -1.0

    def placed(leaf: Leaf, points: tuple[Point, ...]) -> tuple[Point, ...]:
        rise = band if leaf.kind is LeafKind.ROOF else 0.0
        moved = [motions[leaf.mark].place(p) for p in points]
        return tuple((mirror * x, y + rise) for x, y in moved)

    laid = [
        LaidLeaf(leaf.mark, leaf.kind, leaf.door, placed(leaf, leaf.hinged), placed(leaf, leaf.outline), leaf.edges)
        for leaf in leaves
    ]
    left = min(p[0] for leaf in laid for p in leaf.outline)
    low = min(p[1] for leaf in laid for p in leaf.outline)
    return tuple(
        LaidLeaf(
            leaf.mark,
            leaf.kind,
            leaf.door,
            _shifted(leaf.outline, -left, -low),
            _shifted(leaf.finished, -left, -low),
            leaf.edges,
        )
        for leaf in laid
    )


def laid_pair(assembly: Assembly, seam: Seam, face: Face) -> tuple[tuple[Point, ...], tuple[Point, ...], tuple[Point, Point]]:
    """The two leaves of a seam edge to edge in one plane, seen on `face`, the first upright as in its own frame: their
    outlines while they are hinged, and the line of the seam, mm."""
    first, second = (assembly.by_mark[mark] for mark in seam.leaves)
    motion = _across(seam, first.mark, _Motion(1.0, 0.0, (0.0, 0.0)))
    sign = 1.0 if face is first.marked_face else -1.0

    def seen(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((sign * x, y) for x, y in points)

    a, b = seen(seam.edge_a)
    return seen(first.hinged), seen(tuple(motion.place(p) for p in second.hinged)), (a, b)


def parting(assembly: Assembly) -> frozenset[str]:
    """Marks of bonded seams within a half whose leaves lie apart when the half lies flat."""
    found: set[str] = set()
    for half in assembly.halves:
        marks = {leaf.mark for leaf in assembly.leaves if leaf.half == half}
        motions: dict[str, _Motion] = {}
        # Leaves that no seam joins to the first lie somewhere on their own.
        for leaf in assembly.leaves:
            if leaf.mark in marks and leaf.mark not in motions:
                motions |= _walk(assembly, marks, leaf.mark)
        for seam in assembly.bonded():
            if set(seam.leaves) <= marks:
                ends = zip(seam.edge_a, seam.edge_b, strict=True)
                a, b = (motions[mark] for mark in seam.leaves)
                if max(math.dist(a.place(p), b.place(q)) for p, q in ends) > APART:
                    found.add(seam.mark)
    return frozenset(found)


def _walk(assembly: Assembly, marks: set[str], start: str) -> dict[str, _Motion]:
    motions = {start: _Motion(1.0, 0.0, (0.0, 0.0))}
    queue = [start]
    while queue:
        mark = queue.pop(0)
        for seam in assembly.seams_of(mark):
            other = seam.leaves[1] if seam.leaves[0] == mark else seam.leaves[0]
            if seam.kind is not FOLDED_IN_PACK and other in marks and other not in motions:
                motions[other] = _across(seam, mark, motions[mark])
                queue.append(other)
    return motions


def _across(seam: Seam, mark: str, motion: _Motion) -> _Motion:
    """The neighbour's motion: its edge laid on this leaf's edge, both marked faces up."""
    here, there = (seam.edge_a, seam.edge_b) if seam.leaves[0] == mark else (seam.edge_b, seam.edge_a)
    p, q = motion.place(here[0]), motion.place(here[1])
    (x0, y0), (x1, y1) = there
    angle = math.atan2(q[1] - p[1], q[0] - p[0]) - math.atan2(y1 - y0, x1 - x0)
    cos, sin = math.cos(angle), math.sin(angle)
    return _Motion(cos, sin, (p[0] - cos * x0 + sin * y0, p[1] - sin * x0 - cos * y0))


def _shifted(points: tuple[Point, ...], dx: float, dy: float) -> tuple[Point, ...]:
    return tuple((x + dx, y + dy) for x, y in points)


def alike(assembly: Assembly) -> dict[str, tuple[str, ...]]:
    """Marks of every half by the mark of the first half they correspond to, in the order of the halves.

    Leaves correspond by their place in the half. Raises ValueError when the halves differ in number, size,
    hand or seams: then each half needs drawings of its own.
    """
    first, *others = assembly.halves
    rows = {half: [leaf for leaf in assembly.leaves if leaf.half == half] for half in assembly.halves}
    for half in others:
        if [_shape(leaf) for leaf in rows[half]] != [_shape(leaf) for leaf in rows[first]]:
            raise ValueError(f"halves {first} and {half} differ")
    return {leaf.mark: tuple(rows[half][i].mark for half in assembly.halves) for i, leaf in enumerate(rows[first])}


def _shape(leaf: Leaf) -> tuple[object, ...]:
    return (leaf.kind, leaf.hand, leaf.door, tuple((round(x, 6), round(y, 6)) for x, y in leaf.hinged))
