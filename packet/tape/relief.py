"""Relief cuts: where tape would lock a fold, it is slit.

Relief law of the trade (common practice, no published source). A strip is cut where it crosses a hinge
on that hinge's opening face, where it passes over a board edge across a hinge, and where it spans
the wedge between leaves that part. Crossing a closing face alone needs no cut. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly, Seam, SeamKind
from packet.description.terms import Face
from packet.tape.strips import Role, Strip


class Reason(StrEnum):
    OPENING_FACE = "opening face"
    BOARD_EDGE = "board edge"
    WEDGE = "wedge"


class Part(StrEnum):
    """What a strip lies on, from its one side to the other."""

    WALL = "wall"
    EDGE = "edge"
    ROOF = "roof"


@dataclass(frozen=True, slots=True)
class ReliefCut:
    """One slit square across a strip. `parts` names what is cut, in order, with the length of each."""

    strip: str
    between: tuple[str, str]
    face: Face
    length: float
    along: str
    parts: tuple[tuple[Part, float], ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class _Zone:
    part: Part
    face: Face | None
    width: float


def relief_cuts(assembly: Assembly, laid: tuple[Strip, ...]) -> tuple[ReliefCut, ...]:
    """Every slit of sill and eave strips, in the order of the leaves."""
    return (*_sill_cuts(assembly, laid), *_eave_cuts(assembly, laid))


def _sill_cuts(assembly: Assembly, laid: tuple[Strip, ...]) -> Iterator[ReliefCut]:
    for strip in laid:
        if strip.role is not Role.SILL:
            continue
        zones = (_Zone(Part.WALL, Face.INNER, strip.land), _Zone(Part.EDGE, None, assembly.thickness),
                 _Zone(Part.WALL, Face.OUTER, strip.land))
        for a, b in zip(strip.leaves, strip.leaves[1:], strict=False):
            hinge = _between(assembly, a, b)
            yield _cut(strip, hinge, None, zones, "sill")


def _eave_cuts(assembly: Assembly, laid: tuple[Strip, ...]) -> Iterator[ReliefCut]:
    eaves = [s for s in laid if s.pull and s.role in (Role.FLAT, Role.WRAP)]
    for strip, following in zip(eaves, eaves[2:], strict=False):
        # Flat and wrap alternate, so the same role over the next eave is two places on.
        if strip.pull != following.pull:
            continue
        face = strip.faces[0]
        wall, roof = _Zone(Part.WALL, face, strip.land), _Zone(Part.ROOF, face, strip.land)
        edges = _Zone(Part.EDGE, None, 2 * assembly.thickness)
        zones = (wall, roof) if strip.role is Role.FLAT else (wall, edges, roof)
        walls = _between(assembly, strip.leaves[0], following.leaves[0])
        gores = _between(assembly, strip.leaves[1], following.leaves[1])
        cut = _cut(strip, walls, gores, zones, "eave")
        if cut.length:
            yield cut


def _between(assembly: Assembly, a: str, b: str) -> Seam:
    return next(s for s in assembly.seams_of(a) if set(s.leaves) == {a, b})


def _cut(strip: Strip, walls: Seam, gores: Seam | None, zones: tuple[_Zone, ...], along: str) -> ReliefCut:
    """Slit of one strip where it crosses the hinge `walls`, and `gores` above the eave."""
    parts: list[tuple[Part, float]] = []
    reasons: list[Reason] = []
    for zone in zones:
        hinge = gores if zone.part is Part.ROOF and gores else walls
        if zone.face is None:
            reason = Reason.BOARD_EDGE
        elif zone.face is hinge.opening_face:
            reason = Reason.OPENING_FACE
        elif zone.part is Part.ROOF and hinge.kind is SeamKind.HIP:
            reason = Reason.WEDGE
        else:
            continue
        parts.append((zone.part, zone.width))
        if reason not in reasons:
            reasons.append(reason)
    face = strip.faces[0] if len(strip.faces) == 1 else walls.opening_face
    only_roof = gores is not None and all(part is Part.ROOF for part, _ in parts)
    pair = gores if only_roof and gores else walls
    return ReliefCut(strip.mark, pair.leaves, face, sum(width for _, width in parts), along,
                     tuple(parts), tuple(reasons))
