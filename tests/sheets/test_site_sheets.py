"""Sheets of the site: wind, anchors, air, weather, lifting, keeping, read as data."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from packet.description.site_values import Passage
from packet.plan import Plan
from packet.sheets import air, carry, keep, register, site, weather, wind
from packet.sheets.inputs import input_values
from packet.site.masses import leaf_masses, packed_centre
from packet.site.wind import loads, unanchored
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import faults, kit_of, prose, texts
from tests.zoo import zoo_plan

SHEETS = {"wind": wind, "site": site, "air": air, "weather": weather, "carry": carry, "keep": keep}


def every_sheet(plan: Plan, kit: Any) -> tuple[Any, ...]:
    return tuple(sheet for module in SHEETS.values() for sheet in module.draw(plan, kit))


def told(plan: Plan) -> str:
    return " ".join(prose(sheet) for sheet in every_sheet(plan, kit_of(plan)))


def changed(plan: Plan, group: str, **values: Any) -> Plan:
    own = plan.description
    return replace(plan, description=replace(own, **{group: replace(getattr(own, group), **values)}))


def test_speeds_stand_in_large_figures() -> None:
    plan = plan_of(CHECK_CASE)
    found = unanchored(plan)
    page = wind.draw(plan, kit_of(plan))[0]
    assert {plan.form.speed(found.slides), plan.form.speed(found.tips)} <= set(texts(page))
    assert plan.form.force(loads(plan).worst.pull) in prose(page)
    assert "Not an engineering approval" in told(plan)


def test_wet_factor_and_strike_share_count_where_a_capacity_is_given() -> None:
    plan = changed(plan_of(CHECK_CASE), "wind", anchor_capacity=900.0)
    assert told(plan) != told(changed(plan, "wind", wet_factor=0.3)) != told(changed(plan, "wind", strike_share=0.5))
    assert "Strike it when gusts reach" in told(plan)


def test_a_weak_anchor_is_said() -> None:
    plan = plan_of(CHECK_CASE)
    pull = loads(plan).worst.pull
    for capacity, weak in ((pull * 2.01, False), (pull * 1.99, True)):
        assert ("too little for this wind" in told(changed(plan, "wind", anchor_capacity=capacity))) is weak


def test_every_assumption_is_printed_on_a_sheet_that_rests_on_it() -> None:
    plan = changed(plan_of(CHECK_CASE), "wind", anchor_capacity=900.0)
    kit = kit_of(plan)
    names = kit.words.entry("cover.inputs.names")
    said = told(plan)
    for key in input_values(plan, kit):
        if key.split(".")[0] in ("wind", "lift", "air", "transport") or key in (
                "assume.density", "site.conductivity", "site.strapping_mass", "site.stake_out"):
            assert names[key] in said, key


def test_what_a_project_does_not_need_is_absent() -> None:
    box, booth = zoo_plan("cool-box"), zoo_plan("booth")
    assert wind.draw(box, kit_of(box)) == site.draw(box, kit_of(box)) == ()
    assert air.draw(booth, kit_of(booth)) == ()
    assert wind.draw(booth, kit_of(booth))  # tall: it tips
    screen = zoo_plan("screen")
    assert wind.draw(screen, kit_of(screen))


def test_nothing_held_is_said() -> None:
    """A project that keeps no board and no part of one is told to buy one."""
    screen, spare = zoo_plan("screen"), plan_of(CHECK_CASE)
    assert not any(board.held for board in screen.boards)
    assert "Nothing is held" in prose(keep.draw(screen, kit_of(screen))[2])
    assert "Nothing is held" not in prose(keep.draw(spare, kit_of(spare))[2])


def test_safety_sheets_are_in_every_packet() -> None:
    """There is no key that leaves a sheet or a caution out: the order names them, and they decide by the shape alone."""
    assert {"cautions", *SHEETS} <= set(register.ORDER)


@pytest.mark.parametrize("draw", [weather.draw, carry.draw, keep.draw])
def test_all_projects_have_them(draw: Callable[..., Any]) -> None:
    for name in ("cool-box", "six metric"):
        plan = zoo_plan(name)
        assert draw(plan, kit_of(plan))


def test_air_counts_people_down() -> None:
    """What the vent draws, over what each needs, is never rounded up."""
    plan = plan_of(CHECK_CASE)
    from packet.site.air import breath

    flow = breath(plan)
    assert flow is not None
    served = changed(plan, "air", fresh=flow.flow / 2.999)
    again = breath(served)
    assert again is not None
    assert again.people == 2


def test_every_opening_on_the_way_is_checked() -> None:
    """Check case: bundle 48 x 96 x 5 in, pack 48 x 93.5 x 6 in and a little; what is 6 in wide passes the one and not the
    other, and nothing lies in a length of 47 in except on its face."""
    given = (Passage("van", (1300.0, 1000.0), None), Passage("hatch", (152.4, 1300.0), None),
             Passage("lift", (1300.0, 1000.0), 1190.0))
    plan = changed(plan_of(CHECK_CASE), "transport", openings=given)
    found = prose(next(each for each in carry.draw(plan, kit_of(plan)) if each.title == "On the way"))
    assert [found.count(said) for said in ("flat, end first", "on edge, end first", "DOES NOT PASS")] == [3, 2, 4]
    assert "46-7/8 in long behind it" in found
    more = changed(plan, "transport", openings=given * 2)
    assert list(faults(more, carry.draw)) == []


def test_where_the_pack_balances() -> None:
    """Six leaves of 500 x 1800 x 25 folded onto each other balance in the middle of 500 x 1800 x 150. Check case: the halves
    are one shape turned, so together they balance in the middle of 48 in; walls of 48 in and roofs above them, each three
    quarters of a wall's board at most, put the balance past a quarter and before the middle of 93.5 in."""
    screen = zoo_plan("screen")
    assert packed_centre(screen, leaf_masses(screen)) == pytest.approx((250, 900, 75), abs=15)
    bare = changed(screen, "site", strapping_mass=0.0, foil_mass=0.0)
    assert packed_centre(bare, leaf_masses(bare)) == pytest.approx((250, 900, 75), abs=1e-6)
    plan = plan_of(CHECK_CASE)
    x, y, z = packed_centre(plan, leaf_masses(plan))
    assert x == pytest.approx(24 * 25.4, abs=5)
    assert 93.5 / 4 < y / 25.4 < 93.5 / 2
    assert z == pytest.approx(3 * 25.4, abs=5)
    page = " ".join(prose(sheet) for sheet in carry.draw(plan, kit_of(plan)))
    assert f"The whole pack: {plan.form.length_unit(y)} from that end" in page
    assert "Half A, folded" in page
    assert "Half B, folded" in page


@pytest.mark.parametrize("name", ["twelve inch", "large", "twelve metric"])
def test_stakes_as_far_out_as_a_project_may_have_them(name: str) -> None:
    """The farthest that `site.stake_out` allows; there is a standard scale for that too, and nothing collides."""
    plan = changed(zoo_plan(name), "site", stake_out=6000.0, trench=6000.0)
    assert list(faults(plan, lambda own, kit: site.draw(own, kit))) == []
