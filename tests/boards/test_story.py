"""Story sticks: what is marked on them."""

from __future__ import annotations

import pytest

from packet.boards.story import StickFor, sticks
from tests.conftest import CHECK_CASE, plan_of

INCH = 25.4

BY_HAND = {
    1.25: {"roof tip"}, 24.0: {"wall sill", "wall eave", "door sill", "door eave", "roof eave"}, 45.5: {"roof mid"},
    47.0: {"door mid", "door corner"}, 48.0: {"wall mid", "wall corner"}, 50.87: {"roof hip"},
}
"""Lengths of the check case's finished edges, in, worked out by hand (common practice, no source)."""


def test_the_check_stick_has_every_length_once_with_all_its_edges() -> None:
    plan = plan_of(CHECK_CASE)
    (stick,) = (stick for stick in sticks(plan.assembly, plan.boards) if stick.use is StickFor.CHECK)
    zero, *marks = stick.marks
    assert (zero.at, zero.names) == (0.0, ())
    assert [mark.at / INCH for mark in marks] == pytest.approx(list(BY_HAND), abs=0.005)
    assert [set(mark.names) for mark in marks] == list(BY_HAND.values())
    assert all(len(mark.names) == len(set(mark.names)) for mark in marks)
