"""The strip cut list accounts for every strip and for every metre of tape."""

from __future__ import annotations

from collections import Counter, defaultdict

import pytest

from packet.tape.cutlist import CutLine, Place, cut_list
from packet.tape.strips import Role, runs
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

PLANS = {**{path.stem: (lambda path=path: plan_of(path)) for path in (*SAMPLES, CHECK_CASE)},
         **{name: (lambda name=name: zoo_plan(name)) for name in (*zoo(), *plain_zoo(), *releasable_zoo())}}


@pytest.mark.parametrize("name", PLANS)
def test_each_roll_gives_what_the_take_off_says(name: str) -> None:
    plan = PLANS[name]()
    totals: dict[tuple[bool, float], float] = defaultdict(float)
    for line in cut_list(plan.assembly, plan.strips):
        totals[line.foil, line.roll] += line.total
    assert totals == {(need.foil, need.roll_width): pytest.approx(need.net) for need in plan.needs}


@pytest.mark.parametrize("name", PLANS)
def test_every_strip_that_is_laid_alone_is_counted_once_on_each_of_its_rolls(name: str) -> None:
    plan = PLANS[name]()
    expected = Counter(strip.role for strip in plan.strips if strip.pull is None for _ in strip.tapes)
    pulled = Counter(role for role, _ in {(s.role, (s.seam is None, s.pull, i)) for s in plan.strips if s.pull
                                          for i in range(len(s.tapes))})
    found: Counter[Role] = Counter()
    for line in cut_list(plan.assembly, plan.strips):
        found[line.role] += line.count
    assert found == expected + pulled


def test_check_case() -> None:
    """By hand: 6 walls of two leaves give 6 mid seams of 48; 4 bonded corners of 48; 5 leaves of 24 per half are
    one pull of 120 at eave and sill; hips 50.87 long (check case); 2 door hinges; 6 corners have a patch."""
    plan = plan_of(CHECK_CASE)
    lines = cut_list(plan.assembly, plan.strips)

    def found(role: Role) -> list[tuple[float, Place, int, float]]:
        return [(round(line.roll / 25.4, 6), line.place, line.count, round(line.length / 25.4, 2))
                for line in lines if line.role is role]

    seams = [(Place.WALL_MID, 6, 48.0), (Place.GORE_MID, 6, 45.5), (Place.CORNER, 4, 48.0), (Place.HIP, 6, 50.87),
             (Place.EAVE, 2, 120.0)]
    assert found(Role.FLAT) == [(4.0, *seam) for seam in seams]
    assert found(Role.WRAP) == [(6.0, *seam) for seam in seams]
    assert found(Role.SILL) == [(4.0, Place.SILL, 2, 120.0)]
    assert [entry[2] for entry in found(Role.DOUBLER)] == [2, 2]
    assert [(place, count) for _, place, count, _ in found(Role.PATCH)] == [(Place.CORNER, 6)]


def test_rolls_side_by_side_name_each_other() -> None:
    plan = plan_of(next(path for path in SAMPLES if path.stem == "tide_gauge"))
    wraps = [line for line in cut_list(plan.assembly, plan.strips) if line.role is Role.WRAP]
    assert {(line.roll, line.beside) for line in wraps} == {(100.0, (150.0,)), (150.0, (100.0,))}


def test_total() -> None:
    assert CutLine(100.0, False, Role.FLAT, Place.HIP, 250.0, 4, ()).total == 1000.0


def test_a_row_of_leaves_is_one_pull_whatever_order_they_are_listed_in() -> None:
    """A booth's front is listed first and stands between its sides; the sill strip runs along all three."""
    booth = plan_of(next(path for path in SAMPLES if path.stem == "ticket_booth"))
    assert runs(booth.assembly) == (("LEFT", "FRONT", "RIGHT"),)
    # The inner faces close at both corners, so the strip is slit on the outer face at each.
    assert [(cut.between, cut.face) for cut in booth.relief] == [
        (("FRONT", "LEFT"), "outer"), (("FRONT", "RIGHT"), "outer")]
