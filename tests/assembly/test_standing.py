"""Standing a ring up from its seams alone gives the poses that the closed form gives, up to one rigid motion."""

from __future__ import annotations

import itertools
import math

import pytest

from packet.assembly.closure import closure
from packet.assembly.records import Assembly
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.standing import UPRIGHT, stand
from packet.description.terms import Face, Side


@pytest.mark.parametrize(("walls", "hand", "face"), list(itertools.product((4, 6, 8, 12), Side, Face)))
def test_a_ring_stands_up_the_same(walls: int, hand: Side, face: Face) -> None:
    slant = 500 / math.tan(math.pi / walls) * 1.3
    ring = ring_assembly(RingGeometry(walls, 500, 1200, slant, 60, 30), RingDoors(hand, 20, 580, 110, 33), face)
    stood = Assembly(stand(ring.leaves, ring.seams, UPRIGHT), ring.seams, ring.halves, ring.thickness)
    assert closure(stood).residual < 1e-6
    spots = [[leaf.open_pose.place(p, d) for leaf in shell.leaves for p in leaf.hinged for d in (0, leaf.thickness)]
             for shell in (ring, stood)]
    for i, j in itertools.combinations(range(0, len(spots[0]), 7), 2):
        assert math.dist(spots[1][i], spots[1][j]) == pytest.approx(math.dist(spots[0][i], spots[0][j]), abs=1e-6)
    # Not mirrored either: the volume spanned by four points keeps its sign.
    picks = (0, 9, 33, 61)
    assert _volume(*[spots[1][i] for i in picks]) == pytest.approx(_volume(*[spots[0][i] for i in picks]), rel=1e-6)


def _volume(*points: tuple[float, float, float]) -> float:
    a, b, c = ([p - q for p, q in zip(point, points[0], strict=True)] for point in points[1:])
    return (a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]))
