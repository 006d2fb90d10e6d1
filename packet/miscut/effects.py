"""What a narrower leaf does to the shelter, computed on the graph and never looked up."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from packet.assembly.mended import edge_moved
from packet.assembly.pack import pack
from packet.assembly.records import Assembly, Point, Seam, overall
from packet.plan import Plan


class Unit(StrEnum):
    LENGTH = "length"
    ANGLE = "angle"


@dataclass(frozen=True, slots=True)
class Effect:
    """A figure that changes: its name in the words, of what (`A2/A3` or nothing), before and after, mm or degrees."""

    name: str
    of: str
    before: float
    after: float
    unit: Unit = Unit.LENGTH


def ring_effects(before: Plan, after: Plan) -> tuple[Effect, ...]:
    """Every figure of the whole that differs, and every seam angle."""
    return tuple(effect for effect in _figures(before, after) if abs(effect.after - effect.before) > 1e-6)


def _figures(before: Plan, after: Plan) -> Iterator[Effect]:
    if before.ring and after.ring:
        for name in ("rise", "apex", "apothem"):
            yield Effect(name, "", getattr(before.ring, name), getattr(after.ring, name))
        yield Effect("slope", "", before.ring.slope, after.ring.slope, Unit.ANGLE)
    else:
        for name, old, new in zip(("wide", "deep", "high"), overall(before.assembly), overall(after.assembly), strict=True):
            yield Effect(name, "", old, new)
    yield Effect("pack_width", "", before.pack.width, after.pack.width)
    yield Effect("pack_length", "", before.pack.length, after.pack.length)
    seen: dict[tuple[str, float, float], list[str]] = {}
    for seam in before.assembly.seams:
        new = after.assembly.seam_by_mark[seam.mark].angle_open
        seen.setdefault((str(seam.kind), round(seam.angle_open, 6), round(new, 6)), []).append(seam.mark)
    for (kind, old, new), marks in seen.items():
        yield Effect(f"angle_{kind.replace(' ', '_')}", ", ".join(marks), old, new, Unit.ANGLE)


def drift(assembly: Assembly, mark: str, edge: str, by: float) -> tuple[tuple[str, float], ...]:
    """Seams that fold away from their place when one edge of a leaf lies `by` mm inside its line: mark, mm.

    The pack is folded anew with that edge moved; every hinge beyond it follows.
    """
    leaf = assembly.by_mark[mark]
    index = leaf.edges.index(edge)
    new = edge_moved(leaf.hinged, index, by)
    moved = dict(zip(leaf.hinged, new, strict=True))

    def followed(seam: Seam) -> Seam:
        if mark not in seam.leaves:
            return seam
        own = seam.edge_a if seam.leaves[0] == mark else seam.edge_b
        if {*own} != {*leaf.edge(edge)}:
            return seam
        ends: tuple[Point, Point] = (moved[own[0]], moved[own[1]])
        return replace(seam, edge_a=ends) if seam.leaves[0] == mark else replace(seam, edge_b=ends)

    narrow = replace(assembly, seams=tuple(followed(seam) for seam in assembly.seams))
    before, after = pack(assembly).flats, pack(narrow).flats
    found = []
    for seam in assembly.bonded():
        first = seam.leaves[0]
        if first == mark or first not in before or seam.mark not in narrow.seam_by_mark:
            continue
        far = max(math.dist(before[first].place(p), after[first].place(p)) for p in seam.edge_a)
        if far > 1e-6:
            found.append((seam.mark, far))
    return tuple(found)
