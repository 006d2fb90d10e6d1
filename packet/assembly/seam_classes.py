"""Seams that are hinged alike: the same kind, closing face and angles."""

from __future__ import annotations

from dataclasses import dataclass

from packet.assembly.records import Assembly, Seam, SeamKind, seam_gap
from packet.description.terms import Face


@dataclass(frozen=True, slots=True)
class SeamClass:
    """Angles in degrees; `gap` is the V on the opening face when open, mm."""

    kind: SeamKind
    closing_face: Face
    angle_open: float
    angle_packed: float
    bonded: bool
    gap: float
    seams: tuple[Seam, ...]

    @property
    def marks(self) -> tuple[str, ...]:
        return tuple(seam.mark for seam in self.seams)


def seam_classes(assembly: Assembly) -> tuple[SeamClass, ...]:
    """Every seam in one class, classes in the order of their first seams."""
    found: dict[tuple[SeamKind, Face, float, float, bool], list[Seam]] = {}
    for seam in assembly.seams:
        key = (seam.kind, seam.closing_face, round(seam.angle_open, 6), round(seam.angle_packed, 6), seam.bonded)
        found.setdefault(key, []).append(seam)
    return tuple(SeamClass(*key, seam_gap(assembly.thickness, key[2]), tuple(seams)) for key, seams in found.items())
