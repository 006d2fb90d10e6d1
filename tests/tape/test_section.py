"""The section of a hinge: pure geometry, held against the hinge law (common practice, no source)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from packet.tape.section import bar, bridge_width, edge_section, hinge_section, path_length, roll_spans, stretch

THICK = st.floats(5.0, 150.0)
ANGLE = st.floats(0.0, 180.0)


@pytest.mark.parametrize(
    ("thickness", "angle", "gap"),
    [
        # The law's table of gaps, inches: thickness, angle between the boards, gap on the opening face.
        (0.5, 120.0, 0.50),
        (1.0, 120.0, 1.00),
        (1.5, 120.0, 1.50),
        (2.0, 120.0, 2.00),
        (0.5, 151.04, 0.25),
        (1.0, 151.04, 0.50),
        (1.5, 151.04, 0.75),
        (2.0, 151.04, 1.00),
        (1.0, 180.0, 0.0),
        (1.0, 0.0, 2.0),
    ],
)
def test_gap_is_that_of_the_hinge_law(thickness: float, angle: float, gap: float) -> None:
    assert hinge_section(thickness, angle, 10.0).gap == pytest.approx(gap, abs=0.005)


@given(THICK, ANGLE)
def test_gap_is_the_chord_of_the_turn(thickness: float, angle: float) -> None:
    turn = math.radians(180.0 - angle)
    assert hinge_section(thickness, angle, 80.0).gap == pytest.approx(2 * thickness * math.sin(turn / 2), abs=1e-6)


@given(THICK, ANGLE)
def test_boards_keep_their_size_and_do_not_enter_each_other(thickness: float, angle: float) -> None:
    a, b = (Polygon(board) for board in hinge_section(thickness, angle, 80.0).boards)
    assert a.area == pytest.approx(80.0 * thickness) and b.area == pytest.approx(80.0 * thickness)
    assert a.intersection(b).area < 1e-6


@given(THICK, ANGLE, st.floats(-180.0, 180.0))
def test_the_pivot_stays_where_the_closing_faces_meet(thickness: float, angle: float, turned: float) -> None:
    section = hinge_section(thickness, angle, 80.0).rotated(turned)
    assert section.closing_path[1] == pytest.approx((0.0, 0.0))
    far_a, pivot, far_b = section.closing_path
    between = math.degrees(math.acos(max(-1.0, min(1.0, (far_a[0] * far_b[0] + far_a[1] * far_b[1]) / 80.0**2))))
    assert between == pytest.approx(angle, abs=1e-4)
    assert pivot in section.boards[0] and pivot in section.boards[1]


@given(THICK, st.floats(12.0, 70.0))
def test_a_wrap_on_a_folded_hinge_is_two_lands_and_two_thicknesses(thickness: float, land: float) -> None:
    section = hinge_section(thickness, 0.0, 80.0)
    wrap = stretch(section.opening_path, -(land + thickness), land + thickness)
    assert path_length(wrap) == pytest.approx(2 * land + 2 * thickness)
    # Folded, the opening faces stand upright: the strip ends one land below the edges, one board off the middle.
    assert wrap[0] == pytest.approx((-thickness, -land)) and wrap[-1] == pytest.approx((thickness, -land))
    assert max(y for _, y in wrap) == pytest.approx(0.0)


@given(THICK, st.floats(12.0, 70.0))
def test_a_flat_strip_has_one_land_on_each_closing_face(thickness: float, land: float) -> None:
    section = hinge_section(thickness, 180.0, 80.0)
    strip = stretch(section.closing_path, -land, land)
    assert [v for point in strip for v in point] == pytest.approx([-land, 0.0, 0.0, 0.0, land, 0.0])


@given(THICK, st.floats(10.0, 70.0))
def test_a_sill_strip_is_two_lands_and_one_thickness(thickness: float, land: float) -> None:
    section = edge_section(thickness, 80.0)
    strip = stretch(section.opening_path, -(land + thickness / 2), land + thickness / 2)
    assert path_length(strip) == pytest.approx(2 * land + thickness)
    assert strip[0] == pytest.approx((-thickness / 2, -land))


def test_a_strip_past_the_drawn_board_is_cut_off_there() -> None:
    path = hinge_section(10.0, 180.0, 40.0).closing_path
    assert stretch(path, -100.0, 100.0) == path
    assert stretch(path, 60.0, 100.0) == ()


@given(st.floats(60.0, 180.0), st.floats(0.3, 2.0))
def test_a_bar_lies_outside_the_boards(angle: float, low: float) -> None:
    section = hinge_section(40.0, angle, 80.0)
    drawn = Polygon(bar(stretch(section.closing_path, -50.0, 50.0), -low - 1.0, -low))
    for board in section.boards:
        assert drawn.intersection(Polygon(board)).area < 1e-6
    # Mitred, it keeps its distance to the path everywhere.
    assert drawn.distance(LineString(section.closing_path)) == pytest.approx(low, abs=1e-6)


def test_rolls_lap_as_they_are_told() -> None:
    # Stock 4 and 6 on boards of 2: two strips overlapped 2 make 8 (hinge law).
    assert roll_spans((6.0, 4.0), 2.0) == ((-4.0, 2.0), (0.0, 4.0))
    assert roll_spans((4.0,), 0.0) == ((-2.0, 2.0),)


def test_an_angle_no_hinge_has_is_refused() -> None:
    with pytest.raises(ValueError, match="between 0 and 180"):
        hinge_section(10.0, 181.0, 40.0)


def test_a_strip_over_an_open_hinge() -> None:
    # Boards of 1 at 120: the V is the chord 2 sin 30 = 1.00; with lands of 2 the strip is 5 wide and reaches both.
    section = hinge_section(1.0, 120.0, 4.0)
    far_a, near_a, near_b, far_b = section.bridge_path
    assert math.dist(near_a, near_b) == pytest.approx(1.0)
    assert bridge_width(1.0, 2.0) == 5.0
    assert math.dist(far_a, near_a) == pytest.approx(4.0) == math.dist(near_b, far_b)
