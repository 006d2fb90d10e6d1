"""The open shelter in the wind: silhouettes, base, masses, loads."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest
import trimesh

from packet.figures import board_mass
from packet.plan import Plan
from packet.site.figures import site_figures
from packet.site.masses import leaf_masses, total
from packet.site.stance import stance
from packet.site.wind import loads, unanchored
from packet.units import FOOT, MILE_PER_HOUR, POUND, SQUARE_FOOT
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.zoo import plain_zoo, zoo, zoo_plan


def with_wind(plan: Plan, **changes: float | None) -> Plan:
    own = plan.description
    return replace(plan, description=replace(own, wind=replace(own.wind, **changes)))


def test_side_of_the_check_case() -> None:
    """About 40 sq ft and 2.53 ft, worked out by hand on lines without thickness; 1 in boards add 1/24 to the width."""
    sides = stance(plan_of(CHECK_CASE).assembly).sides
    widest = max(sides, key=lambda side: side.area)
    assert 40 < widest.area / SQUARE_FOOT < 40 * (1 + 1 / 24)
    assert widest.height * 1000 / FOOT == pytest.approx(2.53, abs=0.05)


@pytest.mark.parametrize("name", ["four inch", "six left", "eight inch", "twelve metric"])
def test_silhouette_is_the_convex_outline_of_a_ring(name: str) -> None:
    """A closed ring's outline is convex up to the vent: its hull, from all corners at once, is the same but for it."""
    from shapely import MultiPoint

    plan = zoo_plan(name)
    points = [leaf.open_pose.place(p, d) for leaf in plan.assembly.leaves for p in leaf.outline
              for d in (0.0, leaf.thickness)]
    for side in stance(plan.assembly).sides[::5]:
        angle = math.radians(side.direction)
        hull = MultiPoint([(y * math.cos(angle) - x * math.sin(angle), z) for x, y, z in points]).convex_hull
        assert side.area == pytest.approx(hull.area * 1e-6, rel=0.01)
        assert side.height == pytest.approx(hull.centroid.y / 1000, rel=0.02)


@pytest.mark.parametrize("name", zoo())
def test_base_has_a_corner_for_every_wall(name: str) -> None:
    plan = zoo_plan(name)
    assert len(stance(plan.assembly).base) == plan.geometry.walls


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_masses_by_mesh_volumes(path: Path) -> None:
    """Every board's mass and middle against the volume of its solid."""
    plan = plan_of(path)
    masses = leaf_masses(plan)
    assert sum(each.board for each in masses) == pytest.approx(board_mass(plan))
    for leaf, found in zip(plan.assembly.leaves, masses, strict=True):
        if leaf.openings:
            continue
        mesh = trimesh.convex.convex_hull(
            [leaf.open_pose.place(p, d) for p in leaf.outline for d in (0.0, leaf.thickness)])
        assert found.board == pytest.approx(mesh.volume * 1e-9 * plan.description.assume.density, rel=1e-6)
        assert found.centre == pytest.approx(tuple(mesh.center_mass / 1000), abs=1e-6)


def test_all_tape_is_weighed() -> None:
    plan = plan_of(CHECK_CASE)
    site = plan.description.site
    area = {True: 0.0, False: 0.0}
    for need in plan.needs:
        area[need.foil] += need.net * need.roll_width * 1e-6
    tape = sum(each.tape for each in leaf_masses(plan))
    assert tape == pytest.approx(area[False] * site.strapping_mass + area[True] * site.foil_mass)


def test_a_ring_is_balanced() -> None:
    plan = plan_of(CHECK_CASE)
    mass, (x, y, z) = total(leaf_masses(plan))
    assert 30 < mass / POUND < 35  # 23.9 lb of board, and tape
    assert abs(x) < 0.005
    assert abs(y) < 0.005
    assert 0.6 < z < 1.2


def test_speeds_of_the_check_case_as_it_is_built() -> None:
    """By hand 8.7 and 13.1 mph at 30 lb; boards with thickness and computed tape move them a little."""
    found = unanchored(plan_of(CHECK_CASE))
    assert found.slides / MILE_PER_HOUR == pytest.approx(8.7, abs=0.5)
    assert found.tips / MILE_PER_HOUR == pytest.approx(13.1, abs=0.7)
    assert found.slides_open < found.slides
    assert found.tips_open < found.tips
    assert found.moves == found.slides


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo()])
def test_every_shape_has_loads(name: str) -> None:
    plan = zoo_plan(name)
    moved, held = unanchored(plan), loads(plan)
    # Leaning far out, the three level-hinged leaves topple without any wind.
    assert moved.tips == 0 if name == "across" else 0.5 < moved.moves < 40
    assert held.ballast > 0
    assert (held.opened is None) == (not plan.assembly.doors)
    assert (stance(plan.assembly).covered > 0) == (name in zoo() or name in ("cool-box", "across", "leaning"))
    stronger = loads(with_wind(plan, speed=2 * plan.description.wind.speed))
    assert stronger.shut.drag == pytest.approx(4 * held.shut.drag)
    assert stronger.worst.hold_down > held.worst.hold_down


@pytest.mark.parametrize(("key", "value", "more"), [
    ("drag", 2.0, True), ("uplift_open", 3.0, True), ("load_factor", 2.0, True), ("weight_factor", 0.5, True),
    ("terrain", 3, False), ("exposure", 2.0, True)])
def test_every_assumption_counts(key: str, value: float, more: bool) -> None:
    plan = plan_of(CHECK_CASE)
    before, after = loads(plan).worst, loads(with_wind(plan, **{key: value})).worst
    assert after.hold_down > before.hold_down if more else after.hold_down != before.hold_down


def test_strike_speed_is_where_the_wet_anchor_gives_out() -> None:
    plan = with_wind(plan_of(CHECK_CASE), anchor_capacity=800.0, strike_share=1.0)
    strike = loads(plan).strike
    assert strike is not None
    assert loads(with_wind(plan, speed=strike * 1.001)).worst.pull > 400 > loads(
        with_wind(plan, speed=strike * 0.999)).worst.pull
    assert loads(with_wind(plan, anchor_capacity=None)).strike is None


@pytest.mark.parametrize("name", [*plain_zoo(), "six metric"])
def test_figures_are_plain_data(name: str) -> None:
    found = site_figures(zoo_plan(name))
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["mass"]["whole"] == pytest.approx(
        sum(leaf["board"] + leaf["tape"] for leaf in found["mass"]["leaves"]), abs=1e-4)
    assert (found["air"] is None) == (name != "six metric")
