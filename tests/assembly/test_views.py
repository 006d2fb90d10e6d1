"""Plan, section and swings of the open shelter. Expected sizes of the check case: worked out by hand, apart from
the program (common practice, no published source)."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely import Polygon

from packet.assembly.records import LeafKind, SeamKind
from packet.assembly.views import (
    beyond,
    cut,
    horizontal,
    into_board,
    middle,
    opening_height,
    opening_width,
    standing,
    swing,
    walls_in_order,
)
from packet.description.terms import Face, Side
from packet.plan import Plan
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo, zoo_plan

INCH = 25.4


@pytest.fixture(scope="module")
def check_case() -> Plan:
    return plan_of(CHECK_CASE)


def _plan(plan: Plan) -> dict[str, Polygon]:
    walls = plan.assembly.of_kind(LeafKind.WALL)
    return {mark: Polygon(ring) for mark, ring in cut(walls, horizontal(plan.geometry.wall_height / 2)).items()}


@pytest.mark.parametrize("name", zoo())
def test_walls_stand_as_plates_that_do_not_overlap(name: str) -> None:
    plan = zoo_plan(name)
    found = _plan(plan)
    assert len(found) == 2 * plan.geometry.walls
    for polygon in found.values():
        assert polygon.area == pytest.approx(plan.geometry.leaf_width * plan.geometry.thickness)
    for a, b in combinations(found.values(), 2):
        assert a.intersection(b).area < 1e-3


def test_corner_gap_is_open_outside_and_shut_inside(check_case: Plan) -> None:
    found = _plan(check_case)
    a, b = found["A2"], found["A3"]
    assert a.distance(b) == pytest.approx(0.0, abs=1e-6)
    outside = [max(polygon.exterior.coords, key=lambda p: math.hypot(*p)) for polygon in (a, b)]
    assert math.dist(*outside) == pytest.approx(1.00 * INCH)  # hinge law, t = 1


def test_plan_is_as_wide_as_the_ring(check_case: Plan) -> None:
    whole = [p for polygon in _plan(check_case).values() for p in polygon.exterior.coords]
    ys = [y for _, y in whole]
    assert (max(ys) - min(ys)) / INCH == pytest.approx(83.14 + 2, abs=0.005)
    nearest = min(math.hypot(x, y) for x, y in whole)
    assert 2 * nearest / INCH == pytest.approx(83.14, abs=0.005)


def test_section_shows_slope_eave_and_apex(check_case: Plan) -> None:
    plane = middle(check_case.assembly)
    found = cut(check_case.assembly.leaves, plane)
    assert len(found) == 4
    roof = next(ring for mark, ring in found.items() if mark.endswith("R") and max(x for x, _ in ring) > 0)
    inner = [*sorted(roof, key=lambda p: p[1])[:1], min(roof, key=lambda p: p[0])]
    (x0, y0), (x1, y1) = inner
    assert math.degrees(math.atan2(y1 - y0, x0 - x1)) == pytest.approx(30.0, abs=0.001)
    assert (y0 + (y1 - y0) * x0 / (x0 - x1)) / INCH == pytest.approx(72.00, abs=0.001)
    wall = next(ring for mark, ring in found.items() if not mark.endswith("R") and max(x for x, _ in ring) > 0)
    assert max(y for _, y in wall) / INCH == pytest.approx(48.0)
    assert min(x for x, _ in wall) / INCH == pytest.approx(83.14 / 2, abs=0.003)


def test_a_plane_beside_every_leaf_cuts_none(check_case: Plan) -> None:
    assert cut(check_case.assembly.leaves, horizontal(10_000.0)) == {}
    assert cut(check_case.assembly.leaves, horizontal(-1.0)) == {}


@pytest.mark.parametrize("name", zoo())
def test_half_of_the_leaves_lie_beyond_the_middle(name: str) -> None:
    assembly = zoo_plan(name).assembly
    plane = middle(assembly)
    kept = beyond(assembly.leaves, plane)
    assert len(kept) == len(assembly.leaves) // 2
    for leaf in kept:
        assert max(plane.distance(p) for p in (*standing(leaf), *standing(leaf, leaf.thickness))) <= 1e-6
    assert len(cut(assembly.leaves, plane)) == 4


def test_peak_opening(check_case: Plan) -> None:
    assert opening_width(check_case.assembly, Face.INNER) / INCH == pytest.approx(4.33, abs=0.005)
    assert opening_width(check_case.assembly, Face.OUTER) / INCH == pytest.approx(5.33, abs=0.005)
    # Wall 48, rise 24 over a slant of 48 of which 2.5 are trimmed: 48 + 24 x 45.5 / 48.
    assert opening_height(check_case.assembly, Face.INNER) / INCH == pytest.approx(70.75)


@pytest.mark.parametrize("name", zoo())
def test_doors_swing_outward_about_the_hand_they_are_hung_on(name: str) -> None:
    plan = zoo_plan(name)
    swings = [swing(plan.assembly, door) for door in plan.assembly.doors]
    assert len(swings) == 2
    for each in swings:
        assert each.radius == pytest.approx(plan.geometry.leaf_width)
        halfway = math.radians((each.shut + each.back) / 2)
        free = (each.pivot[0] + each.radius * math.cos(halfway), each.pivot[1] + each.radius * math.sin(halfway))
        assert math.hypot(*free) == pytest.approx(math.hypot(*each.pivot) + each.radius)
        assert math.hypot(*each.pivot) == pytest.approx(plan.geometry.apothem + plan.geometry.thickness)
    # The first door looks towards -y; seen from there x runs to the right, and the free edge is opposite the hand.
    shut = math.cos(math.radians(swings[0].shut))
    assert shut == pytest.approx(-1.0 if plan.description.doors.hand is Side.RIGHT else 1.0)


@pytest.mark.parametrize("name", zoo())
def test_boards_stand_outside_their_inner_faces(name: str) -> None:
    plan = zoo_plan(name)
    for leaf in plan.assembly.leaves:
        outward = into_board(leaf) if leaf.marked_face is Face.INNER else leaf.open_pose.z
        x, y, _ = leaf.open_pose.origin
        assert outward[0] * x + outward[1] * y > 0


def test_walls_are_numbered_from_the_first_door() -> None:
    plan = zoo_plan("eight inch")
    walls = walls_in_order(plan.assembly)
    assert [tuple(leaf.mark for leaf in wall) for wall in walls[:2]] == [("A1", "A2"), ("A3", "A4")]
    assert len(walls) == 8
    assert [number for number, wall in enumerate(walls, 1) if any(leaf.door for leaf in wall)] == [1, 5]
    mids = [seam.mark for seam in plan.assembly.seams if seam.kind is SeamKind.WALL_MID]
    assert mids == [f"{a.mark}/{b.mark}" for a, b in walls]
