"""Roof attach, erection, finish and strike, read as data."""

from __future__ import annotations

import pytest

from packet.assembly.records import LeafKind, SeamKind
from packet.sheets import erect, roof
from packet.sheets.hold_box import task_of, wording_of
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, on_paper, prose, texts
from tests.zoo import zoo, zoo_plan


@pytest.mark.parametrize("name", zoo())
def test_roof_names_the_edges_without_tape(name: str) -> None:
    plan = zoo_plan(name)
    sheet, = roof.draw(plan, kit_of(plan))
    half = plan.assembly.halves[0]
    door, = (leaf for leaf in plan.assembly.doors if leaf.half == half)
    assert texts(sheet).count("NO TAPE") == 1
    assert "No tape above a door, on either face." in prose(sheet)
    assert door.half == half
    for leaf in plan.assembly.of_kind(LeafKind.WALL):
        assert texts(sheet).count(leaf.mark) == (1 if leaf.half == half else 0)


def test_erection_of_the_check_case() -> None:
    """Angles and sizes worked out by hand (common practice, no published source)."""
    plan = plan_of(CHECK_CASE)
    first, finish, strike = erect.draw(plan, kit_of(plan))
    assert {"180° to 120.0°", "0° to 120.0°", "0° to 151.0°", "V 1 in", "V 1/2 in"} <= set(texts(first))
    assert "70-3/4 in above ground" in prose(first)
    assert "B6/A1: on B6, B6R, A1R" in prose(finish)
    # Walls that fold, with neither a door nor a jamb.
    assert "A3/A4, B3/B4" in prose(strike)
    assert texts(strike).count("3") == 1 + 2


@pytest.mark.parametrize("name", zoo())
def test_hold_point_and_counts_agree_with_the_plan(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    first, finish, strike = erect.draw(plan, kit)
    for limit in wording_of(plan, kit, "erect").limit:
        assert limit in prose(first)
    assert str(len(plan.assembly.bonded(SeamKind.HIP))) in texts(finish)
    assert str(sum(leaf.kind is LeafKind.ROOF for leaf in plan.assembly.leaves)) in texts(finish)
    pressed = task_of(plan, "strike").values["press"]
    assert texts(strike).count("3") == 1 + len(pressed)
    assert texts(strike).count("1") == 1 + len(plan.assembly.doors)


def test_roof_tells_when_each_edge_is_taped() -> None:
    plan = on_paper(zoo_plan("twelve metric"), "letter")
    told = prose(roof.draw(plan, kit_of(plan))[0])
    assert "Eaves A2/A2R to A12/A12R INNER face now, lying flat" in told
    assert "Eave A1/A1R never, the door must swing; seal both edges" in told


def test_the_wind_sentence_follows_from_the_mobility() -> None:
    """Rigid when shut, one swing with one door open, more with both (counts: common practice, no source)."""
    plan = plan_of(CHECK_CASE)
    kit = kit_of(plan)
    first, *_ = erect.draw(plan, kit)
    assert "shut, it is rigid. One door open, only that swings. Both open, it moves: only to fold." in prose(first)
    loose = kit.words.text("erect.wind", shut=2, one=5, more=0)
    assert "even shut, it moves 2 ways: brace it. One door open, it moves 5 ways. Never both open." in loose


def test_an_odd_ring_is_measured_from_wall_to_corner() -> None:
    plan = zoo_plan("five")
    first, *_ = erect.draw(plan, kit_of(plan))
    assert "Wall to corner inside" in prose(first)
    assert "Across flats" not in prose(first)
