"""The exact layout against a published instance and against an independent solver."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest

from packet.assembly.records import Assembly, polygon_area
from packet.boards.check import layout_faults
from packet.boards.layout import lay_out
from packet.boards.nest import Proof, _fill, area_bound, heuristic, nest, refilled
from packet.boards.patterns import Demand, Oriented, fewest_boards, section_length
from packet.boards.records import Stock
from tests.conftest import CHECK_CASE, plan_of

# The worked example of the encyclopedia article on the cutting-stock problem: a paper machine's master rolls
# of 5600 mm; optimum 73 rolls, waste 0.401 %, 308 patterns.
MASTER = 5600
ROLLS = {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14,
         2140: 16, 2150: 18, 2200: 20}


def test_published_seventy_three_rolls() -> None:
    demands = tuple(Demand(width, 1000, count) for width, count in ROLLS.items())
    found = fewest_boards(demands, MASTER, 1000, 0, seconds=20)
    assert found is not None
    assert (len(found.boards), found.bound) == (73, 73)
    waste = 1 - sum(w * c for w, c in ROLLS.items()) / (73 * MASTER)
    assert waste == pytest.approx(0.00401, abs=5e-6)
    cut = Counter(demands[way.size].width for board in found.boards for section in board for way in section)
    assert cut == ROLLS


def instance(dice: random.Random) -> tuple[tuple[Demand, ...], Stock]:
    sizes = dice.randint(1, 3)
    demands = tuple(Demand(dice.randint(480, 900), dice.randint(500, 1500), dice.randint(1, 4)) for _ in range(sizes))
    return demands, Stock(2400, 1200, 30, dice.choice((0, 3)))


SECTIONS = 5
"""Sections a board can have in the independent model; the shortest side above is 480 and the board 2400."""


def possible_with(boards: int, demands: tuple[Demand, ...], stock: Stock) -> bool:
    """Whether so many boards are enough: every single blank is given a section; no patterns, no shared code."""
    from ortools.sat.python import cp_model

    if boards == 0:
        return False
    model = cp_model.CpModel()
    kerf, length, breadth = int(stock.kerf), int(stock.length), int(stock.breadth)
    slots = [(b, s) for b in range(boards) for s in range(SECTIONS)]
    long = {slot: model.NewIntVar(0, length, "") for slot in slots}
    opened = {slot: model.NewBoolVar("") for slot in slots}
    wide: dict[tuple[int, int], list[cp_model.LinearExprT]] = {slot: [] for slot in slots}
    for demand in demands:
        # Blanks of one size are counted, not told apart.
        given: list[cp_model.LinearExprT] = []
        for slot in slots:
            for along, across in ((demand.width, demand.height), (demand.height, demand.width)):
                if along <= length and across <= breadth:
                    number = model.NewIntVar(0, demand.count, "")
                    some = model.NewBoolVar("")
                    model.Add(number == 0).OnlyEnforceIf(some.Not())
                    model.Add(long[slot] >= int(along)).OnlyEnforceIf(some)
                    model.AddImplication(some, opened[slot])
                    wide[slot].append((int(across) + kerf) * number)
                    given.append(number)
        model.Add(sum(given) == demand.count)
    for slot in slots:
        model.Add(sum(wide[slot]) <= breadth + kerf)
    for b in range(boards):
        model.Add(sum(long[b, s] + kerf * opened[b, s] for s in range(SECTIONS)) <= length + kerf)
        for s in range(1, SECTIONS):
            model.Add(long[b, s - 1] >= long[b, s])
        if b:
            model.Add(long[b - 1, 0] >= long[b, 0])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 60
    solver.parameters.num_workers = 1
    status = solver.Solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    return status != cp_model.INFEASIBLE


@pytest.mark.parametrize("seed", range(50))
def test_agrees_with_an_independent_solver(seed: int) -> None:
    demands, stock = instance(random.Random(seed))
    found = fewest_boards(demands, stock.length, stock.breadth, stock.kerf, seconds=20)
    assert found is not None
    assert len(found.boards) == found.bound
    assert possible_with(len(found.boards), demands, stock)
    assert not possible_with(len(found.boards) - 1, demands, stock)


@pytest.mark.parametrize("seed", range(200, 260))
def test_bound_heuristic_and_program_stand_in_order(seed: int) -> None:
    demands, stock = instance(random.Random(seed))
    ways = [
        sorted(((Oriented(i, lying, along, across), int((stock.breadth + stock.kerf) // (across + stock.kerf)))
                for lying, along, across in ((False, d.width, d.height), (True, d.height, d.width))
                if along <= stock.length and across <= stock.breadth),
               key=lambda way: (way[0].along + stock.kerf) / way[1])
        for i, d in enumerate(demands)]
    bound = area_bound(demands, ways, stock)
    exact = fewest_boards(demands, stock.length, stock.breadth, stock.kerf, seconds=20)
    assert exact is not None
    assert bound <= exact.bound <= len(exact.boards) <= len(heuristic(demands, ways, stock, bound))
    assert bound * stock.area >= sum(d.width * d.height * d.count for d in demands)
    for board in exact.boards:
        assert sum(section_length(s) + stock.kerf for s in board) <= stock.length + stock.kerf + 1e-6
        for section in board:
            assert sum(way.across + stock.kerf for way in section) <= stock.breadth + stock.kerf + 1e-6


def test_the_heuristic_is_proved_on_the_check_case_without_the_solver() -> None:
    plan = plan_of(CHECK_CASE)
    found = nest(plan.assembly, plan.nest.stock)
    assert (found.proof, found.bound) == (Proof.BOUND, 5)
    area = sum(abs(polygon_area(leaf.rough)) for leaf in plan.assembly.leaves)
    assert area / plan.nest.stock.area == pytest.approx(4.5)


@pytest.mark.parametrize("seed", range(300, 315))
def test_several_sets_agree_with_the_independent_solver(seed: int) -> None:
    """Leaves of two or three sets nested together: as many boards as the independent model needs for all of them."""
    dice = random.Random(seed)
    demands, stock = instance(dice)
    quantity = dice.choice((2, 3))
    demands = tuple(replace(demand, count=min(demand.count, 2)) for demand in demands)
    model = plan_of(CHECK_CASE).assembly.leaves[1]
    leaves = []
    for size, demand in enumerate(demands):
        rectangle = ((0.0, 0.0), (demand.width, 0.0), (demand.width, demand.height), (0.0, demand.height))
        leaves += [replace(model, mark=f"{size}.{number}", outline=rectangle, hinged=rectangle, rough=rectangle, openings=())
                   for number in range(demand.count)]
    assembly = Assembly(tuple(leaves), (), (), stock.thickness)
    found = nest(assembly, stock, quantity)
    whole = tuple(replace(demand, count=demand.count * quantity) for demand in demands)
    assert len(found.boards) == found.bound
    assert possible_with(len(found.boards), whole, stock)
    assert not possible_with(len(found.boards) - 1, whole, stock)
    assert layout_faults(assembly, lay_out(assembly, found), quantity) == ()


def test_shorter_sections_go_into_earlier_boards() -> None:
    """Two of 60 and two of 40 fill two boards of 100."""
    ways = [(Oriented(0, False, along, 10.0),) for along in (60.0, 60.0, 40.0, 40.0)]
    assert len(_fill(list(ways), Stock(100, 10, 1))) == 2


def test_filled_anew_the_last_board_keeps_more() -> None:
    """60 + 30 and 50 + 40 of 100 become 60 + 40 and 50 + 30: as many boards, and 20 instead of 10 left on the last."""
    given = tuple(tuple((Oriented(0, False, along, 10.0),) for along in board) for board in ((60.0, 30.0), (50.0, 40.0)))
    found = refilled(given, Stock(100, 10, 1))
    assert [sum(section_length(section) for section in board) for board in found] == [100.0, 80.0]
