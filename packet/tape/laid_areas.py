"""What a strip covers: an area on each of its leaves, and the board edges it passes over in between.

Areas lie in the frame of their leaf and may reach past its outline, as tape does before it is trimmed: a strip is
straight and square at its ends, whatever the corners of the leaf. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from packet.assembly.records import Assembly, Leaf, Point, Seam
from packet.description.terms import Face
from packet.tape.strips import Role, Strip, ground_edge

Pull = tuple[Role, str, str]
"""Role, what is covered (`sill` or the role under foil) and name: stretches of one pull agree in all."""


@dataclass(frozen=True, slots=True)
class Area:
    """Tape on one face of a leaf; `reach` is how far it goes from the edge that it is laid along (mm)."""

    leaf: Leaf
    face: Face
    polygon: tuple[Point, ...]
    reach: float


@dataclass(frozen=True, slots=True)
class LaidStrip:
    """A stretch of tape over one seam, or round the edge of one leaf. `edges` is the width of board edge between the
    first area and the second. `pull` is the same for stretches laid in one go."""

    strip: Strip
    areas: tuple[Area, ...]
    edges: float
    pull: Pull | None


def laid_areas(assembly: Assembly, strip: Strip, laid: tuple[Strip, ...]) -> Iterator[LaidStrip]:
    """The stretches of a strip in order; `laid` are all strips, where that under a foil is looked up.

    The edge of an opening has no stretch: it stays inside its leaf.
    """
    base = strip
    if strip.role is Role.FOIL:
        under = strip.mark.removeprefix("foil over ")
        base = next(each for each in laid if each.mark == under)
    pull: Pull | None = (strip.role, str(base.role), strip.pull) if strip.pull else None
    if base.role is Role.PATCH:
        seam = assembly.seam_by_mark[(base.edge or "").removeprefix("corner ")]
        reach = _laid_width(strip) / 2
        yield LaidStrip(strip, tuple(_square(assembly.by_mark[mark], strip.faces[0], seam, assembly, reach)
                                     for mark in base.leaves), 0.0, None)
    elif base.seam:
        seam = assembly.seam_by_mark[base.seam]
        edges = 2 * assembly.thickness if base.faces[0] is seam.opening_face else 0.0
        reach = (_laid_width(strip) - edges) / 2
        yield LaidStrip(strip, tuple(_beside(assembly.by_mark[mark], strip.faces[0], edge, reach)
                                     for mark, edge in zip(seam.leaves, (seam.edge_a, seam.edge_b), strict=True)),
                        edges, pull)
    else:
        reach = (_laid_width(strip) - assembly.thickness) / 2
        for leaf in (assembly.by_mark[mark] for mark in base.leaves):
            name = ground_edge(leaf) if base.role is Role.SILL else (base.edge or "").removeprefix(f"{leaf.mark} ")
            if name in leaf.edges:
                yield LaidStrip(strip, tuple(_beside(leaf, face, leaf.edge(name), reach) for face in strip.faces),
                                assembly.thickness, pull)


def _laid_width(strip: Strip) -> float:
    """All the rolls side by side, mm; those are laid whole."""
    return sum(strip.tapes) - strip.overlap * (len(strip.tapes) - 1)


def _beside(leaf: Leaf, face: Face, edge: tuple[Point, Point], reach: float) -> Area:
    """Along an edge of the leaf, on its own side of the edge."""
    (x0, y0), (x1, y1) = edge
    nx, ny = (y0 - y1) / math.dist(*edge), (x1 - x0) / math.dist(*edge)
    inward = sum((x - x0) * nx + (y - y0) * ny for x, y in leaf.hinged)
    off = math.copysign(reach, inward)
    return Area(leaf, face, (edge[0], edge[1], (x1 + off * nx, y1 + off * ny), (x0 + off * nx, y0 + off * ny)), reach)


def _square(leaf: Leaf, face: Face, seam: Seam, assembly: Assembly, reach: float) -> Area:
    """About the leaf's own corner at the head of a seam."""
    first = assembly.by_mark[seam.leaves[0]]
    head = max((first.open_pose.place(p, first.depth(seam.closing_face)) for p in seam.edge_a), key=lambda p: p[2])
    x, y = min(leaf.hinged, key=lambda p: math.dist(leaf.open_pose.place(p, leaf.depth(seam.closing_face)), head))
    return Area(leaf, face, ((x - reach, y - reach), (x + reach, y - reach), (x + reach, y + reach),
                             (x - reach, y + reach)), reach)
