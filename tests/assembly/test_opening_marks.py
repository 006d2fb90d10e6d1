"""Running distances to openings: positive away from the datum edges, on leaves of either hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.assembly.opening_marks import Reach, datum_edges, opening_marks, stations
from packet.assembly.records import Opening
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo_plan

INCH = 25.4


@pytest.mark.parametrize("mark", ["A3", "A4"])
def test_both_hands_measure_alike(mark: str) -> None:
    leaf = plan_of(CHECK_CASE).assembly.by_mark[mark]
    opening = Opening("window", leaf.hand.sign * 9 * INCH, 20 * INCH, 8 * INCH, 6 * INCH, round=False)
    (placed,) = opening_marks(replace(leaf, openings=(opening,)))
    # By hand: 9 +- 4 across, 20 +- 3 up.
    assert [v / INCH for v in (placed.across.near, placed.across.centre, placed.across.far)] == pytest.approx([5, 9, 13])
    assert [v / INCH for v in (placed.up.near, placed.up.centre, placed.up.far)] == pytest.approx([17, 20, 23])


def test_the_two_leaves_are_of_unlike_hand() -> None:
    by_mark = plan_of(CHECK_CASE).assembly.by_mark
    assert by_mark["A3"].hand is not by_mark["A4"].hand


def test_datum_edges() -> None:
    by_mark = plan_of(CHECK_CASE).assembly.by_mark
    assert datum_edges(by_mark["A3"]) == ("mid", "sill")
    assert datum_edges(by_mark["A3R"]) == ("mid", "eave")
    assert datum_edges(zoo_plan("cool-box").assembly.by_mark["LID"]) == ("left", "bottom")


def test_stations_are_told_once() -> None:
    # 5, 9, 13 and 9, 11, 13 of a leaf 24 wide.
    assert stations((Reach(5, 9, 13), Reach(9, 11, 13)), 24) == (0.0, 5, 9, 11, 13, 24)
