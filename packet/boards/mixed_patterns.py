"""The cheapest mix of board sizes, exactly: the integer program of `patterns.py` over several sizes at once.

Every size has its own section and board patterns; the blanks asked for are shared by all of them:

    min sum cost_s x_sp   with, for each size and section length, sections on boards >= section patterns used,
                          and, for each blank size, blanks in all section patterns >= blanks asked

Among the mixes of least cost a second program takes the fewest boards, then the least section length. Solved by HiGHS
through scipy; the bound of the first is the proof.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from packet.boards.patterns import (
    MOST_PATTERNS,
    Demand,
    Oriented,
    Sections,
    filled,
    first_of,
    multisets,
    section_length,
    section_patterns,
)
from packet.boards.records import Stock

if TYPE_CHECKING:
    from scipy.sparse import csr_array

WITHIN = 1e-6
"""Share of the dearest board's cost that the solver's bound may be off."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A size of board that may be bought, and what one costs in whole units (hundredths of money, or of mm2)."""

    stock: Stock
    cost: int


@dataclass(frozen=True, slots=True)
class MixedCutting:
    """For each offer its boards as sections, and the cost that cannot be undercut."""

    boards: tuple[tuple[Sections, ...], ...]
    bound: int


@dataclass(frozen=True, slots=True)
class _Listed:
    """All patterns of one offer; `lengths` are those of its sections, longest first."""

    offer: Offer
    sections: tuple[tuple[Oriented, ...], ...]
    boards: list[tuple[int, ...]]
    lengths: list[float]


def least_cost(demands: tuple[Demand, ...], offers: tuple[Offer, ...], seconds: float) -> MixedCutting | None:
    """The cheapest boards for these blanks; None where patterns are too many or no mix was found within `seconds`."""
    listed = []
    for offer in offers:
        stock = offer.stock
        sections = section_patterns(demands, stock.length, stock.breadth, stock.kerf)
        lengths = sorted({section_length(pattern) for pattern in sections}, reverse=True)
        boards = first_of(multisets(lengths, stock.length, stock.kerf), MOST_PATTERNS)
        if boards is None or len(sections) > MOST_PATTERNS:
            return None
        listed.append(_Listed(offer, sections, boards, lengths))
    return _solve(demands, listed, seconds)


def cost_step(offers: tuple[Offer, ...]) -> int:
    """All that boards can cost together are multiples of this."""
    return math.gcd(*(offer.cost for offer in offers))


def _solve(demands: tuple[Demand, ...], listed: list[_Listed], seconds: float) -> MixedCutting | None:
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    matrix, least = _matrix(demands, listed)
    columns = matrix.shape[1]
    # Divided by the dearest board, so that the solver's tolerances mean the same for cents and for square millimetres.
    unit = max(each.offer.cost for each in listed)
    costs = np.concatenate([np.concatenate([np.full(len(each.boards), each.offer.cost / unit), np.zeros(len(each.sections))])
                            for each in listed])
    count = sum(demand.count for demand in demands)
    given: dict[str, Any] = {"integrality": np.ones(columns), "bounds": Bounds(0, count)}
    options = {"time_limit": seconds / 2, "mip_rel_gap": 0.0}
    limits = [LinearConstraint(matrix, least, np.inf)]
    cheapest = milp(costs, constraints=limits, options=options, **given)
    if cheapest.x is None:
        return None
    step = cost_step(tuple(each.offer for each in listed))
    bound = step * math.ceil((cheapest.mip_dual_bound - WITHIN) * unit / step)
    spent = float(costs @ np.round(cheapest.x))
    cost = round(spent * unit)
    bound = cost if cost - bound <= 2 * WITHIN * unit else bound  # no nearer than the solver can tell apart
    used = np.concatenate([np.concatenate([np.zeros(len(each.boards)), [section_length(s) for s in each.sections]])
                           for each in listed])
    tie = 0.5 / (used.max() * (count + 1))
    fewest = milp((costs > 0) + tie * used, constraints=[*limits, LinearConstraint(costs, -np.inf, spent + step / unit / 2)],
                  options=options, **given)
    chosen = np.round(cheapest.x if fewest.x is None else fewest.x).astype(int).tolist()
    found, at, wanted = [], 0, [demand.count for demand in demands]
    for each in listed:
        boards, sections = len(each.boards), len(each.sections)
        found.append(filled(wanted, each.sections, each.boards, each.lengths, chosen[at:at + boards],
                            chosen[at + boards:at + boards + sections]))
        at += boards + sections
    return MixedCutting(tuple(found), bound)


def _matrix(demands: tuple[Demand, ...], listed: list[_Listed]) -> tuple[csr_array, Any]:
    """Rows: the blanks, then every offer's section lengths; columns: every offer's board and then section patterns."""
    import numpy as np
    from scipy.sparse import csr_array

    cells: list[tuple[int, int, float]] = []
    row, column = len(demands), 0
    for each in listed:
        for board in each.boards:
            cells += [(row + k, column, float(board.count(k))) for k in set(board)]
            column += 1
        for section in each.sections:
            cells.append((row + each.lengths.index(section_length(section)), column, -1.0))
            cells += [(size, column, float(sum(o.size == size for o in section))) for size in {o.size for o in section}]
            column += 1
        row += len(each.lengths)
    at, across, value = zip(*cells, strict=True)
    # The solver's interface wants 32-bit indices; some scipy versions do not convert them.
    place = (np.array(at, dtype=np.int32), np.array(across, dtype=np.int32))
    least = np.concatenate([[demand.count for demand in demands], np.zeros(row - len(demands))])
    return csr_array((value, place), shape=(row, column)), least


def kept_last(found: tuple[tuple[Sections, ...], ...], offers: tuple[Offer, ...]) -> tuple[tuple[Stock, Sections], ...]:
    """Boards size by size; the one with most left over, which is worth holding, comes last of all."""
    left: dict[int, float] = {}
    for place, (boards, offer) in enumerate(zip(found, offers, strict=True)):
        if boards:
            used = sum(section_length(section) + offer.stock.kerf for section in boards[-1])
            left[place] = max(0.0, offer.stock.length - used) * offer.stock.breadth
    last = max(left, key=lambda place: (left[place], place))
    order = [*(place for place in left if place != last), last]
    return tuple((offers[place].stock, board) for place in order for board in found[place])
