"""Leaves that are cut and taped alike: the same outline, hand, face, holes, openings and strips."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import Leaf, Point, Seam
from packet.plan import Plan
from packet.tape.strips import Role, Strip

NEAR = 0.5
"""mm by which an end of a seam may miss the end of the edge it lies on."""

_ON_EDGES = (Role.FLAT, Role.WRAP, Role.SILL, Role.SEAL)
"""Roles that a part card names by edge: foil covers them, patches and doublers come when the shelter stands."""


@dataclass(frozen=True, slots=True)
class EdgeTape:
    """What is laid along one edge: (role, faces, width in mm) in the order of the work."""

    edge: str
    strips: tuple[tuple[str, tuple[str, ...], float], ...]


@dataclass(frozen=True, slots=True)
class PartKind:
    """`leaf` stands for all of `marks`."""

    leaf: Leaf
    marks: tuple[str, ...]
    tape: tuple[EdgeTape, ...]


def part_kinds(plan: Plan) -> tuple[PartKind, ...]:
    """Every leaf in one kind, in the order of the leaves."""
    found: dict[object, list[Leaf]] = {}
    taped: dict[object, tuple[EdgeTape, ...]] = {}
    for leaf in plan.assembly.leaves:
        tape = edge_tape(plan, leaf)
        key = (leaf.kind, leaf.hand, leaf.door, leaf.marked_face, _rounded(leaf.outline), _rounded(leaf.rough), tape,
               tuple((round(h.x, 3), round(h.y, 3), round(h.diameter, 3)) for h in leaf.holes), leaf.openings,
               tuple((_rounded((one.a, one.b))) for one in leaf.splices))
        found.setdefault(key, []).append(leaf)
        taped[key] = tape
    return tuple(PartKind(leaves[0], tuple(leaf.mark for leaf in leaves), taped[key]) for key, leaves in found.items())


def edge_tape(plan: Plan, leaf: Leaf) -> tuple[EdgeTape, ...]:
    """The strips along each edge of a leaf, edges in its own order; edges without any are left out."""
    seams = {seam.mark: edge_of(leaf, seam) for seam in plan.assembly.seams_of(leaf.mark)}
    laid: dict[str, list[Strip]] = {}
    for strip in plan.strips:
        if leaf.mark not in strip.leaves or strip.role not in _ON_EDGES:
            continue
        edge = seams.get(strip.seam) if strip.seam else _named_edge(leaf, strip)
        if edge:
            laid.setdefault(edge, []).append(strip)
    return tuple(
        EdgeTape(edge, tuple((str(s.role), tuple(str(face) for face in s.faces), round(s.width, 3)) for s in laid[edge]))
        for edge in leaf.edges if edge in laid)


def edge_of(leaf: Leaf, seam: Seam) -> str | None:
    """The name of the leaf's edge on which a seam lies; None where it lies on none whole."""
    ends = seam.edge_a if seam.leaves[0] == leaf.mark else seam.edge_b
    for name in leaf.edges:
        if _same_ends(leaf.edge(name), ends):
            return name
    return None


def _named_edge(leaf: Leaf, strip: Strip) -> str | None:
    """The edge of a strip that goes round board edges: named with the leaf's mark, or the sill of a whole run."""
    own = next((name for name in leaf.edges if strip.edge == f"{leaf.mark} {name}"), None)
    if own or strip.role is not Role.SILL:
        return own
    return next((name for name in ("sill", "bottom") if name in leaf.edges), None)


def _same_ends(edge: tuple[Point, Point], ends: tuple[Point, Point]) -> bool:
    return any(math.dist(edge[0], a) <= NEAR and math.dist(edge[1], b) <= NEAR for a, b in (ends, ends[::-1]))


def _rounded(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return tuple((round(x, 3), round(y, 3)) for x, y in points)
