"""Ring geometry against published tables. Each check names its source."""

from __future__ import annotations

import math

import pytest

from packet.assembly.ring_geometry import RingGeometry


def ring(walls: int, slope: float, width: float = 100.0) -> RingGeometry:
    """A ring of that slope: the slant is the apothem over the slope's cosine."""
    apothem = width / math.tan(math.pi / walls)
    return RingGeometry(walls, width, 100.0, apothem / math.cos(math.radians(slope)), 5.0, 1.0)


# Compound-angle chart of a mitre-saw owner's manual, p. 24 (pitch of side; mitre M, bevel B), read there.
# The triangle of one side has the apex angle 2 M; two sides meet at the angle 180 - 2 B.
CHART = {
    10: {5: (35.58, 5.86), 6: (29.62, 4.98), 8: (22.19, 3.81)},
    20: {5: (34.32, 11.60), 6: (28.48, 9.85), 8: (21.27, 7.52), 10: (16.98, 6.07)},
    30: {4: (40.89, 20.70), 5: (32.18, 17.09), 6: (26.57, 14.48), 8: (19.73, 11.03), 10: (15.72, 8.89)},
    45: {4: (35.26, 30.00), 5: (27.19, 24.56), 6: (22.21, 20.70), 8: (16.32, 15.70), 10: (12.94, 12.62)},
}


@pytest.mark.parametrize(("slope", "walls", "mitre", "bevel"), [
    (slope, walls, *angles) for slope, row in CHART.items() for walls, angles in row.items()])
def test_compound_angle_chart(slope: float, walls: int, mitre: float, bevel: float) -> None:
    found = ring(walls, slope)
    # At the peak the leaf's angle is half the gore's: tan = leaf width over slant.
    assert math.degrees(math.atan2(found.leaf_width, found.slant)) == pytest.approx(mitre, abs=0.01)
    assert found.angle_hip == pytest.approx(180 - 2 * bevel, abs=0.02)
    assert found.slope == pytest.approx(slope)


@pytest.mark.parametrize(("walls", "area"), [(5, 1.7205), (6, 2.5981), (8, 4.8284), (10, 7.6942), (12, 11.1962)])
def test_area_of_regular_polygons(walls: int, area: float) -> None:
    """Engineering table of regular polygon areas for side 1 (engineering handbook table, read there)."""
    assert ring(walls, 30, width=0.5).floor_area == pytest.approx(area, abs=6e-5)


@pytest.mark.parametrize(("walls", "apothem", "radius"), [
    (5, .6882, .8507), (6, .8660, 1), (8, 1.2071, 1.3066), (10, 1.5388, 1.6180), (12, 1.8660, 1.9319)])
def test_apothem_and_circumradius(walls: int, apothem: float, radius: float) -> None:
    """Handbook table for regular polygons of side 1."""
    found = ring(walls, 30, width=0.5)
    assert found.apothem == pytest.approx(apothem, abs=6e-5)
    assert found.circumradius == pytest.approx(radius, abs=6e-5)
    # Across: a corner faces a corner where the count is even, and a wall where it is odd.
    even = walls % 2 == 0
    assert found.across_corners == pytest.approx(2 * radius if even else radius + apothem, abs=2e-4)
    assert found.across_flats == pytest.approx(2 * apothem if even else radius + apothem, abs=2e-4)


@pytest.mark.parametrize(("rise", "rafter"), list(zip(range(2, 19), (
    12.17, 12.37, 12.65, 13.00, 13.42, 13.89, 14.42, 15.00, 15.62, 16.28, 16.97, 17.69, 18.44, 19.21, 20.00, 20.81,
    21.63), strict=True)))
def test_common_rafter_per_foot_of_run(rise: int, rafter: float) -> None:
    """Framing-square table: common rafter length per foot of run. The slant is the common rafter."""
    found = RingGeometry(4, 12.0, 1.0, rafter, 1.0, 1.0)
    assert found.apothem == pytest.approx(12)
    # The table is rounded to 0.005; the rise feels it by slant over rise.
    assert found.rise == pytest.approx(rise, abs=0.0051 * rafter / rise)


@pytest.mark.parametrize(("rise", "hip"), list(zip(range(3, 13), (
    17.233, 17.436, 17.692, 18.000, 18.358, 18.762, 19.209, 19.698, 20.224, 20.785), strict=True)))
def test_hip_of_a_square_roof_per_foot_of_run(rise: int, hip: float) -> None:
    """Framing-square table: hip or valley rafter per foot of common run, square building (last digit cut off)."""
    found = RingGeometry(4, 12.0, 1.0, math.hypot(12, rise), 1.0, 1.0)
    assert found.hip == pytest.approx(hip, abs=1e-3)


def test_octagon_rules() -> None:
    """Griffith, Carpentry, sections 23, 38: octagon hip run 13 in per 12 in of common run, plate tangent 5 in;
    rules of thumb, right to 1/16 in (exact 12.99 and 4.97)."""
    found = RingGeometry(8, 12 * math.tan(math.pi / 8), 1.0, 20.0, 1.0, 1.0)
    assert found.apothem == pytest.approx(12)
    assert found.circumradius == pytest.approx(13, abs=1 / 16)
    assert found.leaf_width == pytest.approx(5, abs=1 / 16)


def test_pyramid_from_base_and_height() -> None:
    """Worked five-sided pyramid, base 12, height 24 (published woodworking example; exact slant 25.3811)."""
    apothem = 6 / math.tan(math.pi / 5)
    found = RingGeometry(5, 6, 1, math.hypot(apothem, 24), 1, 1)
    assert found.apothem == pytest.approx(8.2583, abs=5e-5)
    assert found.slope == pytest.approx(71.01, abs=0.005)
    assert found.circumradius == pytest.approx(10.2078, abs=5e-5)
    assert found.slant == pytest.approx(25.3811, abs=5e-5)
    assert found.sector_hip == pytest.approx(76.7, abs=0.05)
