"""Boards to buy."""

from __future__ import annotations

import pytest

from packet.boards.supply import supply
from tests.conftest import CHECK_CASE, SAMPLES, plan_of


def test_check_case() -> None:
    """Check case: 5 boards, bundle 48 x 96 x 5, half a board held; 48 x 96 x 1 in is 2.6667 cubic ft."""
    found = supply(plan_of(CHECK_CASE).boards, 0, 48 * 25.4, 96 * 25.4, 25.4)
    assert (found.cut, found.bought) == (5, 5)
    assert found.stack / 25.4 == pytest.approx(5)
    assert found.volume / 0.3048**3 == pytest.approx(48 * 96 / 1728)
    assert [(mark, round(a / 25.4, 6), round(b / 25.4, 6)) for mark, a, b in found.held] == [("5", 48, 48)]


def test_spare_boards_are_bought_and_stacked() -> None:
    boards = plan_of(next(path for path in SAMPLES if path.stem == "frost_watch")).boards
    found = supply(boards, 1, 1219.2, 2438.4, 38.1)
    assert found.bought == 7 and found.stack == pytest.approx(7 * 38.1)
