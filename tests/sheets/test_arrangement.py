"""The general arrangement, read as data."""

from __future__ import annotations

import pytest

from packet.assembly.records import LeafKind
from packet.sheets.arrangement import draw
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo, zoo_plan


def test_numbers_of_the_check_case() -> None:
    """Sizes worked out by hand, apart from the program (common practice, no published source)."""
    plan = plan_of(CHECK_CASE)
    first, second = draw(plan, kit_of(plan))
    assert {"96 in (96.00)", "83-1/8 in (83.14)", "72 in (72.00)", "30.0°", "120.0°, 120.0°", "151.0°",
            "41.6 sq ft", "6 of 48 in", "1 in", "48 in"} <= set(texts(first))
    assert "V gap 1" in texts(first)
    # The peak opening 4.33 inside and 5.33 outside; its inner rim at 48 + 24 x 45.5 / 48.
    assert "peak opening 4-5/16 in, 5-5/16 in at the outer face, inner rim 70-3/4 in up" in prose(second)
    assert {"83-1/8 in", "apex 72 in", "30.0°", "120.0°"} <= set(texts(second))


@pytest.mark.parametrize("name", zoo())
def test_every_wall_leaf_is_marked_on_the_plan(name: str) -> None:
    plan = zoo_plan(name)
    found = texts(draw(plan, kit_of(plan))[0])
    for leaf in plan.assembly.of_kind(LeafKind.WALL):
        assert found.count(leaf.mark) == 1
    assert found.count("door") == len(plan.assembly.doors) == found.count("jamb")
    for number in range(1, plan.geometry.walls + 1):
        assert str(number) in found


@pytest.mark.parametrize("name", zoo())
def test_plan_is_to_scale(name: str) -> None:
    plan = zoo_plan(name)
    view, = draw(plan, kit_of(plan))[0].viewports
    _, bottom, _, top = view.rect
    # Across the two door walls, outer face to outer face.
    assert (top - bottom) * view.ratio == pytest.approx(plan.geometry.across_flats + 2 * plan.geometry.thickness)


@pytest.mark.parametrize("name", zoo())
def test_doors_are_hung_as_the_project_says(name: str) -> None:
    plan = zoo_plan(name)
    assert f"hung {plan.description.doors.hand}" in texts(draw(plan, kit_of(plan))[0])
