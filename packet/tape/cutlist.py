"""Strips to cut from each roll before hinging: how many of which length, and where they go.

A strip laid from several rolls side by side is counted on each of them. Strips of one continuous pull are
cut in one piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly, SeamKind
from packet.tape.strips import STRAPPING, Role, Strip

SAME = 0.01
"""mm; lengths closer than this are cut as one."""


class Place(StrEnum):
    """Where a strip goes, as the hinge table calls it; `edge` is a bare edge of a listed leaf."""

    WALL_MID = "wall mid"
    GORE_MID = "gore mid"
    CORNER = "corner"
    HIP = "hip"
    EAVE = "eave"
    SILL = "sill"
    SPLICE = "splice"
    TIP = "tip"
    SEAM = "seam"
    EDGE = "edge"
    OPENING = "opening"


_EDGES = (Place.CORNER, Place.HIP, Place.EAVE, Place.SILL, Place.TIP)
"""Edges of a ring's leaves that may be bare; listed leaves name theirs as they like."""


@dataclass(frozen=True, slots=True)
class CutLine:
    """`count` pieces of one length (mm) from one roll. `beside` are the other rolls of the same strip."""

    roll: float
    foil: bool
    role: Role
    place: Place
    length: float
    count: int
    beside: tuple[float, ...]

    @property
    def total(self) -> float:
        """mm of the roll."""
        return self.count * self.length


def cut_list(assembly: Assembly, strips: tuple[Strip, ...]) -> tuple[CutLine, ...]:
    """Lines by roll, strapping before foil and narrow before wide, then in the order of laying."""
    counts: dict[tuple[bool, float, Role, Place, int, tuple[float, ...]], int] = {}
    lengths: dict[int, float] = {}
    for role, place, tapes, length in _pieces(assembly, strips):
        step = round(length / SAME)
        lengths.setdefault(step, length)
        for index, roll in enumerate(tapes):
            key = (role not in STRAPPING, roll, role, place, step, tapes[:index] + tapes[index + 1:])
            counts[key] = counts.get(key, 0) + 1
    ordered = sorted(counts.items(), key=lambda entry: entry[0][:2])
    return tuple(CutLine(roll, foil, role, place, lengths[step], count, beside)
                 for (foil, roll, role, place, step, beside), count in ordered)


def _pieces(assembly: Assembly, strips: tuple[Strip, ...]) -> list[tuple[Role, Place, tuple[float, ...], float]]:
    """One entry per piece that is pulled from the rolls; the strips of a pull are one piece."""
    pulls: dict[tuple[Role, Place, tuple[float, ...], str], float] = {}
    pieces: list[tuple[Role, Place, tuple[float, ...], str | None, float]] = []
    for strip in strips:
        place = _place(assembly, strip)
        if strip.pull is None:
            pieces.append((strip.role, place, strip.tapes, None, strip.length))
            continue
        key = (strip.role, place, strip.tapes, strip.pull)
        if key not in pulls:
            pieces.append((*key, 0.0))
        pulls[key] = pulls.get(key, 0.0) + strip.length
    return [(role, place, tapes, length if pull is None else pulls[role, place, tapes, pull])
            for role, place, tapes, pull, length in pieces]


def _place(assembly: Assembly, strip: Strip) -> Place:
    if strip.seam is not None:
        kind: SeamKind = assembly.seam_by_mark[strip.seam].kind
        return Place(str(kind))
    if strip.role is not Role.SEAL:
        # `sill A2-A6` and `corner A2/A3` name the place first.
        return Place((strip.edge or "").split()[0])
    leaf = assembly.by_mark[strip.leaves[0]]
    name = (strip.edge or "").removeprefix(f"{leaf.mark} ")
    if name not in leaf.edges:
        return Place.OPENING
    return Place(name) if name in _EDGES else Place.EDGE
