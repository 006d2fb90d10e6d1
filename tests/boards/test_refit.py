"""Leaves give way to the boards that came: against what a plain division gives."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from packet.boards.nest import DoesNotFit
from packet.boards.refit import Sizes, refit

STEP = 0.5
NOMINAL = Sizes(440.0, 1150.0, 1000.0)


@given(st.floats(396.5, 439.999))
def test_the_width_gives_way_to_the_step_below_what_fits(limit: float) -> None:
    asked: list[Sizes] = []

    def needs(sizes: Sizes) -> int:
        asked.append(sizes)
        return 6 if sizes.leaf_width <= limit else 7

    found = refit(NOMINAL, 6, needs, STEP)
    assert found.sizes == Sizes(math.floor(limit / STEP) * STEP, 1150.0, 1000.0)
    assert abs(found.largest.leaf_width - limit) < 1e-3
    # Every question is a layout: 89 steps of a tenth are halved seven times at most.
    assert len(asked) < 30


@given(st.floats(0.901, 0.999), st.floats(0.901, 0.999))
def test_where_one_alone_does_not_do_height_and_slant_give_way_and_stay_as_large_as_they_can(high: float, long: float) -> None:
    def needs(sizes: Sizes) -> int:
        if sizes.wall_height > high * NOMINAL.wall_height:
            return 7
        if sizes.slant > long * NOMINAL.slant:
            raise NoRoom
        return 6

    sizes = refit(NOMINAL, 6, needs, STEP).sizes
    assert sizes.leaf_width == NOMINAL.leaf_width
    assert sizes.wall_height == math.floor(high * NOMINAL.wall_height / STEP) * STEP
    assert sizes.slant == math.floor(long * NOMINAL.slant / STEP) * STEP


def test_where_nothing_helps_the_nominal_sizes_stay() -> None:
    found = refit(NOMINAL, 6, lambda sizes: 7, STEP)
    assert found.sizes == found.largest == NOMINAL


class NoRoom(DoesNotFit):
    """A leaf larger than a board, whichever."""

    def __init__(self) -> None:
        Exception.__init__(self)
