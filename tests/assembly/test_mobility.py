"""Mobility and vertices (counts for the check case: common practice, worked out apart from the program)."""

from __future__ import annotations

import math

import pytest

from packet.assembly.mobility import mobility
from packet.assembly.records import Assembly
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.vertices import Vertex, vertices
from packet.description.terms import Face, Side
from tests.conftest import CHECK_CASE, plan_of


def ring(walls: int, thickness: float) -> Assembly:
    slant = 500 / math.tan(math.pi / walls) * 1.2
    geometry = RingGeometry(walls, 500, 1200, slant, 60, thickness)
    return ring_assembly(geometry, RingDoors(Side.LEFT, 20, 580, 110, 33), Face.OUTER)


@pytest.mark.parametrize("walls", [4, 6, 8, 10, 12])
def test_rigid_when_shut_own_swing_when_one_is_open_two_more_when_both_are(walls: int) -> None:
    found = mobility(ring(walls, 30))
    assert (found.closed, found.one_open, found.both_open) == (0, 1, 2 + 2)
    assert found.more_when_open == 2


@pytest.mark.parametrize("walls", [6, 8])
def test_without_thickness_there_are_three_more(walls: int) -> None:
    assert mobility(ring(walls, 0)).more_when_open == 3


def test_vertices_of_the_check_case() -> None:
    """At mid and eave four sectors of 90; at corner and eave 90, 90, 63.43, 63.43 with alternate sums of 153.43."""
    found = vertices(plan_of(CHECK_CASE).assembly)
    assert len(found) == 12
    kinds = sorted(tuple(sorted(round(s, 2) for s in v.sectors)) for v in found)
    assert kinds == [(63.43, 63.43, 90.0, 90.0)] * 6 + [(90.0,) * 4] * 6
    assert all(v.folds_flat for v in found)
    corner = next(v for v in found if 63 < min(v.sectors) < 64)
    assert corner.sums == pytest.approx((153.43, 153.43), abs=0.01)
    # Two mid and two corner vertices touch a swing leaf, which is free at corner and eave.
    assert sum(not v.bonded for v in found) == 4


def test_kawasaki_example() -> None:
    """The eight-sector example of the encyclopedia article on Kawasaki's theorem."""
    sectors = (90, 45, 22.5, 22.5, 45, 90, 22.5, 22.5)
    assert Vertex(tuple("abcdefgh"), sectors, True).alternating == 0
    assert Vertex(tuple("abcdefgh"), sectors, True).folds_flat
    assert not Vertex(tuple("abcd"), (90, 90, 60, 70), True).folds_flat
    assert not Vertex(tuple("abc"), (120, 120, 120), True).folds_flat


@pytest.mark.parametrize("walls", [4, 6, 8, 12])
def test_sectors_are_the_angles_of_the_leaves_where_they_meet(walls: int) -> None:
    """By the law of cosines, at the corner that all leaves of the vertex have in space."""
    assembly = ring(walls, 30)
    for vertex in vertices(assembly):
        placed = {mark: [leaf.open_pose.place(point, leaf.depth(Face.INNER)) for point in leaf.hinged]
                  for mark in vertex.leaves for leaf in (assembly.by_mark[mark],)}
        first, *others = placed.values()
        at = min(first, key=lambda point: max(min(math.dist(point, other) for other in corners) for corners in others))
        for mark, sector in zip(vertex.leaves, vertex.sectors, strict=True):
            corners = placed[mark]
            index = min(range(len(corners)), key=lambda i: math.dist(corners[i], at))
            before, after = corners[index - 1], corners[(index + 1) % len(corners)]
            a, b, c = math.dist(at, before), math.dist(at, after), math.dist(before, after)
            assert sector == pytest.approx(math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b))), abs=1e-4)
