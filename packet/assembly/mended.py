"""The graph after decisions on spoiled parts: leaves trimmed to match.

A narrow leaf at a free edge changes no seam and no angle: the leaf keeps its place in the graph, and the gap stands on
the sheet of its decision.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from packet.assembly.records import Assembly, Leaf, LeafKind, Point, SeamKind
from packet.assembly.ring_geometry import RingGeometry
from packet.description.decided import Decision, Remedy


def corner_of(assembly: Assembly, mark: str) -> int:
    """The number of the ring's corner at the leaf's corner or hip, from 0. Raises LookupError where it has none."""
    kind = SeamKind.CORNER if assembly.by_mark[mark].kind is LeafKind.WALL else SeamKind.HIP
    corners = [seam for seam in assembly.seams if seam.kind is kind]
    found = next((number for number, seam in enumerate(corners) if mark in seam.leaves), None)
    if found is None:
        raise LookupError(f"leaf {mark} stands at no corner of a ring")
    return found


def trimmed_ring(ring: RingGeometry, assembly: Assembly, decided: Iterable[Decision]) -> RingGeometry:
    """The ring with what these decisions take off its leaves; `assembly` says which corner a leaf stands at."""
    for one in decided:
        if one.remedy is Remedy.PARTNER:
            corner = corner_of(assembly, one.leaf)
            widths = tuple(w - one.amount * (i == corner) for i, w in enumerate(ring.widths))
            ring = replace(ring, corner_widths=widths)
        elif one.remedy is Remedy.ALL and one.edge in ("corner", "hip"):
            ring = replace(ring, leaf_width=ring.leaf_width - one.amount,
                           corner_widths=tuple(width - one.amount for width in ring.corner_widths))
        elif one.remedy is Remedy.ALL:
            ring = replace(ring, wall_height=ring.wall_height - one.amount)
    return ring


def moved_in(leaf: Leaf, edge: str, by: float) -> Leaf:
    """The leaf with one edge of its outlines moved inward, mm; the ends slide along the neighbouring edges."""
    index = leaf.edges.index(edge)
    return replace(leaf, outline=edge_moved(leaf.outline, index, by), hinged=edge_moved(leaf.hinged, index, by))


def edge_moved(points: tuple[Point, ...], index: int, by: float) -> tuple[Point, ...]:
    """A counter-clockwise outline with edge `index` moved inward by `by` mm, parallel to itself."""
    count = len(points)
    a, b = points[index], points[(index + 1) % count]
    length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    normal = ((a[1] - b[1]) / length, (b[0] - a[0]) / length)
    before, after = points[index - 1], points[(index + 2) % count]

    def slid(end: Point, far: Point) -> Point:
        """The end moved along its other edge until it is `by` inward."""
        way = (far[0] - end[0], far[1] - end[1])
        share = by / (way[0] * normal[0] + way[1] * normal[1])
        return (end[0] + share * way[0], end[1] + share * way[1])

    moved = list(points)
    moved[index], moved[(index + 1) % count] = slid(a, before), slid(b, after)
    return tuple(moved)
