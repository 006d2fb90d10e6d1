"""Edges moved inward: the new edge is parallel to the old one at the distance, its ends on the neighbouring edges."""

from __future__ import annotations

import itertools

import pytest
import shapely

from packet.assembly.mended import edge_moved, trimmed_ring
from packet.description.decided import Decision, Remedy
from tests.conftest import CHECK_CASE, plan_of

OUTLINES = {
    "leaning": ((0.0, 0.0), (90.0, 30.0), (70.0, 120.0), (-20.0, 80.0)),
    "roof leaf": ((100.0, 50.0), (540.0, 70.0), (520.0, 1120.0), (490.0, 1125.0)),
}


@pytest.mark.parametrize(("name", "index"), [*itertools.product(OUTLINES, range(4))])
@pytest.mark.parametrize("by", [3.0, -2.0])
def test_an_edge_moves_parallel_to_itself(name: str, index: int, by: float) -> None:
    """Distances and sides as shapely measures them."""
    old = OUTLINES[name]
    new = edge_moved(old, index, by)
    ends = (index, (index + 1) % 4)
    edge = shapely.LineString([old[end] for end in ends])
    far = shapely.affinity.scale(edge, 100, 100)
    neighbours = [shapely.affinity.scale(shapely.LineString([old[a], old[a - 3]]), 100, 100)
                  for a in ((index - 1) % 4, ends[1])]
    for end, neighbour in zip(ends, neighbours, strict=True):
        assert far.distance(shapely.Point(new[end])) == pytest.approx(abs(by))
        assert neighbour.distance(shapely.Point(new[end])) == pytest.approx(0.0, abs=1e-9)
        assert shapely.Polygon(old).area > shapely.Polygon(new).area if by > 0 else (
            shapely.Polygon(old).area < shapely.Polygon(new).area)
    assert [new[place] for place in range(4) if place not in ends] == [old[place] for place in range(4) if place not in ends]


@pytest.mark.parametrize(("remedy", "edge", "widths", "height"), [
    (Remedy.ALL, "corner", [1, 1, 1, 1, 1, 1], 0), (Remedy.ALL, "hip", [1, 1, 1, 1, 1, 1], 0),
    (Remedy.ALL, "sill", [0, 0, 0, 0, 0, 0], 1), (Remedy.PARTNER, "corner", [1, 0, 0, 0, 0, 0], 0),
    (Remedy.USE, "corner", [0, 0, 0, 0, 0, 0], 0)])
def test_what_a_ring_loses_with_its_leaves(remedy: Remedy, edge: str, widths: list[int], height: int) -> None:
    """All leaves narrower or lower, or those at one corner: A1 and A2 are the first wall, so A3 stands at the first."""
    plan = plan_of(CHECK_CASE)
    assert plan.ring is not None
    after = trimmed_ring(plan.ring, plan.assembly, [Decision(1, remedy, "A3", "narrow", edge=edge, amount=12.0)])
    lost = [before - now for before, now in zip(plan.ring.widths, after.widths, strict=True)]
    assert lost == pytest.approx([12.0 * off for off in widths])
    assert after.wall_height == pytest.approx(plan.ring.wall_height - 12.0 * height)
    assert (after.leaf_width < plan.ring.leaf_width) == (widths == [1] * 6)
