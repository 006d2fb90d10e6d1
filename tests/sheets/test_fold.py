"""Fold, interlock and hips, read as data."""

from __future__ import annotations

import pytest

from packet.assembly.records import LeafKind, SeamKind
from packet.drawing.marks import Text
from packet.sheets.fold import draw
from packet.sheets.hold_box import wording_of
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo, zoo_plan


def test_layers_and_hips_of_the_check_case() -> None:
    """Layers and taping order worked out by hand (common practice, no published source)."""
    plan = plan_of(CHECK_CASE)
    fold, _, pack, _, hips, _ = draw(plan, kit_of(plan))
    marks = {leaf.mark for leaf in plan.assembly.of_kind(LeafKind.WALL)}
    table = [text for text in texts(pack) if text in marks or text in {"6", "5", "4", "3", "2", "1"}]
    # The steps beside the table are numbered too; the table comes first.
    assert table[:18] == ["6", "B5", "B6", "5", "B4", "A1", "4", "B3", "A2", "3", "B2", "A3", "2", "B1", "A4", "1",
                          "A6", "A5"]
    told = prose(hips)
    places = [told.index(pair) for pair in ("6 and 5", "4 and 3", "Turn the strapped pack over", "2 and 1")]
    assert places == sorted(places)
    assert "A6R/B1R" in told.split("Turn the strapped pack over")[1]
    assert "A5/A6" in texts(fold) or "A5/A6 flat" in prose(fold)
    assert "Stack of 5 layers: 5 in high" in prose(fold)


@pytest.mark.parametrize("name", zoo())
def test_every_hip_is_taped_once(name: str) -> None:
    plan = zoo_plan(name)
    told = prose(draw(plan, kit_of(plan))[4])
    for seam in plan.assembly.bonded(SeamKind.HIP):
        assert told.count(seam.mark) == 1


@pytest.mark.parametrize("name", zoo())
def test_pictures_show_every_leaf_where_it_lies(name: str) -> None:
    plan = zoo_plan(name)
    fold, interlock, _, _, hips, _ = draw(plan, kit_of(plan))
    first, second = ([leaf.mark for leaf in plan.assembly.of_kind(LeafKind.WALL) if leaf.half == half]
                     for half in plan.assembly.halves)
    assert all(texts(fold).count(mark) >= 2 for mark in first)
    assert all(texts(interlock).count(mark) >= 3 for mark in second)
    level = {mark.string: mark.at for mark in hips.marks if isinstance(mark, Text)}
    for column in plan.pack.columns:
        heights = [level[mark][1] for mark in column[:-1]]
        assert heights == sorted(heights)


@pytest.mark.parametrize("name", zoo())
def test_hold_points_quote_the_checklist(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    fold, _, pack, *_ = draw(plan, kit)
    for sheet, key in ((fold, f"fold:{plan.assembly.halves[0]}"), (pack, "interlock")):
        limits = wording_of(plan, kit, key).limit
        assert limits
        for limit in limits:
            assert limit in prose(sheet)
    assert "no rigid path is proved" in prose(fold)
