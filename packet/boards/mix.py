"""One order mixed from several sizes of board: the cheapest mix, or the least area of board where prices are missing.

A quick heuristic comes first: the best layout on every size alone, each board then given the cheapest size that takes
its sections; after that the mixes between the bound and what this costs, the cheapest first, each filled greedily.
Where that misses the bound, the integer program over cutting patterns (`mixed_patterns.py`) decides.
"""

from __future__ import annotations

import math
from itertools import product

from packet.assembly.records import Assembly
from packet.boards.mixed_patterns import MixedCutting, Offer, cost_step, kept_last, least_cost
from packet.boards.nest import (
    SECONDS,
    SLACK,
    STAIRCASES,
    DoesNotFit,
    Measure,
    Nest,
    Proof,
    area_bound,
    decided,
    grouped,
    heuristic,
    images,
    in_place,
    refilled,
    takes,
    ways_of,
)
from packet.boards.patterns import Demand, Oriented, Sections, section_length

MOST_MIXES = 2000
"""Mixes that are looked at for the bound; where there are more, the bound rests on area alone."""

MOST_FILLED = 12
"""Mixes that the heuristic fills, the cheapest first."""

Found = tuple[tuple[Sections, ...], ...]
"""For each offer its boards."""

Ways = list[list[tuple[Oriented, int]]]
"""For each size of blank its ways to lie on a board, none where it is too large for it."""


def mixed_nest(assembly: Assembly, offers: tuple[Offer, ...], measure: Measure, quantity: int = 1, quick: bool = False,
               enough: int = 0) -> Nest:
    """The layout of so many shelters with the least cost, then the fewest boards. Raises DoesNotFit.
    A `quick` one is left as the heuristic finds it, and so is one of which it is known whether it costs `enough`, as in
    `nest`."""
    sizes, demands = grouped(assembly, quantity)
    for group in sizes:
        if not any(takes(offer.stock, group[0]) for offer in offers):
            raise DoesNotFit(group[0], max((offer.stock for offer in offers), key=lambda stock: stock.area))
    every = [[ways_of(number, group[0], offer.stock) if takes(offer.stock, group[0]) else []
              for number, group in enumerate(sizes)] for offer in offers]
    alone = [_alone(demands, ways, offers, place) for place, ways in enumerate(every) if all(ways)]
    best = min(alone, key=lambda found: worth(found, offers), default=None)
    bound = _bound(demands, every, offers)
    mixes = _mixes(demands, offers, bound, None if best is None else worth(best, offers)[0])
    if mixes:
        bound = max(bound, mixes[0][0])
    if best is None or worth(best, offers)[0] > bound:
        filled = (_filled(demands, every, offers, counts) for _, _, counts in (mixes or [])[:MOST_FILLED])
        best = min((found for found in (best, *filled) if found is not None), key=lambda found: worth(found, offers),
                   default=None)
    proof = Proof.BOUND if best is not None and worth(best, offers)[0] == bound else Proof.NONE
    if proof is Proof.NONE and not quick and not (best is not None and decided(worth(best, offers)[0], bound, enough)):
        exact = least_cost(demands, offers, SECONDS)
        if exact is not None:
            best = _better(best, exact, offers)
            bound = max(bound, exact.bound)
            proof = Proof.PROGRAM if worth(best, offers)[0] == bound else Proof.NONE
    if best is None:
        best = _one_by_one(demands, every, offers)
    best = tuple(refilled(boards, offer.stock) if boards else () for boards, offer in zip(best, offers, strict=True))
    last = kept_last(best, offers)
    return Nest(offers[0].stock, tuple(stock for stock, _ in last), in_place(last, sizes), worth(best, offers)[0], bound,
                proof, measure)


def worth(found: Found, offers: tuple[Offer, ...]) -> tuple[int, int]:
    """What all boards cost together, and how many they are."""
    counts = [len(boards) for boards in found]
    return sum(count * offer.cost for count, offer in zip(counts, offers, strict=True)), sum(counts)


def _better(best: Found | None, exact: MixedCutting, offers: tuple[Offer, ...]) -> Found:
    return exact.boards if best is None else min((best, exact.boards), key=lambda found: worth(found, offers))


def _alone(demands: tuple[Demand, ...], ways: Ways, offers: tuple[Offer, ...], place: int) -> Found:
    """All on boards of one size, then each board the cheapest size that takes its sections as they are."""
    found: list[list[Sections]] = [[] for _ in offers]
    for sections in heuristic(demands, ways, offers[place].stock, area_bound(demands, ways, offers[place].stock)):
        takers = [number for number, offer in enumerate(offers) if _holds(offer, sections)]
        found[min(takers, key=lambda number: (offers[number].cost, number))].append(sections)
    return tuple(tuple(boards) for boards in found)


def _holds(offer: Offer, sections: Sections) -> bool:
    stock = offer.stock
    length = sum(section_length(section) + stock.kerf for section in sections) - stock.kerf
    breadth = max(sum(way.across + stock.kerf for way in section) - stock.kerf for section in sections)
    return length <= stock.length + SLACK and breadth <= stock.breadth + SLACK


def _bound(demands: tuple[Demand, ...], every: list[Ways], offers: tuple[Offer, ...]) -> int:
    """Cost that any layout needs, by area stretched with dual feasible functions.

    A blank is given the least share of a board's cost that any size asks for it; no board can then hold blanks worth
    more than itself, whatever its size, and so the sum over all blanks bounds the cost from below.
    """
    lying = [(demand.count, [(offer.cost, *images(way, offer.stock)) for ways, offer in zip(every, offers, strict=True)
                             for way, _ in ways[number]]) for number, demand in enumerate(demands)]
    least = max(sum(count * min(cost * along[f] * across[g] for cost, along, across in each) for count, each in lying)
                for f, g in product(range(STAIRCASES), repeat=2))
    step = cost_step(offers)
    return step * math.ceil(least * (1 - SLACK) / step)


def _mixes(demands: tuple[Demand, ...], offers: tuple[Offer, ...], least: int, most: int | None
           ) -> list[tuple[int, int, tuple[int, ...]]] | None:
    """Cost, count and boards of each size of every mix with room for the blanks by area, from `least` to `most`.

    The cheapest first; None where they are too many, or where nothing limits them.
    """
    if most is None:
        return None
    kerf = offers[0].stock.kerf
    area = sum((d.width + kerf) * (d.height + kerf) * d.count for d in demands) * (1 - SLACK)
    rooms = [(offer.stock.length + kerf) * (offer.stock.breadth + kerf) for offer in offers]
    found: list[tuple[int, int, tuple[int, ...]]] = []
    waiting: list[tuple[int, float, tuple[int, ...]]] = [(0, 0.0, ())]
    looked = 0
    while waiting:
        cost, room, counts = waiting.pop()
        place, looked = len(counts), looked + 1
        if looked > MOST_MIXES:
            return None
        if place == len(offers):
            if room >= area and cost >= least:
                found.append((cost, sum(counts), counts))
            continue
        # What the rest costs at least, even if boards could be bought by the square millimetre.
        cheapest = min(offer.cost / size for offer, size in zip(offers[place:], rooms[place:], strict=True))
        if cost + cheapest * max(0.0, area - room) <= most + SLACK:
            waiting += [(cost + number * offers[place].cost, room + number * rooms[place], (*counts, number))
                        for number in range((most - cost) // offers[place].cost + 1)]
    return sorted(found)


def _filled(demands: tuple[Demand, ...], every: list[Ways], offers: tuple[Offer, ...], counts: tuple[int, ...]
            ) -> Found | None:
    """The blanks on just these boards, by several greedy rules; None where none of them brings all of them in."""
    for wide, backwards in product((False, True), repeat=2):
        left = [demand.count for demand in demands]
        order = sorted(range(len(offers)), key=lambda place: offers[place].stock.area, reverse=backwards)
        found: list[tuple[Sections, ...]] = [()] * len(offers)
        for place in order:
            boards = (_one_board(left, every[place], offers[place], wide) for _ in range(counts[place]))
            found[place] = tuple(board for board in boards if board)
        if not any(left):
            return tuple(found)
    return None


def _one_board(left: list[int], ways: Ways, offer: Offer, wide: bool) -> Sections:
    """Sections until nothing fits the rest of the board: the longest first, or the one that fills most of its part.

    `left` is counted down.
    """
    stock, board, rest = offer.stock, list[tuple[Oriented, ...]](), offer.stock.length

    def rank(way: Oriented, holds: int) -> tuple[float, float]:
        share = min(holds, left[way.size]) * way.across
        return (share, way.along) if wide else (way.along, share)

    while True:
        options = [(rank(way, holds), way) for choices in ways for way, holds in choices
                   if left[way.size] and way.along <= rest + SLACK]
        if not options:
            return tuple(board)
        _, lead = max(options, key=lambda option: option[0])
        section, room = list[Oriented](), stock.breadth
        fitting = [lead, *sorted((way for choices in ways for way, _ in choices if way.along <= lead.along + SLACK),
                                 key=lambda way: -way.across * way.along)]
        for way in fitting:
            while left[way.size] and way.across <= room + SLACK:
                section.append(way)
                left[way.size] -= 1
                room -= way.across + stock.kerf
        board.append(tuple(section))
        rest -= section_length(tuple(section)) + stock.kerf


def _one_by_one(demands: tuple[Demand, ...], every: list[Ways], offers: tuple[Offer, ...]) -> Found:
    """As many boards as it takes, always one of the cheapest size that brings in a blank that is still left."""
    left = [demand.count for demand in demands]
    found: list[list[Sections]] = [[] for _ in offers]
    while any(left):
        place = min((place for place, ways in enumerate(every)
                     if any(left[number] and choices for number, choices in enumerate(ways))),
                    key=lambda place: offers[place].cost)
        found[place].append(_one_board(left, every[place], offers[place], wide=False))
    return tuple(tuple(boards) for boards in found)
