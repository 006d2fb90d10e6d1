"""Order, take-off and strip cut list, read as data."""

from __future__ import annotations

from itertools import pairwise

import pytest

from packet.sheets.order import draw as draw_order
from packet.sheets.strips import draw as draw_strips
from packet.tape.cutlist import cut_list
from packet.tape.takeoff import Unit
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo, zoo_plan


def test_check_case_by_hand() -> None:
    """Check case: 5 boards; flat 108.2 ft and sills 20.0 ft, together 128.2; wrap 108.2 with the outer eaves;
    the leaves weigh 23.9 lb at 2.0 lb per cubic ft; a board of 48 x 96 x 1 weighs 32/12 x 2 = 5.3 lb."""
    plan = plan_of(CHECK_CASE)
    sheets = draw_order(plan, kit_of(plan))
    words = " ".join(prose(sheet) for sheet in sheets)
    found = [text for sheet in sheets for text in texts(sheet)]
    assert {"5 boards", "4 pieces", "108.2", "20.0"} <= set(found)
    assert "5.3 lb" in words and "26.7 lb" in words and "23.9 lb" in words
    assert "2.0 lb per cubic ft (not given, assumed)" in words
    assert "48 x 96 x 5 in" in words and "Board 5: 48 x 48 in held uncut" in words
    assert "Two people lift" in words


@pytest.mark.parametrize("name", zoo())
def test_every_item_to_buy_is_on_the_order(name: str) -> None:
    plan = zoo_plan(name)
    words = " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
    for item in plan.takeoff:
        if item.unit is not Unit.LENGTH:
            assert item.item.removesuffix(", whole rolls") in words
            unit = str(item.unit) + ("" if item.quantity == 1 else "s")
            assert f"{item.quantity:.0f} {unit}" in words


@pytest.mark.parametrize("name", zoo())
def test_every_line_of_the_cut_list_is_printed(name: str) -> None:
    plan = zoo_plan(name)
    found = [text for sheet in draw_strips(plan, kit_of(plan)) for text in texts(sheet)]
    pairs = list(pairwise(found))
    for line in cut_list(plan.assembly, plan.strips):
        assert (str(line.count), plan.form.length(line.length)) in pairs


def test_spare_boards_are_named() -> None:
    plan = plan_of(next(path for path in SAMPLES if path.stem == "frost_watch"))
    words = " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
    assert "7 boards" in words and "1 spare board: keep whole" in words


def test_the_tape_that_comes_off_is_bought() -> None:
    """Check case with five walls: one hip of 50.87 in is 4.2 ft."""
    plan = zoo_plan("five")
    words = " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
    assert "tape that peels clean" in words and "4.2 ft" in words
    assert "peels" not in " ".join(prose(s) for s in draw_order(zoo_plan("six left"), kit_of(zoo_plan("six left"))))
