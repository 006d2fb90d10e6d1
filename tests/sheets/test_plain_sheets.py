"""Arrangement, fold and opening of screens, booths and boxes, and of rings that come apart, read as data."""

from __future__ import annotations

import re

import pytest

from packet.assembly.records import SeamKind
from packet.sheets import arrangement, erect, fold, roof
from packet.sheets.hold_box import wording_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import plain_zoo, releasable_zoo, zoo_plan

SHEETS = (arrangement, roof, fold, erect)
HUT = re.compile(r"\b(doors?|roofs?|hips?|eaves?|gores?|walls?|halves|half [AB]|interlock|jamb|shelter|peak)\b",
                 re.IGNORECASE)


@pytest.mark.parametrize("name", plain_zoo())
def test_no_word_of_a_hut(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    for module in SHEETS:
        for sheet in module.draw(plan, kit):  # type: ignore[attr-defined]
            assert not HUT.search(f"{sheet.title} {sheet.subtitle} {prose(sheet)}"), sheet.number
    assert roof.draw(plan, kit) == ()


def test_figures_of_the_booth() -> None:
    """1000 wide with a side hung 90 degrees open beyond each end: 25 more on either side (by hand, no source);
    the V is 25 sqrt 2."""
    plan = zoo_plan("booth")
    first, second = arrangement.draw(plan, kit_of(plan))
    assert {"1050 mm", "525 mm", "1900 mm", "25 mm", "90.0°, V 35 mm", "3"} <= set(texts(first))
    for leaf in ("BACK", "LEFT", "RIGHT"):
        assert leaf in texts(first)
    assert {"1050 mm", "1900 mm", "BACK"} <= set(texts(second))


def test_layers_of_the_cool_box() -> None:
    """Worked out by hand: two hinges shut, so BACK, SIDE2 and LID lie on FRONT, SIDE1 and BASE (no source)."""
    plan = zoo_plan("cool-box")
    first, pack, states = fold.draw(plan, kit_of(plan))
    told = prose(pack)
    assert "2 BACK, SIDE2, LID SIDE1/BACK (INNER), SIDE2/FRONT (INNER) 1 FRONT, SIDE1, BASE" in told
    assert {"Layer 1 from above", "Layer 2 from above"} <= set(texts(pack))
    assert "1000 \N{MULTIPLICATION SIGN} 1200 mm" in told
    assert "every joined edge stays together" in prose(states)
    assert "SIDE2/FRONT, SIDE1/BACK" in prose(first)


def test_fold_of_the_screen() -> None:
    plan = zoo_plan("screen")
    first, pack, _ = fold.draw(plan, kit_of(plan))
    for number in range(1, 7):
        assert texts(first).count(f"A{number}") == 3
        assert f"A{number}" in texts(pack)
    assert "OUTER to OUTER: A1/A2, A3/A4, A5/A6. INNER to INNER: A2/A3, A4/A5." in prose(first)
    assert "Layers 1 to 6, from above" in texts(pack)


@pytest.mark.parametrize("name", plain_zoo())
def test_hold_points_quote_the_checklist(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    for sheet, key in ((fold.draw(plan, kit)[0], "fold:A"), (erect.draw(plan, kit)[0], "erect")):
        limits = wording_of(plan, kit, key).limit
        assert limits
        for limit in limits:
            assert limit in prose(sheet)


@pytest.mark.parametrize("name", plain_zoo())
def test_every_hinge_is_shown_opening(name: str) -> None:
    plan = zoo_plan(name)
    opening = " ".join(prose(sheet) for sheet in erect.draw(plan, kit_of(plan)))
    for seam in plan.assembly.bonded():
        assert seam.mark in opening


@pytest.mark.parametrize("name", releasable_zoo())
def test_a_ring_that_comes_apart(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    apart, = (seam.mark for seam in plan.assembly.seams if seam.removable)
    _, stack, pack, _, hips, states = fold.draw(plan, kit)
    assert len(plan.pack.columns) == 1
    assert "not turned over" in prose(stack)
    for layer, mark in enumerate(plan.pack.columns[0], 1):
        assert f"{layer} {mark}" in prose(pack)
    assert f"Never tape {apart} here" in prose(hips)
    assert "no tape here" in texts(hips)
    for seam in plan.assembly.bonded(SeamKind.HIP):
        assert prose(hips).count(seam.mark) == 1
    first, finish, strike = erect.draw(plan, kit)
    assert f"Close hip {apart} last" in prose(first)
    assert apart in prose(finish)
    assert prose(strike).index(f"releasable strip off hip {apart}") < prose(strike).index("Fold both doors")
    assert "board and tape must flex" in prose(states)
    if plan.geometry.walls % 2:
        for half in plan.assembly.halves:
            for limit in wording_of(plan, kit, f"fold:{half}").limit:
                assert limit in " ".join(prose(sheet) for sheet in fold.draw(plan, kit)[:2])
