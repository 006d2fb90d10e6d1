"""Folding a half, as a section through its wall leaves."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely import Polygon

from packet.assembly.folding import Section, chain, chain_state, pack_section, section_state, thickened
from packet.assembly.records import LeafKind, SeamKind
from packet.assembly.views import cut, horizontal
from packet.description.terms import Face
from packet.plan import Plan
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo, zoo_plan

INCH = 25.4
FRACTIONS = (0.0, 0.1, 0.25, 0.5, 0.75, 1.0)


@pytest.fixture(scope="module")
def check_case() -> Plan:
    return plan_of(CHECK_CASE)


def _overlap(section: Section) -> float:
    shapes = [Polygon(ring) for ring in section.leaves.values()]
    return float(max(a.intersection(b).area for a, b in combinations(shapes, 2)))


def _states(plan: Plan) -> list[Section]:
    return [section_state(plan.assembly, half, fraction, opened=opened)
            for half in plan.assembly.halves for fraction in FRACTIONS for opened in (False, True)]


@pytest.mark.parametrize("name", zoo())
def test_packed_half_is_a_stack(name: str) -> None:
    plan = zoo_plan(name)
    for half in plan.assembly.halves:
        section = section_state(plan.assembly, half, 0.0)
        left, bottom, right, top = section.bounds
        assert right - left == pytest.approx(2 * plan.geometry.leaf_width)
        # The last wall stays flat, so a half of n leaves has n - 1 layers.
        assert top - bottom == pytest.approx((plan.geometry.walls - 1) * plan.geometry.thickness)
        assert bottom == pytest.approx(0.0)
        assert _overlap(section) < 1e-3


@pytest.mark.parametrize("name", zoo())
def test_flat_half_is_a_row(name: str) -> None:
    plan = zoo_plan(name)
    for half in plan.assembly.halves:
        left, bottom, right, top = section_state(plan.assembly, half, 1.0).bounds
        assert right - left == pytest.approx(plan.geometry.walls * plan.geometry.leaf_width)
        assert top - bottom == pytest.approx(plan.geometry.thickness)


@pytest.mark.parametrize("name", zoo())
def test_leaves_keep_their_size_and_never_overlap(name: str) -> None:
    plan = zoo_plan(name)
    for section in _states(plan):
        for ring in section.leaves.values():
            assert Polygon(ring).area == pytest.approx(plan.geometry.leaf_width * plan.geometry.thickness)
            assert Polygon(ring).exterior.is_ccw
        assert _overlap(section) < 1e-3


@pytest.mark.parametrize("name", zoo())
def test_pivots_join_the_closing_faces(name: str) -> None:
    plan = zoo_plan(name)
    for half in plan.assembly.halves:
        flat = section_state(plan.assembly, half, 1.0)
        assert len(flat.pivots) == plan.geometry.walls - 1
        for mark, (_, height) in flat.pivots.items():
            # The flat half lies inner face up.
            closing = plan.assembly.seam_by_mark[mark].closing_face
            assert height == pytest.approx(plan.geometry.thickness if closing is Face.INNER else 0.0)
    for section in _states(plan):
        for mark, pivot in section.pivots.items():
            for leaf in plan.assembly.seam_by_mark[mark].leaves:
                assert min(math.dist(pivot, corner) for corner in section.leaves[leaf]) < 1e-6


@pytest.mark.parametrize("name", zoo())
def test_opened_half_stands_as_in_the_plan(name: str) -> None:
    plan = zoo_plan(name)
    walls = plan.assembly.of_kind(LeafKind.WALL)
    standing = {mark: Polygon(ring).centroid for mark, ring in
                cut(walls, horizontal(plan.geometry.wall_height / 2)).items()}
    for half in plan.assembly.halves:
        section = section_state(plan.assembly, half, 1.0, opened=True)
        for a, b in combinations(section.leaves, 2):
            between = math.dist(section.centre(a), section.centre(b))
            assert between == pytest.approx(standing[a].distance(standing[b]), abs=1e-6)


def test_layers_of_the_check_case(check_case: Plan) -> None:
    """Columns as worked out by hand, lowest first (common practice, no published source)."""
    section = pack_section(check_case.assembly, check_case.pack)
    left, bottom, right, top = section.bounds
    assert ((right - left) / INCH, (top - bottom) / INCH) == pytest.approx((48.0, 6.0))
    columns = (("A6", "B1", "B2", "B3", "B4", "B5"), ("A5", "A4", "A3", "A2", "A1", "B6"))
    sides = [{math.copysign(1, section.centre(mark)[0]) for mark in column} for column in columns]
    assert [len(side) for side in sides] == [1, 1]
    assert sides[0] != sides[1]
    assert check_case.pack.columns == columns
    for column in columns:
        assert [section.centre(mark)[1] / INCH for mark in column] == pytest.approx([0.5, 1.5, 2.5, 3.5, 4.5, 5.5])


def _agrees(section: Section, pack: Section) -> bool:
    """Whether the leaves lie as in the pack, but for a shift."""
    first = next(iter(section.leaves))
    shift = [pack.centre(first)[i] - section.centre(first)[i] for i in (0, 1)]
    return all(math.dist((x + shift[0], y + shift[1]), pack.centre(mark)) < 1e-6
               for mark in section.leaves for x, y in [section.centre(mark)])


def _mirrored(section: Section) -> Section:
    return Section({mark: tuple((-x, y) for x, y in ring) for mark, ring in section.leaves.items()}, {})


@pytest.mark.parametrize("name", zoo())
def test_second_half_goes_in_rotated_and_never_mirrored(name: str) -> None:
    plan = zoo_plan(name)
    pack = pack_section(plan.assembly, plan.pack)
    first, second = (section_state(plan.assembly, half, 0.0) for half in plan.assembly.halves)
    assert _agrees(first, pack)
    assert _agrees(second.turned_half(), pack)
    assert not _agrees(second, pack)
    assert not _agrees(_mirrored(second), pack)
    assert _overlap(pack) < 1e-3


def test_turned_half_way_round_twice_is_where_it_was(check_case: Plan) -> None:
    section = section_state(check_case.assembly, "A", 0.3)
    again = section.turned_half().turned_half()
    for mark, ring in section.leaves.items():
        assert all(math.dist(p, q) < 1e-9 for p, q in zip(ring, again.leaves[mark], strict=True))


def test_thickened_boards_fold_the_same(check_case: Plan) -> None:
    section = section_state(thickened(check_case.assembly, 5 * INCH), "A", 0.0)
    _, bottom, _, top = section.bounds
    assert (top - bottom) / INCH == pytest.approx(25.0)
    assert _overlap(section) < 1e-3


@pytest.mark.parametrize("fraction", [-0.01, 1.01])
def test_fraction_outside_its_range_is_refused(check_case: Plan, fraction: float) -> None:
    with pytest.raises(ValueError, match="between 0"):
        section_state(check_case.assembly, "A", fraction)


def test_a_row_is_found_and_a_box_is_none() -> None:
    assert chain(zoo_plan("booth").assembly) == ("LEFT", "BACK", "RIGHT")
    assert chain(zoo_plan("screen").assembly) == tuple(f"A{i}" for i in range(1, 7))
    assert chain(zoo_plan("cool-box").assembly) == chain(zoo_plan("across").assembly) == ()


@pytest.mark.parametrize("name", ["screen", "long screen", "booth"])
def test_a_row_flat_is_one_board_thick_and_packed_its_layers(name: str) -> None:
    plan = zoo_plan(name)
    for fraction, layers in ((1.0, 1), (0.0, plan.pack.layers)):
        _, bottom, _, top = chain_state(plan.assembly, plan.pack, fraction).bounds
        assert (bottom, top) == pytest.approx((0.0, layers * plan.assembly.thickness))
    packed = chain_state(plan.assembly, plan.pack, 0.0)
    for mark in packed.leaves:
        assert packed.centre(mark)[1] == pytest.approx((plan.pack.flats[mark].layer - 0.5) * plan.assembly.thickness)
    with pytest.raises(ValueError, match="not between"):
        chain_state(plan.assembly, plan.pack, 1.1)


@pytest.mark.parametrize("name", zoo())
def test_pivots_of_the_pack_are_where_two_closing_faces_meet(name: str) -> None:
    """A hinge is a corner of both its leaves, at the height where its closing faces lie."""
    plan = zoo_plan(name)
    section = pack_section(plan.assembly, plan.pack)
    for seam in plan.assembly.bonded(SeamKind.WALL_MID, SeamKind.CORNER):
        pivot = section.pivots[seam.mark]
        layers = sorted(plan.pack.flats[mark].layer for mark in seam.leaves)
        for mark in seam.leaves:
            assert min(math.dist(pivot, corner) for corner in section.leaves[mark]) < 1e-6, (seam.mark, mark)
        if layers[0] != layers[1]:  # folded shut: between the two
            assert pivot[1] == pytest.approx(layers[0] * plan.assembly.thickness)
