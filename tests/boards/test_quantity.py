"""Several sets from one order, nested together."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from packet.boards.alike import alike
from packet.boards.check import layout_faults
from packet.boards.cut_list import cut_lines
from packet.boards.records import CutKind
from packet.description import load
from packet.plan import Plan, make_plan
from packet.sheets.cuts import draw
from packet.tape.takeoff import Unit
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import faults, kit_of, on_paper, prose
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

FEET = 304.8


def several(quantity: int) -> Plan:
    return make_plan(replace(load(CHECK_CASE), quantity=quantity))


@pytest.mark.parametrize(("quantity", "boards"), [(2, 9), (3, 14), (4, 18), (20, 90)])
def test_sets_share_boards(quantity: int, boards: int) -> None:
    """One set of the check case takes 4.5 boards (worked out by hand), so each pair shares one."""
    plan = several(quantity)
    assert len(plan.boards) == boards == math.ceil(4.5 * quantity)
    assert layout_faults(plan.assembly, plan.boards, quantity) == ()
    marks = [piece.mark for board in plan.boards for piece in board.pieces]
    assert len(set(marks)) == len(marks) == 24 * quantity
    assert "2-A1" in marks and "A1" not in marks
    assert any(board.held for board in plan.boards) == (quantity % 2 == 1)


def test_a_leaf_of_another_set_missing_is_found() -> None:
    plan = several(2)
    first = plan.boards[0]
    lost = (replace(first, pieces=first.pieces[:-1]), *plan.boards[1:])
    assert layout_faults(plan.assembly, lost, 2) == (f"{first.pieces[-1].mark} is on 0 boards",)


def test_tape_and_cuts_grow_with_the_sets() -> None:
    """Check case: 128.2 ft of 4 in and 108.2 ft of 6 in strapping without doublers and patches, 88.1 ft of cut."""
    plan = several(4)
    hinges = {round(need.roll_width / 25.4): need.hinges / FEET for need in plan.needs if not need.foil}
    assert hinges == {4: pytest.approx(4 * 128.2, abs=0.2), 6: pytest.approx(4 * 108.2, abs=0.2)}
    # Two pairs of sets each share a board, and the 4 ft cut at its middle.
    assert sum(line.total for line in cut_lines(plan.boards)) / FEET == pytest.approx(4 * 88.1 - 2 * 4, abs=0.2)
    sleeves = next(item for item in plan.takeoff if item.unit is Unit.PIECE)
    assert sleeves.quantity == 4 * sum(len(leaf.holes) for leaf in plan.assembly.leaves)


def test_boards_of_a_series_come_out_alike() -> None:
    """Twenty sets: 60 boards of walls, five alike for each of the 12 marks; 30 of roof leaves, five alike each."""
    runs = alike(several(20).boards)
    assert [len(run.boards) for run in runs] == [5] * 18
    assert sum(len(run.boards) for run in runs) == 90
    for run in runs:
        assert len({tuple(piece.leaf for piece in board.pieces) for board in run.boards}) == 1


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_series_of_any_shape_needs_few_marking_sheets(path: Path) -> None:
    """Twenty sets come down to at most two patterns for each leaf of one set, and the last board."""
    plan = make_plan(replace(load(path), quantity=20))
    assert layout_faults(plan.assembly, plan.boards, 20) == ()
    assert len(alike(plan.boards)) <= 2 * len(plan.assembly.leaves) + 1
    assert [board.mark for board in plan.boards] == [str(number) for number in range(1, len(plan.boards) + 1)]


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo(), *releasable_zoo()])
def test_cut_list_adds_up_and_nothing_collides(name: str) -> None:
    plan = on_paper(zoo_plan(name), "letter")
    assert list(faults(plan, draw)) == []
    lines = cut_lines(plan.boards)
    for kind in CutKind:
        asked = sum(cut.length for board in plan.boards for cut in board.cuts if cut.kind is kind)
        assert sum(found.length * len(line.run.boards) for line in lines if (found := line.of(kind))) == pytest.approx(asked)


@pytest.mark.parametrize("quantity", [5, 20])
def test_sheets_of_an_order_do_not_collide(quantity: int) -> None:
    from packet.sheets import marking, order

    plan = several(quantity)
    for sheets in (draw, marking.draw, order.draw):
        assert list(faults(plan, sheets)) == []
    assert f"{quantity} sets" in prose(order.draw(plan, kit_of(plan))[-1])


def test_one_set_says_nothing_of_sets() -> None:
    plan = plan_of(CHECK_CASE)
    from packet.sheets import marking, order

    for sheets in (draw, marking.draw, order.draw):
        for sheet in sheets(plan, kit_of(plan)):
            assert not any(word in prose(sheet) for word in ("sets", "One set", "one set"))
    assert "88.1 ft" in prose(draw(plan, kit_of(plan))[0])
