"""What tape adds to the pack, against sums worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.tape.bulk import bulk
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo_plan

INCH = 25.4


def test_a_screen_of_six() -> None:
    """Tape 0.2, foil 0.08. On the side of A1/A2, A3/A4 and A5/A6 all six leaves carry strapping on both faces and foil
    on the outer: 6 x 0.48. At the foot the sill strip adds 0.4 and its foil on both faces 0.16: 6 x 1.04."""
    plan = zoo_plan("screen")
    found = bulk(plan.assembly, plan.pack, plan.strips, 0.2, 0.08)
    assert found.along == pytest.approx(6 * 0.48)
    # Foil of 125 over the wraps, and of 114 over the sill, takes two passes that lap: at most one lap more each.
    assert 6 * 1.04 <= found.most + 1e-9 <= 6 * (1.04 + 3 * 0.08)


def test_thickness_follows_tape_and_foil_apart() -> None:
    plan = zoo_plan("booth")
    none, tape, foil = (bulk(plan.assembly, plan.pack, plan.strips, *both).most for both in ((0, 0), (0.2, 0), (0, 0.2)))
    assert none == 0 and tape > 0 and foil > 0


def test_check_case_is_about_an_eighth() -> None:
    """Six layers of two strapping and one foil, 6 x 0.019, and on both leaves of a door hinge its doublers again:
    0.152. Common practice, no source: about 1/8."""
    plan = plan_of(CHECK_CASE)
    assert plan.bulk.along / INCH == pytest.approx(8 * 0.019)
    assert plan.bulk.along / INCH == pytest.approx(0.125, abs=1 / 32)


def test_the_project_file_governs() -> None:
    plan = plan_of(CHECK_CASE)
    told = replace(plan, description=replace(plan.description, assume=replace(plan.description.assume, hinge_bulk=7.0)))
    assert (told.bulk.along, told.bulk.most) == (7.0, 7.0)
