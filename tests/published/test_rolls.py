"""Whole rolls by exact arithmetic."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as some

from packet.tape.takeoff import whole_rolls
from packet.units import FOOT, YARD
from tests.conftest import CHECK_CASE, plan_of


@given(net=some.integers(1, 3_000_000), allowance=some.integers(0, 30), roll=some.integers(10_000, 60_000),
       join=some.integers(0, 300))
def test_rolls_are_the_fewest_that_hold_it(net: int, allowance: int, roll: int, join: int) -> None:
    """By definition, in fractions: n rolls with n - 1 laps hold it, and n - 1 rolls do not."""
    found = whole_rolls(net, allowance, roll, join)
    needed = Fraction(net * (100 + allowance), 100)
    assert found * roll - (found - 1) * join >= needed
    assert found == 1 or (found - 1) * roll - (found - 2) * join < needed


def test_full_rolls_need_no_more() -> None:
    assert whole_rolls(3 * 50_000, 0, 50_000, 0) == 3
    assert whole_rolls(100_000, 10, 55_000, 0) == 2
    assert whole_rolls(50_000.0004, 0, 50_000, 0) == 1  # less than a thousandth is no length
    assert whole_rolls(0, 5, 50_000, 100) == 0


def test_check_case_by_hand() -> None:
    """Flat and sill 128.2 ft, wraps and eaves 108.2 ft, worked out by hand without doublers and patches; 180 ft rolls."""
    needs = {round(need.roll_width / 25.4): need for need in plan_of(CHECK_CASE).needs if not need.foil}
    assert round(needs[4].hinges / FOOT, 1) == 128.2
    assert round(needs[6].hinges / FOOT, 1) == 108.2
    assert needs[6].roll == 60 * YARD
    for need in needs.values():
        assert need.rolls == whole_rolls(need.net, 5, 60 * YARD, 4 * 25.4)
        assert need.left == need.rolls * 60 * YARD - need.net
