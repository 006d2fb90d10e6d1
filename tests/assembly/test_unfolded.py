"""A half laid flat: seams come together edge to edge, gores part by the wedge, nothing overlaps."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely import Polygon

from packet.assembly.records import Assembly, LeafKind, SeamKind, polygon_area
from packet.assembly.unfolded import LaidLeaf, alike, unfolded_half
from packet.description.terms import Face
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import zoo, zoo_plan

NAMES = {SeamKind.WALL_MID: "mid", SeamKind.GORE_MID: "mid", SeamKind.CORNER: "corner", SeamKind.EAVE: "eave"}


def _laid(assembly: Assembly, half: str, face: Face, band: float = 0.0) -> dict[str, LaidLeaf]:
    return {leaf.mark: leaf for leaf in unfolded_half(assembly, half, face, band)}


def _ends(leaf: LaidLeaf, edge: str) -> list[float]:
    return [round(value, 6) + 0.0 for point in sorted(leaf.edge(edge)) for value in point]


@pytest.mark.parametrize("name", zoo())
@pytest.mark.parametrize("face", Face)
def test_edges_of_every_seam_but_the_hips_coincide(name: str, face: Face) -> None:
    assembly = zoo_plan(name).assembly
    for half in assembly.halves:
        laid = _laid(assembly, half, face)
        seams = [s for s in assembly.seams if set(s.leaves) <= set(laid) and s.kind is not SeamKind.HIP]
        assert len(seams) == len(laid) - 1 + sum(leaf.kind is LeafKind.ROOF for leaf in laid.values()) // 2
        for seam in seams:
            a, b = (laid[mark] for mark in seam.leaves)
            assert _ends(a, NAMES[seam.kind]) == pytest.approx(_ends(b, NAMES[seam.kind]), abs=1e-3), seam.mark


@pytest.mark.parametrize("name", zoo())
def test_nothing_overlaps_and_areas_stay(name: str) -> None:
    assembly = zoo_plan(name).assembly
    laid = _laid(assembly, "A", Face.OUTER)
    for a, b in combinations([Polygon(leaf.outline) for leaf in laid.values()], 2):
        assert a.intersection(b).area < 1.0
    for mark, leaf in laid.items():
        assert abs(polygon_area(leaf.outline)) == pytest.approx(abs(polygon_area(assembly.by_mark[mark].hinged)))


def test_the_wedge_between_neighbouring_gores() -> None:
    # The check case: roof leaves 24 wide and 48 long part by 53.13 degrees.
    laid = _laid(plan_of(CHECK_CASE).assembly, "A", Face.INNER)
    directions = []
    for mark in ("A2R", "A3R"):
        foot, tip = sorted(laid[mark].edge("hip"), key=lambda point: point[1])
        directions.append(math.degrees(math.atan2(tip[1] - foot[1], tip[0] - foot[0])))
    assert abs(directions[0] - directions[1]) == pytest.approx(2 * math.degrees(math.atan(24 / 48)), abs=1e-6)
    assert abs(directions[0] - directions[1]) == pytest.approx(53.13, abs=0.005)


@pytest.mark.parametrize("name", zoo())
def test_the_other_face_is_the_mirror_image(name: str) -> None:
    assembly = zoo_plan(name).assembly
    inner, outer = (_laid(assembly, "A", face) for face in (Face.INNER, Face.OUTER))
    wide = max(x for leaf in inner.values() for x, _ in leaf.outline)
    for mark, leaf in inner.items():
        mirrored = sorted((round(wide - x, 4), round(y, 4)) for x, y in leaf.outline)
        seen = sorted((round(x, 4), round(y, 4)) for x, y in outer[mark].outline)
        assert [v for p in mirrored for v in p] == pytest.approx([v for p in seen for v in p], abs=1e-3)


@pytest.mark.parametrize(("name", "first"), [("six metric", "A1"), ("six left", "A6")])
def test_doors_hung_right_run_left_to_right_outside(name: str, first: str) -> None:
    laid = _laid(zoo_plan(name).assembly, "A", Face.OUTER)
    assert min(laid[first].outline)[0] == pytest.approx(0.0)


def test_a_band_lifts_the_roof_only() -> None:
    assembly = plan_of(CHECK_CASE).assembly
    plain, lifted = _laid(assembly, "A", Face.OUTER), _laid(assembly, "A", Face.OUTER, 50.8)
    for mark, leaf in plain.items():
        rise = 50.8 if leaf.kind is LeafKind.ROOF else 0.0
        assert [y + rise for _, y in leaf.outline] == pytest.approx([y for _, y in lifted[mark].outline])


def test_halves_of_a_ring_are_alike() -> None:
    mates = alike(plan_of(CHECK_CASE).assembly)
    assert mates["A3"] == ("A3", "B3") and mates["A6R"] == ("A6R", "B6R")
