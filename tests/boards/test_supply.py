"""Boards to buy."""

from __future__ import annotations

import pytest

from tests.conftest import CHECK_CASE, SAMPLES, plan_of


def test_check_case() -> None:
    """Check case: 5 boards, bundle 48 x 96 x 5, half a board held; 48 x 96 x 1 in is 2.6667 cubic ft."""
    found = plan_of(CHECK_CASE).supply
    assert (found.cut, found.bought) == (5, 5)
    assert [side / 25.4 for side in found.stack] == [pytest.approx(48), pytest.approx(96), pytest.approx(5)]
    assert found.sizes[0].volume / 0.3048**3 == pytest.approx(48 * 96 / 1728)
    assert [(mark, round(a / 25.4, 6), round(b / 25.4, 6)) for mark, a, b in found.held] == [("5", 48, 48)]


def test_spare_boards_are_bought_and_stacked() -> None:
    found = plan_of(next(path for path in SAMPLES if path.stem == "frost_watch")).supply
    assert found.bought == 7 and found.stack[2] == pytest.approx(7 * 38.1)
