"""Running distances to the openings of a leaf, from the two edges they are placed from.

A leaf's frame has its origin at the corner of those two edges: the mid or left edge, and the sill, eave or
bottom. Distances are positive away from the edges, whichever way the leaf runs. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from packet.assembly.records import Leaf, Opening

ON_AXIS = 0.5
"""mm by which an edge may miss an axis and still be the datum."""
SAME = 1e-6
"""mm within which two distances are one."""


@dataclass(frozen=True, slots=True)
class Reach:
    """An opening's near edge, centre and far edge in one direction."""

    near: float
    centre: float
    far: float


@dataclass(frozen=True, slots=True)
class OpeningMarks:
    """One opening: its distances from the side edge (`across`) and from the lower edge (`up`)."""

    opening: Opening
    across: Reach
    up: Reach


def opening_marks(leaf: Leaf) -> tuple[OpeningMarks, ...]:
    """Every opening of a leaf, in the order of the leaf."""
    return tuple(
        OpeningMarks(opening, _reach(leaf.hand.sign * opening.x, opening.width), _reach(opening.y, opening.height))
        for opening in leaf.openings
    )


def _reach(centre: float, size: float) -> Reach:
    return Reach(centre - size / 2, centre, centre + size / 2)


def datum_edges(leaf: Leaf) -> tuple[str, str]:
    """Names of the side edge and of the lower edge that distances run from; empty where no edge lies there."""
    return _on_axis(leaf, 0), _on_axis(leaf, 1)


def _on_axis(leaf: Leaf, axis: int) -> str:
    return next((name for name in leaf.edges if all(abs(point[axis]) < ON_AXIS for point in leaf.edge(name))), "")


def stations(reaches: tuple[Reach, ...], whole: float) -> tuple[float, ...]:
    """All distances to dimension in one direction, ascending: the datum, the openings, the leaf's size."""
    found: list[float] = []
    for value in sorted([0.0, whole, *(v for reach in reaches for v in (reach.near, reach.centre, reach.far))]):
        if not found or value - found[-1] > SAME:
            found.append(value)
    return tuple(found)
