"""How much the shelter changes for each unit by which its leaves are off.

Apex and slope of a ring whose leaves are all off alike, in closed form (`RingGeometry`); and for any graph the
closure gap that one leaf alone makes when an edge is off evenly (a size) or turned (squareness), from the linear
map of `tolerance`. A row of leaves has no loop that an error could open, and its gaps are 0.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly, LeafKind
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.tolerance import Remaining, remaining


class Cause(StrEnum):
    """What is off. Squareness: how far an edge leans over its whole length."""

    LEAF_WIDTH = "leaf width"
    SLANT = "slant"
    SIZE = "leaf size"
    SQUARENESS = "squareness"


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """Per mm of the cause: apex (mm) and slope (degrees) with all leaves alike, None without a roof; `gap` (mm) at
    the seam that fares worst when one leaf alone is off."""

    cause: Cause
    apex: float | None
    slope: float | None
    gap: float


def sensitivities(assembly: Assembly, ring: RingGeometry | None) -> tuple[Sensitivity, ...]:
    """Of a ring by leaf width, slant and squareness; of any other graph by leaf size and squareness."""
    import numpy as np

    left = remaining(assembly)
    # A turned edge is off at one end: a single column.
    turned = float(np.hypot(left.gap[:, 0], left.gap[:, 1]).max(initial=0.0))
    if ring is None:
        sized = _worst(left, _shifted(left, assembly, LeafKind.WALL, None))
        return Sensitivity(Cause.SIZE, None, None, sized), Sensitivity(Cause.SQUARENESS, None, None, turned)
    return (
        Sensitivity(Cause.LEAF_WIDTH, ring.rise_per_leaf_width, ring.slope_per_leaf_width,
                    _worst(left, _shifted(left, assembly, LeafKind.WALL, ("mid", "corner")))),
        Sensitivity(Cause.SLANT, ring.rise_per_slant, ring.slope_per_slant,
                    _worst(left, _shifted(left, assembly, LeafKind.ROOF, ("eave",)))),
        Sensitivity(Cause.SQUARENESS, ring.rise_per_squareness, ring.slope_per_squareness, turned),
    )


def _shifted(
    left: Remaining, assembly: Assembly, kind: LeafKind, names: tuple[str, ...] | None
) -> Iterator[tuple[int, ...]]:
    """Error columns of every edge of those names (or of any) that is off by the same at both ends."""
    for leaf in assembly.of_kind(kind):
        for number, name in enumerate(leaf.edges):
            if names is None or name in names:
                first = left.first_error[leaf.mark] + 2 * number
                yield first, first + 1


def _worst(left: Remaining, cases: Iterator[tuple[int, ...]]) -> float:
    import numpy as np

    worst = 0.0
    for columns in cases:
        moved = left.gap[:, :, list(columns)].sum(axis=2)
        worst = max(worst, float(np.hypot(moved[:, 0], moved[:, 1]).max(initial=0.0)))
    return worst
