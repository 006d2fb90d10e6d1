"""Edges moved inward: the new edge is parallel to the old one at the distance, its ends on the neighbouring edges."""

from __future__ import annotations

import itertools

import pytest
import shapely

from packet.assembly.mended import edge_moved

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
