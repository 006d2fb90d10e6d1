"""Relief cuts at their places on the half laid flat."""

from __future__ import annotations

from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.description.terms import Face
from packet.plan import Plan, make_plan
from packet.tape.relief_map import ReliefMap, numbered_cuts, parted, relief_map
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo, zoo_plan

INCH = 25.4


def _maps(plan: Plan, half: str = "A") -> list[ReliefMap]:
    maps = [relief_map(plan.assembly, plan.strips, plan.relief, half, face) for face in (Face.INNER, Face.OUTER)]
    return [each for each in maps if each]


def test_sill_cuts_of_the_check_case() -> None:
    # Relief law (common practice): A2/A3 outer, A3/A4 inner, A4/A5 outer, A5/A6 inner, each 2.5 long: land 1.5 + edge 1.
    found = {}
    for each in _maps(plan_of(CHECK_CASE)):
        for slit in each.slits:
            if slit.cut.along == "sill":
                found["/".join(slit.cut.between)] = (each.face, slit.low / INCH, slit.high / INCH, slit.x / INCH)
    # Leaves are 24 wide; doors hung right run left to right seen from outside, right to left from inside.
    expected = {
        "A2/A3": (Face.OUTER, 48),
        "A3/A4": (Face.INNER, 144 - 72),
        "A4/A5": (Face.OUTER, 96),
        "A5/A6": (Face.INNER, 144 - 120),
    }
    assert set(found) == set(expected)
    for between, (face, x) in expected.items():
        assert found[between][0] is face
        assert found[between][1:] == pytest.approx((-1.0, 1.5, x))


def test_eave_cut_at_a_corner_of_the_check_case() -> None:
    # On the inner, closing face the strip only spans the wedge: 2 above the eave. Walls are 48 high.
    inner = _maps(plan_of(CHECK_CASE))[0]
    slit = next(s for s in inner.slits if s.cut.between == ("A2R", "A3R"))
    assert (slit.low / INCH, slit.high / INCH) == pytest.approx((48.0, 50.0))


@pytest.mark.parametrize("name", zoo())
def test_every_cut_stands_once_at_true_length(name: str) -> None:
    plan = zoo_plan(name)
    for half in plan.assembly.halves:
        slits = [slit for each in _maps(plan, half) for slit in each.slits]
        own = numbered_cuts(plan.assembly, plan.relief, half)
        assert sorted(slit.number for slit in slits) == [number for number, _ in own]
        assert len(own) * len(plan.assembly.halves) == len(plan.relief)
        for slit in slits:
            assert slit.high - slit.low == pytest.approx(slit.cut.length)


@pytest.mark.parametrize("name", zoo())
def test_every_cut_goes_through_tape(name: str) -> None:
    from shapely import LineString, Polygon, unary_union

    for each in _maps(zoo_plan(name)):
        tape = unary_union([Polygon(area).buffer(0.5) for area in each.tapes])
        for slit in each.slits:
            # Above the eave a corner's cut runs in the wedge, where the tape bridges the air.
            top = min(slit.high, each.eave + each.band) if slit.cut.along == "eave" else slit.high
            if top > slit.low:
                assert tape.covers(LineString([(slit.x, slit.low), (slit.x, top)])), slit.number


@pytest.mark.parametrize("count", [2, 3])
def test_parts_hold_every_leaf_once_and_every_cut(count: int) -> None:
    for whole in _maps(zoo_plan("twelve metric")):
        parts = parted(whole, count)
        assert sorted(leaf.mark for part in parts for leaf in part.leaves) == sorted(
            leaf.mark for leaf in whole.leaves
        )
        assert {slit.number for part in parts for slit in part.slits} == {slit.number for slit in whole.slits}
        for part in parts:
            assert min(x for leaf in part.leaves for x, _ in leaf.outline) == pytest.approx(0.0, abs=1e-6)


def test_cuts_of_a_screen_lie_on_its_hinges() -> None:
    # Leaves of 500 in a row: hinges every 500 from the left on the marked (inner) face, mirrored on the outer one.
    inner, outer = _maps(zoo_plan("screen"))
    assert [(slit.cut.between, slit.x) for slit in inner.slits] == [
        (("A1", "A2"), pytest.approx(500.0)), (("A3", "A4"), pytest.approx(1500.0)), (("A5", "A6"), pytest.approx(2500.0))]
    assert [(slit.cut.between, slit.x) for slit in outer.slits] == [
        (("A2", "A3"), pytest.approx(3000.0 - 1000.0)), (("A4", "A5"), pytest.approx(3000.0 - 2000.0))]
    assert (inner.band, outer.band) == (0.0, 0.0)


FAN = """
project: Fan
units: mm
shelter:
  preset: free
  leaves:
    - {mark: ONE, outline: [0 x 0, 1000 x 0, 400 x 800, 0 x 800]}
    - {mark: TWO, outline: [0 x 0, 500 x 0, 500 x 1000, 0 x 1000]}
  seams:
    - {join: ONE.2 / TWO.4, open: 90}
boards: {size: 1200 x 2400, thickness: 25}
"""


def test_a_fan_is_no_row() -> None:
    """ONE stands; TWO leans along its slanted edge (600, 800, 1000), square to it: flat, their sills are no line."""
    plan = make_plan(describe(read_text(FAN, Path("fan.yaml"))))
    assert [cut.between for cut in plan.relief] == [("ONE", "TWO")]
    for face in Face:
        assert relief_map(plan.assembly, plan.strips, plan.relief, "A", face) is None
