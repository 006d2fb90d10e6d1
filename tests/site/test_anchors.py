"""Loads anchor by anchor, and the plan turned to the wind."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from packet.description.terms import Compass
from packet.plan import Plan
from packet.sheets import cards, site
from packet.site.anchors import anchor_loads
from packet.site.layout import door_ways, layout
from packet.site.masses import leaf_masses, total
from packet.site.pressure import velocity_pressure
from packet.site.stance import stance
from packet.site.wind import loads
from packet.units import GRAVITY
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import faults, kit_of, prose, texts
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan


def placed(plan: Plan, **values: object) -> Plan:
    own = plan.description
    return replace(plan, description=replace(own, site=replace(own.site, **values)))  # type: ignore[arg-type]


def windy(plan: Plan, **values: object) -> Plan:
    own = plan.description
    return replace(plan, description=replace(own, wind=replace(own.wind, **values)))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["six metric", "five", "screen", "booth", "twelve inch"])
def test_moments_are_held_about_every_edge_in_every_wind(name: str) -> None:
    """Worked out anew from the silhouettes: what all anchors hold together is no less than what turns it over, the
    uplift, or the push; and the worst anchor is the one that all are told of."""
    plan = zoo_plan(name)
    wind, standing = plan.description.wind, stance(plan.assembly)
    q = velocity_pressure(wind.speed, plan.description.system, wind.exposure)
    found = anchor_loads(plan)
    mass, centre = total(leaf_masses(plan))
    lift = (wind.uplift_open if plan.assembly.doors else wind.uplift) * q * standing.covered
    for a, b in standing.edges():
        size = math.dist(a, b)

        def arm(point: tuple[float, float], a: tuple[float, float] = a, b: tuple[float, float] = b, size: float = size
                ) -> float:
            return ((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])) / size

        held = sum(load.hold_down * max(0.0, arm(corner)) for load, corner in zip(found, standing.base, strict=True))
        for side in standing.sides:
            out = math.radians(side.direction) - math.atan2(a[0] - b[0], b[1] - a[1])
            over = 1.5 * (1.2 * q * side.area * math.cos(out) * side.height + lift * arm(standing.middle))
            assert held >= over - 0.9 * mass * GRAVITY * arm((centre[0], centre[1])) - 1e-6
    assert sum(load.hold_down for load in found) >= 1.5 * lift - 0.9 * mass * GRAVITY - 1e-6
    worst = loads(plan).worst
    assert max(load.hold_down for load in found) == pytest.approx(worst.hold_down)
    assert max(load.shear for load in found) == pytest.approx(worst.shear)


def test_anchors_of_a_lopsided_booth_differ() -> None:
    """The back stands on two corners and the open side on two: the middle of the mass is nearer to the back, so the two
    pairs hold differently."""
    found = anchor_loads(zoo_plan("booth"))
    pairs = {load.leaves: load.hold_down for load in found}
    assert pairs["RIGHT",] == pytest.approx(pairs["LEFT",], rel=0.01)
    assert pairs["RIGHT",] > 1.01 * pairs["BACK", "RIGHT"]


@pytest.mark.parametrize("point", Compass)
@pytest.mark.parametrize("name", ["six metric", "four inch", "twelve inch", "five", "seven"])
def test_no_door_looks_into_the_wind(name: str, point: Compass) -> None:
    """The way to a compass point by its bearing from north, clockwise; a door looks across the wind or to the lee."""
    plan = placed(zoo_plan(name), wind_from=point)
    found = layout(plan)
    assert found.north
    assert found.wind is not None
    bearing = math.radians(45 * ("n", "ne", "e", "se", "s", "sw", "w", "nw").index(point))
    assert found.wind == pytest.approx((-math.sin(bearing), -math.cos(bearing)))
    for _, way in door_ways(plan):
        looks = math.radians(way + found.turn)
        assert math.cos(looks) * found.wind[0] + math.sin(looks) * found.wind[1] > -1e-6


@pytest.mark.parametrize("point", Compass)
def test_trench_lies_uphill(point: Compass) -> None:
    found = layout(placed(zoo_plan("six metric"), uphill=point))
    bearing = math.radians(45 * list(Compass).index(point))
    assert found.trench
    assert all(x * math.sin(bearing) + y * math.cos(bearing) > -1e-3 for x, y in found.trench)
    assert found.wind is None  # not known: no arrow
    assert layout(placed(zoo_plan("six metric"), wind_from=point)).trench == ()


def test_narrow_side_of_a_screen_looks_into_the_wind() -> None:
    plan = placed(zoo_plan("screen"), wind_from=Compass.WEST)
    found, sides = layout(plan), stance(plan.assembly).sides
    to_wind = min(sides, key=lambda side: abs((side.direction + found.turn + 180) % 360 - 180))
    assert to_wind.area == pytest.approx(min(side.area for side in sides))


def test_drops_stand_outside_the_walls_at_every_corner() -> None:
    found = layout(zoo_plan("six metric"))
    assert len(found.drips) == 6
    assert all(math.hypot(*drip) > max(math.hypot(*corner) for corner in found.base) for drip in found.drips)
    assert layout(zoo_plan("screen")).drips == ()


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo(), *releasable_zoo()])
def test_nothing_collides_on_a_turned_plan(name: str) -> None:
    plan = windy(placed(zoo_plan(name), wind_from=Compass.SOUTH_WEST, uphill=Compass.NORTH), anchor_capacity=900.0)
    assert list(faults(plan, site.draw)) == []
    assert list(faults(plan, cards.draw)) == []


def test_every_anchor_has_its_line() -> None:
    plan = zoo_plan("booth")
    page = site.draw(plan, kit_of(plan))[1]
    for load in anchor_loads(plan):
        assert {plan.form.force(load.hold_down), plan.form.force(load.shear), plan.form.force(load.pull)} <= set(texts(page))


def test_compass_of_the_doors_is_told() -> None:
    """Check case: doors look along -y and +y; for wind from the west the plan need not be turned, so south and north."""
    plan = placed(plan_of(CHECK_CASE), wind_from=Compass.WEST)
    page = prose(site.draw(plan, kit_of(plan))[0])
    assert "wind from the W: A1 to the S, B1 to the N" in page


def test_strike_card_tells_when_to_strike() -> None:
    plan = windy(plan_of(CHECK_CASE), anchor_capacity=900.0)
    strike = loads(plan).strike
    assert strike is not None
    assert plan.form.speed(strike) in texts(cards.draw(plan, kit_of(plan))[1])
    bare = plan_of(CHECK_CASE)
    assert "Strike it when" not in prose(cards.draw(bare, kit_of(bare))[1])
