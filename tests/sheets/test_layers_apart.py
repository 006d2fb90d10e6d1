"""The pack drawn apart: every leaf once, each over the one below it, numbered as in the pack."""

from __future__ import annotations

import pytest

from packet.drawing.marks import Text
from packet.sheets.fold import draw
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, texts
from tests.zoo import releasable_zoo, zoo, zoo_plan


@pytest.mark.parametrize("name", [*zoo(), *releasable_zoo()])
def test_every_leaf_shows_its_mark_and_every_layer_its_number(name: str) -> None:
    plan = zoo_plan(name)
    said = texts(draw(plan, kit_of(plan))[3])
    assert all(said.count(leaf.mark) == 1 for leaf in plan.assembly.leaves)
    for layer in range(1, plan.pack.layers + 1):
        assert said.count(str(layer)) == sum(
            plan.pack.flats[mark].layer == layer for column in plan.pack.columns for mark in column)


def test_columns_of_the_check_case_stand_in_order() -> None:
    """Lowest first: column 1 A6, B1 to B5; column 2 A5 down to A1, B6 (common practice, no published source)."""
    plan = plan_of(CHECK_CASE)
    at = {mark.string: mark.at for mark in draw(plan, kit_of(plan))[3].marks if isinstance(mark, Text)}
    for column in (["A6", "B1", "B2", "B3", "B4", "B5"], ["A5", "A4", "A3", "A2", "A1", "B6"]):
        heights = [at[mark][1] for mark in column]
        assert heights == sorted(heights)
        assert max(at[mark][0] for mark in column) - min(at[mark][0] for mark in column) < 40.0
    assert max(at[mark][0] for mark in ("A6", "B5")) < min(at[mark][0] for mark in ("A5", "B6"))
