"""Lay blanks out on boards in sections that people can cut with a straight edge.

A board is divided by full-breadth cuts into sections; a section holds blanks of one size, standing
across the breadth or lying along the length, as many as the breadth takes. The fewest boards are
found by trying, size by size, every split between standing and lying and filling boards with the
longest sections first; the bound counts total section length and sections longer than half a board.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import islice, product

from packet.assembly.records import Assembly
from packet.boards.blanks import Blank, blanks
from packet.boards.records import Stock

SLACK = 1e-6
"""mm"""

MOST_SPLITS = 4000
"""Combinations of standing and lying tried before settling for the best found."""


class DoesNotFit(ValueError):
    """A blank is larger than the board in both directions. Sizes in mm."""

    def __init__(self, blank: Blank, stock: Stock) -> None:
        super().__init__(f"{blank.leaves[0].mark} does not fit a board")
        self.blank = blank
        self.stock = stock


@dataclass(frozen=True, slots=True)
class Section:
    """Part of a board between two full-breadth cuts: `blanks` side by side over the breadth."""

    start: float
    length: float
    lying: bool
    blanks: tuple[Blank, ...]

    @property
    def each(self) -> float:
        """What one blank takes of the breadth, mm."""
        return self.blanks[0].width if self.lying else self.blanks[0].height


@dataclass(frozen=True, slots=True)
class Nest:
    """Sections board by board, and the fewest boards that any layout of these sections needs."""

    stock: Stock
    boards: tuple[tuple[Section, ...], ...]
    bound: int


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to lay blanks of a size: section length and how many a section holds."""

    lying: bool
    length: float
    holds: int


def nest(assembly: Assembly, stock: Stock) -> Nest:
    """The layout with the fewest boards found, then the most left whole on the last. Raises DoesNotFit."""
    sizes: dict[tuple[float, float], list[Blank]] = {}
    for blank in blanks(assembly):
        sizes.setdefault((blank.width, blank.height), []).append(blank)
    groups = list(sizes.values())
    ways = [_ways(group[0], stock) for group in groups]
    bound = max(math.ceil(_least_length(groups, ways, stock.kerf) / (stock.length + stock.kerf) - SLACK),
                _alone(groups, ways, stock))
    splits = product(*(_splits(len(g), w) for g, w in zip(groups, ways, strict=True)))
    # The first split lays every blank the way that takes least length; most often it meets the bound.
    best = _fill(groups, ways, next(splits), stock)
    if len(best) > bound:
        for split in islice(splits, MOST_SPLITS):
            best = min(best, _fill(groups, ways, split, stock), key=_worth)
    return Nest(stock, best, bound)


def _worth(filled: tuple[tuple[Section, ...], ...]) -> tuple[int, float]:
    return len(filled), filled[-1][-1].start + filled[-1][-1].length if filled else 0.0


def _ways(blank: Blank, stock: Stock) -> list[_Way]:
    """Ways that fit the board, the one that takes least length per blank first."""
    found = [
        _Way(lying, along, int((stock.breadth + stock.kerf + SLACK) // (across + stock.kerf)))
        for lying, along, across in ((False, blank.width, blank.height), (True, blank.height, blank.width))
        if along <= stock.length + SLACK and across <= stock.breadth + SLACK
    ]
    if not found:
        raise DoesNotFit(blank, stock)
    return sorted(found, key=lambda way: (way.length + stock.kerf) / way.holds)


def _splits(count: int, ways: list[_Way]) -> list[tuple[int, ...]]:
    """How many blanks go each way, all the better way first."""
    if len(ways) == 1:
        return [(count,)]
    step = ways[1].holds
    return [(count - k, k) for k in range(0, count + step, step) if k <= count] or [(count, 0)]


def _least_length(groups: list[list[Blank]], ways: list[list[_Way]], kerf: float) -> float:
    return sum(len(group) * min((w.length + kerf) / w.holds for w in way)
               for group, way in zip(groups, ways, strict=True))


def _alone(groups: list[list[Blank]], ways: list[list[_Way]], stock: Stock) -> int:
    """Sections of which no two go on one board, whichever way their blanks are laid."""
    half = (stock.length - stock.kerf) / 2
    return sum(math.ceil(len(group) / max(w.holds for w in way))
               for group, way in zip(groups, ways, strict=True) if min(w.length for w in way) > half + SLACK)


def _fill(groups: list[list[Blank]], ways: list[list[_Way]], split: tuple[tuple[int, ...], ...],
          stock: Stock) -> tuple[tuple[Section, ...], ...]:
    """Longest sections first, each on the first board with room."""
    loose: list[tuple[float, bool, tuple[Blank, ...]]] = []
    for group, options, counts in zip(groups, ways, split, strict=True):
        taken = 0
        for way, count in zip(options, counts, strict=True):
            part = group[taken:taken + count]
            taken += count
            loose += [(way.length, way.lying, tuple(part[i:i + way.holds])) for i in range(0, count, way.holds)]
    loose.sort(key=lambda section: -section[0])
    boards: list[list[Section]] = []
    for length, lying, members in loose:
        for board in boards:
            start = board[-1].start + board[-1].length + stock.kerf
            if start + length <= stock.length + SLACK:
                board.append(Section(start, length, lying, members))
                break
        else:
            boards.append([Section(0.0, length, lying, members)])
    return tuple(tuple(board) for board in boards)
