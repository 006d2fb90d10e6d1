"""How wide a strip must be, and which rolls make that width.

Hinge law of the trade (common practice, no published source): the flat strip lies on the closing
face over both boards, so it is two lands wide; the wrap strip goes over both board edges while the
hinge is shut, so it is two lands and two thicknesses; a sill strip goes round one edge. Widths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement

TOUCH = 1e-6
"""mm; slack for comparing sums of widths."""

MOST_STRIPS = 4
"""Strips side by side that a crew can still lay as one."""


class NoLand(ValueError):
    """No roll in stock leaves any bonded width. `widest` is the widest roll, `needed` the least, mm."""

    def __init__(self, widest: float, needed: float) -> None:
        super().__init__(f"widest roll {widest} mm, needed more than {needed} mm")
        self.widest = widest
        self.needed = needed


@dataclass(frozen=True, slots=True)
class Lay:
    """Rolls laid side by side: `tapes` widths, each lapping the next by `overlap`; bonded `land` each side."""

    tapes: tuple[float, ...]
    overlap: float
    width: float
    land: float
    thin: bool = False


def wrap_width(land: float, thickness: float) -> float:
    return 2 * land + 2 * thickness


def edge_width(land: float, thickness: float) -> float:
    """A strip round one board edge, as on a sill."""
    return 2 * land + thickness


def lay(covered: float, land: float, stock: tuple[float, ...], combine: bool, lacking: float = 0.0) -> Lay:
    """Choose rolls for a strip that spans `covered` mm of edge between two lands.

    The narrowest single roll that is wide enough, laid centred (its land may then exceed the asked
    one); otherwise the fewest rolls side by side, lapping each other by at least one land, because
    the lap carries what a land carries; otherwise, or where rolls may not be combined, the widest
    roll alone with a thin land. Raises NoLand where that would leave no land at all.

    `lacking` mm may be missing of a single roll, whose land is then thin: boards that came a hair thicker than
    they were bought change no order of tape.
    """
    needed = covered + 2 * land
    single = [tape for tape in sorted(stock) if tape >= needed - lacking - TOUCH]
    if single:
        return Lay((single[0],), 0.0, min(needed, single[0]), (single[0] - covered) / 2, thin=single[0] < needed - TOUCH)
    if combine:
        for count in range(2, MOST_STRIPS + 1):
            fits = [combo for combo in combinations_with_replacement(sorted(stock, reverse=True), count)
                    if sum(combo) - needed >= (count - 1) * land - TOUCH]
            if fits:
                tapes = min(fits, key=sum)
                return Lay(tapes, (sum(tapes) - needed) / (count - 1), needed, land)
    widest = max(stock)
    if widest <= covered + TOUCH:
        raise NoLand(widest, covered)
    return Lay((widest,), 0.0, widest, (widest - covered) / 2, thin=True)


def foil_passes(width: float, stock: tuple[float, ...], overlap: float) -> tuple[float, int]:
    """Foil roll and number of lapping passes that cover `width` mm: fewest passes, then least foil."""
    def passes(roll: float) -> int:
        count = 1
        while count * roll - (count - 1) * overlap < width - TOUCH:
            count += 1
        return count

    roll = min(stock, key=lambda s: (passes(s), s))
    return roll, passes(roll)
