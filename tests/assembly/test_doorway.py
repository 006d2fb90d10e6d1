"""A doorway as it stands: the check case, and laws over the zoo."""

from __future__ import annotations

import pytest

from packet.assembly.doorway import doorway
from packet.description.terms import Face, Side
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo, zoo_plan

INCH = 25.4


def test_check_case() -> None:
    # Common practice: trim 1 off the bottom; holes 23 below the top, both then 25 above ground.
    assembly = plan_of(CHECK_CASE).assembly
    way = doorway(assembly, assembly.by_mark["A1"], Face.OUTER)
    assert (way.door.mark, way.jamb.mark, way.beside, way.roof) == ("A1", "B6", "A2", "A1R")
    assert way.trim / INCH == pytest.approx(1.0)
    assert -way.door.foot / INCH == pytest.approx(47.0) and -way.jamb.foot / INCH == pytest.approx(48.0)
    for panel in (way.door, way.jamb):
        assert [d / INCH for d in way.below_top(panel)] == pytest.approx([23.0])
        assert [h / INCH for h in way.above_ground(panel)] == pytest.approx([25.0])


@pytest.mark.parametrize("name", zoo())
def test_holes_of_door_and_jamb_meet(name: str) -> None:
    plan = zoo_plan(name)
    for door in plan.assembly.doors:
        way = doorway(plan.assembly, door, Face.OUTER)
        assert way.door.top == pytest.approx(0.0) and way.jamb.top == pytest.approx(0.0)
        assert way.above_ground(way.door) == pytest.approx(way.above_ground(way.jamb))
        assert way.from_free_edge(way.door) == pytest.approx(way.from_free_edge(way.jamb))
        assert way.from_free_edge(way.door) == pytest.approx((plan.description.doors.latch_from_free_edge,))
        # They stand on two sides of the line where they meet.
        assert way.door.holes[0][0][0] * way.jamb.holes[0][0][0] < 0


@pytest.mark.parametrize("name", zoo())
def test_the_hand_is_the_hinge_side_seen_from_outside(name: str) -> None:
    plan = zoo_plan(name)
    for door in plan.assembly.doors:
        assert doorway(plan.assembly, door, Face.OUTER).hinge is plan.description.doors.hand
        inside = Side.LEFT if plan.description.doors.hand is Side.RIGHT else Side.RIGHT
        assert doorway(plan.assembly, door, Face.INNER).hinge is inside
