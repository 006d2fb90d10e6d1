"""Check: do the angles around each point where seams meet allow it to fold flat?

Kawasaki's theorem in its alternating form: sector angles around a flat-folding vertex satisfy
a1 - a2 + a3 - ... = 0. In this form it also holds where the sectors do not add up to 360 degrees (a cone).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import Assembly, Point, Point3
from packet.description.terms import Face

TOGETHER = 0.5
"""mm within which corners of leaves count as one vertex."""

ALTERNATES = 1e-6
"""Degrees by which the alternating sums may differ."""


@dataclass(frozen=True, slots=True)
class Vertex:
    """A point inside the shell where leaves meet all round.

    `leaves` go round the vertex, each sharing a seam with the next; `sectors` are their angles in degrees.
    `bonded` tells whether all those seams are.
    """

    leaves: tuple[str, ...]
    sectors: tuple[float, ...]
    bonded: bool

    @property
    def sums(self) -> tuple[float, float]:
        """Sum of every other sector, degrees, and of the rest."""
        return sum(self.sectors[::2]), sum(self.sectors[1::2])

    @property
    def alternating(self) -> float:
        """a1 - a2 + a3 - ..., degrees; zero where the vertex folds flat."""
        even, odd = self.sums
        return even - odd

    @property
    def folds_flat(self) -> bool:
        return len(self.sectors) % 2 == 0 and abs(self.alternating) <= ALTERNATES


def vertices(assembly: Assembly) -> tuple[Vertex, ...]:
    """Every interior vertex of the open shell; points at a sill or at the peak opening are not interior."""
    corners: dict[tuple[int, ...], list[tuple[str, int]]] = {}
    for leaf in assembly.leaves:
        for index, point in enumerate(leaf.hinged):
            at = leaf.open_pose.place(point, leaf.depth(Face.INNER))
            corners.setdefault(_cell(at, corners), []).append((leaf.mark, index))
    found = []
    for members in corners.values():
        around = _round_trip(assembly, dict(members))
        if around is not None:
            indices = dict(members)
            found.append(Vertex(around[0], tuple(_sector(assembly, m, indices[m]) for m in around[0]), around[1]))
    return tuple(found)


def _cell(at: Point3, known: dict[tuple[int, ...], list[tuple[str, int]]]) -> tuple[int, ...]:
    """Key of the vertex at that place, the same for all corners within TOGETHER."""
    base = tuple(round(c / TOGETHER) for c in at)
    for dx in (0, -1, 1):
        for dy in (0, -1, 1):
            for dz in (0, -1, 1):
                key = (base[0] + dx, base[1] + dy, base[2] + dz)
                if key in known:
                    return key
    return base


def _round_trip(assembly: Assembly, corner: dict[str, int]) -> tuple[tuple[str, ...], bool] | None:
    """The leaves of a vertex in order round it, and whether all seams are bonded; None if there is no way round."""
    neighbours: dict[str, list[str]] = {mark: [] for mark in corner}
    bonded = True
    for seam in assembly.seams:
        a, b = seam.leaves
        if a in corner and b in corner and _ends_at(assembly, a, corner[a], seam.edge_a):
            neighbours[a].append(b)
            neighbours[b].append(a)
            bonded &= seam.bonded
    if len(corner) < 3 or any(len(n) != 2 for n in neighbours.values()):
        return None
    start = next(iter(corner))
    order, previous, here = [start], start, neighbours[start][0]
    while here != start:
        order.append(here)
        a, b = neighbours[here]
        previous, here = here, b if a == previous else a
    return (tuple(order), bonded) if len(order) == len(corner) else None


def _ends_at(assembly: Assembly, mark: str, index: int, edge: tuple[Point, Point]) -> bool:
    point = assembly.by_mark[mark].hinged[index]
    return min(math.dist(point, end) for end in edge) < TOGETHER


def _sector(assembly: Assembly, mark: str, index: int) -> float:
    """Inner angle of a leaf's outline at one of its corners, degrees."""
    points = assembly.by_mark[mark].hinged
    at, before, after = points[index], points[index - 1], points[(index + 1) % len(points)]
    a = math.atan2(before[1] - at[1], before[0] - at[0])
    b = math.atan2(after[1] - at[1], after[0] - at[0])
    return abs((math.degrees(a - b) + 180.0) % 360.0 - 180.0)
