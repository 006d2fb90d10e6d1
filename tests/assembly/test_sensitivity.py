"""Sensitivities against an independent solution of the roof's triangles, and loops against rows of leaves."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import fsolve

from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.sensitivity import Cause, sensitivities
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo_plan

STEP = 1e-3

RINGS = [RingGeometry(6, 24, 48, 48, 2.5, 1), RingGeometry(4, 600, 1800, 900, 75, 40), RingGeometry(9, 400, 1100, 1500, 75, 25),
         RingGeometry(12, 300, 1000, 1190, 60, 30)]


def _roof(ring: RingGeometry, width: float, slant: float, lean: float) -> tuple[float, float]:
    """Rise and slope of a roof of equal leaves, from three distances in space alone: corner to mid, mid to apex,
    corner to apex. A leaf whose mid edge leans by `lean` has its hip by Pythagoras in the leaf's own plane."""
    foot = np.array([width, 0.0])
    tip = np.array([-lean, math.sqrt(slant**2 - lean**2)])
    hip = float(np.linalg.norm(foot - tip))
    turn = math.pi / ring.walls

    def misfit(unknown: np.ndarray) -> tuple[float, float, float]:
        corner, mid, rise = unknown
        place = np.array([corner * math.cos(turn), corner * math.sin(turn)])
        return (float(np.hypot(place[0] - mid, place[1])) - width, math.hypot(mid, rise) - slant,
                math.hypot(corner, rise) - hip)

    _, _, rise = fsolve(misfit, (ring.circumradius, ring.apothem, ring.rise), xtol=1e-13)
    return rise, math.degrees(math.asin(rise / slant))


@pytest.mark.parametrize("ring", RINGS, ids=lambda ring: str(ring.walls))
def test_closed_forms_are_the_slopes_of_the_solved_roof(ring: RingGeometry) -> None:
    for off, rise_per, slope_per in (
        ((0, 0, 1), ring.rise_per_squareness, ring.slope_per_squareness),
        ((0, 1, 0), ring.rise_per_slant, ring.slope_per_slant),
        ((1, 0, 0), ring.rise_per_leaf_width, ring.slope_per_leaf_width),
    ):
        if off == (1, 0, 0):  # flat gores: the corner lies where the regular polygon has it
            high, low = (replace(ring, leaf_width=ring.leaf_width + s * STEP) for s in (1, -1))
            found = ((high.rise - low.rise) / (2 * STEP), (high.slope - low.slope) / (2 * STEP))
        else:
            sizes = np.array([ring.leaf_width, ring.slant, 0.0])
            (a, b), (c, d) = (_roof(ring, *(sizes + s * STEP * ring.slant * 0.01 * np.array(off))) for s in (1, -1))
            span = 2 * STEP * ring.slant * 0.01
            found = ((a - c) / span, (b - d) / span)
        assert found == pytest.approx((rise_per, slope_per), rel=1e-3)


def test_numbers_of_the_check_case() -> None:
    # Common practice, no source: -3 per unit of width, +2 per unit of slant; w / rise = 24 / 24 for squareness.
    found = {each.cause: each.apex for each in sensitivities(plan_of(CHECK_CASE).assembly, plan_of(CHECK_CASE).ring)}
    assert found == pytest.approx({Cause.LEAF_WIDTH: -3.0, Cause.SLANT: 2.0, Cause.SQUARENESS: 1.0})


def test_only_a_loop_leaves_a_gap() -> None:
    for name in ("screen", "booth"):
        assert [each.gap for each in zoo_plan(name).sensitivities] == pytest.approx([0.0, 0.0], abs=1e-9)
    # Four walls on end and a base along one: an edge that leans opens the loop, a longer leaf only turns the hinges.
    size, square = zoo_plan("cool-box").sensitivities
    assert size.gap == pytest.approx(0.0, abs=1e-9)
    assert square.gap > 0.05


def test_gap_of_one_leaf_is_within_the_worst_case_of_all() -> None:
    plan = plan_of(CHECK_CASE)
    both = plan.description.limits.mark + plan.description.limits.cut
    for each in plan.sensitivities:
        assert 0 < each.gap * both < plan.gap.worst_case
