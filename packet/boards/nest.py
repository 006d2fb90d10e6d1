"""Lay blanks out on boards in sections that people can cut with a straight edge.

A board is divided by full-breadth cuts into sections; a section holds blanks side by side over the breadth,
standing across it or lying along the length. A quick heuristic comes first: size by size all one way, then
every split between standing and lying, boards filled with the longest sections first. Where that misses the
area bound, the integer program over cutting patterns (`patterns.py`) decides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import islice, product

from packet.assembly.records import Assembly
from packet.boards.blanks import Blank, blanks
from packet.boards.patterns import Demand, Oriented, Sections, fewest_boards, section_length
from packet.boards.records import Stock

SLACK = 1e-6
"""mm"""

MOST_SPLITS = 500
"""Combinations of standing and lying that the heuristic tries."""

STAIRCASES = 8
"""Staircase functions tried for the bound, each way."""

SECONDS = 5.0
"""Solver time for the integer program."""


class DoesNotFit(ValueError):
    """A blank is larger than the board in both directions. Sizes in mm."""

    def __init__(self, blank: Blank, stock: Stock) -> None:
        super().__init__(f"{blank.leaves[0].mark} does not fit a board")
        self.blank = blank
        self.stock = stock


class Proof(StrEnum):
    """What shows that no layout of this kind needs fewer boards."""

    BOUND = "by area"
    PROGRAM = "by integer program"
    NONE = "not proved"


@dataclass(frozen=True, slots=True)
class Lane:
    """One blank in a section, `base` mm up from the datum edge."""

    blank: Blank
    lying: bool
    base: float

    @property
    def along(self) -> float:
        """mm along the length of the board."""
        return self.blank.height if self.lying else self.blank.width

    @property
    def across(self) -> float:
        """mm of the breadth."""
        return self.blank.width if self.lying else self.blank.height


@dataclass(frozen=True, slots=True)
class Section:
    """Part of a board between two full-breadth cuts, from `start`, with its lanes from the datum edge up."""

    start: float
    length: float
    lanes: tuple[Lane, ...]


class Measure(StrEnum):
    """What a layout keeps least, and in what its bound is counted."""

    COUNT = "boards"
    PRICE = "price"
    AREA = "area"


@dataclass(frozen=True, slots=True)
class Nest:
    """Sections board by board, and what board each lies on; no layout in two stages of cuts needs less than `bound`.

    `cost` and `bound` are boards where there is one size, else hundredths of money or of mm2 of board, as `measure` says.
    `stock` is the board of `boards.size`, whether or not any is used.
    """

    stock: Stock
    stocks: tuple[Stock, ...]
    boards: tuple[tuple[Section, ...], ...]
    cost: int
    bound: int
    proof: Proof
    measure: Measure = Measure.COUNT

    @property
    def mixed(self) -> bool:
        """Whether several sizes could be bought together."""
        return self.measure is not Measure.COUNT

    @property
    def spare(self) -> Stock:
        """The board that a spare one should be: the first in use that takes every blank, else the largest in use."""
        lanes = [lane for board in self.boards for section in board for lane in section.lanes]
        used = tuple(dict.fromkeys(sorted(self.stocks, key=lambda stock: stock.size)))
        return next((stock for stock in used if all(takes(stock, lane.blank) for lane in lanes)),
                    max(used, key=lambda stock: stock.area))


def takes(stock: Stock, blank: Blank) -> bool:
    """Whether a board is large enough for a blank, one way or the other."""
    return (min(blank.width, blank.height) <= min(stock.length, stock.breadth) + SLACK
            and max(blank.width, blank.height) <= max(stock.length, stock.breadth) + SLACK)


def nest(assembly: Assembly, stock: Stock, quantity: int = 1, quick: bool = False, enough: int = 0) -> Nest:
    """The layout of so many shelters with the fewest boards, then the most left whole on the last. Raises DoesNotFit.
    A `quick` one is left as the heuristic finds it, for comparing many; with `enough` boards named, also one that keeps to
    them, and one that surely cannot."""
    sizes, demands = grouped(assembly, quantity)
    ways = [ways_of(number, group[0], stock) for number, group in enumerate(sizes)]
    bound = area_bound(demands, ways, stock)
    best = heuristic(demands, ways, stock, bound)
    proof = Proof.BOUND if len(best) == bound else Proof.NONE
    if proof is Proof.NONE and not quick and not decided(len(best), bound, enough):
        exact = fewest_boards(demands, stock.length, stock.breadth, stock.kerf, SECONDS)
        if exact is not None:
            bound = max(bound, exact.bound)
            best = min(best, refilled(exact.boards, stock), key=_worth)
            proof = Proof.PROGRAM if len(best) == bound else Proof.NONE
    found = in_place(tuple((stock, board) for board in best), sizes)
    return Nest(stock, (stock,) * len(found), found, len(found), bound, proof)


def decided(cost: int, bound: int, enough: int) -> bool:
    """Whether it is known without a search for better that a layout keeps within `enough` (0: not asked), or none can."""
    return bool(enough) and (cost <= enough or bound > enough)


def grouped(assembly: Assembly, quantity: int) -> tuple[list[list[Blank]], tuple[Demand, ...]]:
    """The blanks of so many shelters by size, and how many of each size are asked for."""
    groups: dict[tuple[float, float], list[Blank]] = {}
    for blank in blanks(assembly, quantity):
        groups.setdefault((blank.width, blank.height), []).append(blank)
    return list(groups.values()), tuple(Demand(*size, len(group)) for size, group in groups.items())


def _worth(boards: tuple[Sections, ...]) -> tuple[int, float]:
    """Fewest boards, then least used on the last."""
    return len(boards), sum(section_length(section) for section in boards[-1])


def ways_of(number: int, blank: Blank, stock: Stock) -> list[tuple[Oriented, int]]:
    """Ways that fit the board and how many a section holds, the one that takes least length per blank first."""
    found = [
        (Oriented(number, lying, along, across), int((stock.breadth + stock.kerf + SLACK) // (across + stock.kerf)))
        for lying, along, across in ((False, blank.width, blank.height), (True, blank.height, blank.width))
        if along <= stock.length + SLACK and across <= stock.breadth + SLACK
    ]
    if not found:
        raise DoesNotFit(blank, stock)
    return sorted(found, key=lambda way: (way[0].along + stock.kerf) / way[1])


def area_bound(demands: tuple[Demand, ...], ways: list[list[tuple[Oriented, int]]], stock: Stock) -> int:
    """Boards that any layout needs, by area and by area stretched with dual feasible functions.

    A dual feasible function f has sum f(x_i) <= 1 wherever sum x_i <= 1, so lengths and breadths may be
    replaced by their images and the area bound still holds (Fekete and Schepers); the staircase of k steps
    counts, for example, a blank slightly longer than a quarter board as a third of it.
    """
    lying = [(demand.count, [images(way, stock) for way, _ in options]) for demand, options in zip(demands, ways, strict=True)]
    least = max(1.0, *(sum(count * min(along[f] * across[g] for along, across in each) for count, each in lying)
                       for f, g in product(range(STAIRCASES), repeat=2)))
    return math.ceil(least - SLACK)


def images(way: Oriented, stock: Stock) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The length and the breadth of a blank, as shares of the board's, under every staircase."""
    along, across = ((size + stock.kerf) / (whole + stock.kerf)
                     for size, whole in ((way.along, stock.length), (way.across, stock.breadth)))
    return tuple(stair(along, steps) for steps in range(STAIRCASES)), tuple(stair(across, steps) for steps in range(STAIRCASES))


def stair(share: float, steps: int) -> float:
    """Dual feasible staircase; the share itself for no steps, and where it lands on a step exactly."""
    exact = share * (steps + 1)
    if steps == 0 or abs(exact - round(exact)) < SLACK:
        return share
    return math.floor(exact) / steps


def heuristic(demands: tuple[Demand, ...], ways: list[list[tuple[Oriented, int]]], stock: Stock, bound: int
               ) -> tuple[Sections, ...]:
    """Sections of one size each; the first split lays every blank the way that takes least length."""
    splits = product(*(_splits(demand.count, options) for demand, options in zip(demands, ways, strict=True)))
    best = _fill(_sections(ways, next(splits)), stock)
    if len(best) > bound:
        for split in islice(splits, MOST_SPLITS):
            best = min(best, _fill(_sections(ways, split), stock), key=_worth)
    return best


def _splits(count: int, options: list[tuple[Oriented, int]]) -> list[tuple[int, ...]]:
    """How many blanks go each way, all the better way first."""
    if len(options) == 1:
        return [(count,)]
    step = options[1][1]
    return [(count - k, k) for k in range(0, count + 1, step)]


def _sections(ways: list[list[tuple[Oriented, int]]], split: tuple[tuple[int, ...], ...]) -> list[tuple[Oriented, ...]]:
    found = []
    for options, counts in zip(ways, split, strict=True):
        for (way, holds), count in zip(options, counts, strict=True):
            found += [(way,) * min(holds, count - i) for i in range(0, count, holds)]
    return found


def _fill(sections: list[tuple[Oriented, ...]], stock: Stock) -> tuple[Sections, ...]:
    """Longest sections first, each on the first board with room."""
    boards: list[list[tuple[Oriented, ...]]] = []
    rest: list[float] = []
    first, before = 0, math.inf
    for needed, section in sorted(((section_length(s), s) for s in sections), key=lambda pair: -pair[0]):
        # What was too short for a section of this length stays too short for the next one.
        first = first if needed == before else 0
        before = needed
        while first < len(rest) and needed > rest[first] + SLACK:
            first += 1
        if first < len(rest):
            boards[first].append(section)
            rest[first] -= needed + stock.kerf
        else:
            boards.append([section])
            rest.append(stock.length - needed - stock.kerf)
    return tuple(tuple(board) for board in boards)


def refilled(boards: tuple[Sections, ...], stock: Stock) -> tuple[Sections, ...]:
    """The same sections filled anew, unless that takes more boards; the least used board comes last."""
    anew = _fill([section for board in boards for section in board], stock)
    if len(anew) <= len(boards):
        return anew
    return tuple(sorted(boards, key=lambda board: -sum(section_length(section) for section in board)))


def in_place(boards: tuple[tuple[Stock, Sections], ...], sizes: list[list[Blank]]) -> tuple[tuple[Section, ...], ...]:
    """Real blanks into the sections, in their order, so that neighbours keep alternating in hand."""
    waiting = [iter(group) for group in sizes]
    placed = []
    for stock, board in boards:
        start, row = 0.0, []
        for section in board:
            base, lanes = 0.0, []
            for way in section:
                lanes.append(Lane(next(waiting[way.size]), way.lying, base))
                base += way.across + stock.kerf
            row.append(Section(start, section_length(section), tuple(lanes)))
            start += section_length(section) + stock.kerf
        placed.append(tuple(row))
    return tuple(placed)
