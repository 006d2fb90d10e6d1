"""From pack to open in pictures: where every board stands on the way.

Leaves joined in a tree, or in loops that stay closed while all hinges turn evenly, are rigid all the way. A ring
with a roof is shown in two steps: the pack turns like the pages of a book until its pages stand evenly round the
mid lines (rigid), then all corners open together. In the second step no rigid state is known: the roof is drawn
up to the axis, its hips longer or shorter than they are, and `apart` tells by how much. Self-contact is not
checked. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from packet.assembly.pack import Pack
from packet.assembly.records import Assembly, Leaf, LeafKind, Point3, Seam, SeamKind
from packet.assembly.standing import stand
from packet.assembly.vectors import cross, minus, unit
from packet.description.terms import Face

FLAT = 180.0


@dataclass(frozen=True, slots=True)
class Plate:
    """A board in space: the outline of one of its faces, and the unit direction from it into the board."""

    mark: str
    outline: tuple[Point3, ...]
    into: Point3
    thickness: float


@dataclass(frozen=True, slots=True)
class State:
    """One picture. `apart`: the most by which two edges that are joined would part or overlap, mm."""

    plates: tuple[Plate, ...]
    apart: float


def opening_states(assembly: Assembly, between: int = 6) -> tuple[State, ...]:
    """The pack standing on its sill, so many states between, and the open shelter."""
    steps = between + 1
    if not any(seam.kind is SeamKind.EAVE for seam in assembly.seams):
        return tuple(_even(assembly, step / steps) for step in range(steps + 1))
    turning = steps // 2
    return (*(_pages(assembly, step / turning) for step in range(turning + 1)),
            *(_corners_open(assembly, step / (steps - turning)) for step in range(1, steps - turning + 1)))


def pack_plates(assembly: Assembly, packed: Pack) -> tuple[Plate, ...]:
    """The pack lying on the ground, layer upon layer."""
    plates = []
    for leaf in assembly.leaves:
        flat = packed.flats[leaf.mark]
        level = (flat.layer - 1) * leaf.thickness
        points = [flat.place(point) for point in leaf.outline]
        plates.append(Plate(leaf.mark, tuple((x, y, level) for x, y in points), (0.0, 0.0, 1.0), leaf.thickness))
    return tuple(plates)


def standing_plates(leaves: Iterable[Leaf]) -> tuple[Plate, ...]:
    """The leaves in their open poses, drawn from their marked faces."""
    return tuple(Plate(leaf.mark, tuple(leaf.open_pose.place(p) for p in leaf.outline),
                       (-leaf.open_pose.z[0], -leaf.open_pose.z[1], -leaf.open_pose.z[2]), leaf.thickness)
                 for leaf in leaves)


def _even(assembly: Assembly, fraction: float) -> State:
    """Every hinge the same part of its way from packed (0) to open (1)."""
    seams = _turned(assembly.seams, lambda s: s.angle_packed + fraction * (s.angle_open - s.angle_packed))
    leaves = stand(assembly.leaves, seams, assembly.leaves[0].open_pose)
    by_mark = {leaf.mark: leaf for leaf in leaves}
    gaps = [math.dist(_at(by_mark[s.leaves[0]], a, s.closing_face), _at(by_mark[s.leaves[1]], b, s.closing_face))
            for s in seams if s.bonded for a, b in zip(s.edge_a, s.edge_b, strict=True)]
    return State(standing_plates(leaves), max(gaps, default=0.0))


def _pages(assembly: Assembly, fraction: float) -> State:
    """Corners shut and eaves straight: mid seams turn from packed (0) until the pages stand evenly (1)."""
    even = 360.0 / len(_mids(assembly))

    def angle(seam: Seam) -> float:
        return seam.angle_packed + fraction * (even - seam.angle_packed) if seam.kind is SeamKind.WALL_MID \
            else seam.angle_packed

    tree = (*_chain(assembly), *(s for s in assembly.seams if s.kind is SeamKind.EAVE))
    leaves = stand(assembly.leaves, _turned(tree, angle), assembly.leaves[0].open_pose)
    by_mark = {leaf.mark: leaf for leaf in leaves}
    last = [s for s in assembly.seams if s.bonded and s.kind in (SeamKind.HIP, SeamKind.GORE_MID, SeamKind.CORNER)]
    gaps = [math.dist(_at(by_mark[s.leaves[0]], a, s.closing_face), _at(by_mark[s.leaves[1]], b, s.closing_face))
            for s in last for a, b in zip(s.edge_a, s.edge_b, strict=True)]
    return State(standing_plates(leaves), max(gaps, default=0.0))


def _corners_open(assembly: Assembly, fraction: float) -> State:
    """All corners opened by that part; the mid seams follow, so that the walls stay a closed ring."""
    even = 360.0 / len(_mids(assembly))

    def angle(seam: Seam) -> float:
        corner = fraction * (FLAT - even)
        return corner + even if seam.kind is SeamKind.WALL_MID else corner

    standing = stand(assembly.of_kind(LeafKind.WALL), _turned(_chain(assembly), angle), assembly.leaves[0].open_pose)
    walls = {leaf.mark: leaf for leaf in standing}
    feet = [_at(wall, wall.edge("corner")[0], Face.INNER) for wall in standing]
    axis = (sum(p[0] for p in feet) / len(feet), sum(p[1] for p in feet) / len(feet))
    roofs = [_drawn_up(walls[s.leaves[0]], assembly.by_mark[s.leaves[1]], s, axis)
             for s in assembly.seams if s.kind is SeamKind.EAVE]
    return State((*standing_plates(standing), *(plate for plate, _ in roofs)), max(abs(gap) for _, gap in roofs))


def _drawn_up(wall: Leaf, roof: Leaf, eave: Seam, axis: tuple[float, float]) -> tuple[Plate, float]:
    """The roof leaf with its eave on the wall and its untrimmed tip on the axis, the mid edge at its true length;
    and how much longer than the true one its hip would be, mm."""
    near, far = (_at(wall, point, Face.INNER) for point in sorted(eave.edge_a, key=lambda point: abs(point[0])))
    kept = 1.0 - math.dist(*roof.edge("tip")) / eave.length
    mid, hip = (math.dist(*roof.edge(name)) / kept for name in ("mid", "hip"))
    reach = math.hypot(near[0] - axis[0], near[1] - axis[1])
    tip = (axis[0], axis[1], near[2] + math.sqrt(max(mid**2 - reach**2, 0.0)))
    upper_near, upper_far = (_between(foot, tip, kept) for foot in (near, far))
    outline = (near, far, upper_far, upper_near)
    normal = unit(cross(minus(far, near), minus(tip, near)))
    outward = minus(_at(wall, (0.0, 0.0), Face.OUTER), _at(wall, (0.0, 0.0), Face.INNER))
    if normal[0] * outward[0] + normal[1] * outward[1] + normal[2] * wall.thickness < 0:
        normal = (-normal[0], -normal[1], -normal[2])
    return Plate(roof.mark, outline, normal, roof.thickness), math.dist(far, tip) - hip


def _mids(assembly: Assembly) -> tuple[Seam, ...]:
    return tuple(seam for seam in assembly.seams if seam.kind is SeamKind.WALL_MID)


def _chain(assembly: Assembly) -> tuple[Seam, ...]:
    """The wall seams from the first wall leaf round to the last, without the one that would close the ring."""
    walls = assembly.of_kind(LeafKind.WALL)
    place = {leaf.mark: index for index, leaf in enumerate(walls)}
    return tuple(s for s in assembly.seams if s.kind in (SeamKind.WALL_MID, SeamKind.CORNER)
                 and place[s.leaves[1]] == place[s.leaves[0]] + 1)


def _turned(seams: Iterable[Seam], angle: Callable[[Seam], float]) -> tuple[Seam, ...]:
    return tuple(replace(seam, angle_open=angle(seam)) for seam in seams)


def _at(leaf: Leaf, point: tuple[float, float], face: Face) -> Point3:
    return leaf.open_pose.place(point, leaf.depth(face))


def _between(a: Point3, b: Point3, part: float) -> Point3:
    return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]), a[2] + part * (b[2] - a[2]))
