"""Signs: sizes that matter, directions, and textures that stay in their outlines."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.drawing.hatch import dots, hatch
from packet.drawing.lettering import FINE_BOLD, NUMBER, Lettering
from packet.drawing.marks import Arc, Circle, Line, Path, Text, bounds
from packet.drawing.pens import NARROW, VISIBLE
from packet.drawing.room import LayoutError
from packet.drawing.symbols import (
    FaceSide,
    alert_triangle,
    arrow,
    check_bar,
    circled,
    datum_corner,
    face_patch,
    signature_box,
    station_tag,
    terminator,
    tick_box,
    turn_arrow,
)

TRIANGLE = ((0.0, 0.0), (40.0, 0.0), (7.0, 33.0))


@pytest.mark.parametrize("text", ["1", "12", "128"])
def test_a_circled_number_lies_in_its_circle(letters: Lettering, text: str) -> None:
    circle, number = circled((10, 20), text, letters, radius=3, style=NUMBER)
    assert isinstance(circle, Circle)
    left, bottom, right, top = bounds([number], letters)
    assert right - left < 2 * circle.radius
    assert ((left + right) / 2, (bottom + top) / 2) == pytest.approx((10, 20), abs=0.2)


def test_an_arrow_ends_at_its_point_three_to_one(letters: Lettering) -> None:
    shaft, head = arrow((0, 0), (30, 40), VISIBLE, head=6)
    assert isinstance(head, Path)
    assert isinstance(shaft, Line)
    assert head.points[0] == (30, 40)
    assert math.dist(*head.points[1:]) == pytest.approx(2)
    assert shaft.b == pytest.approx((30 * 44 / 50, 40 * 44 / 50))
    assert arrow((1, 1), (1, 1)) == ()


def test_a_terminator_opens_fifteen_degrees() -> None:
    (head,) = terminator((5, 5), (0, -2), size=3)
    assert isinstance(head, Path)
    tip, a, b = head.points
    opening = math.atan2(a[1] - tip[1], a[0] - tip[0]) - math.atan2(b[1] - tip[1], b[0] - tip[0])
    assert abs(math.degrees(opening)) == pytest.approx(15)  # ISO 129-1, narrow arrowhead
    assert min(a[1], b[1]) > 5


@pytest.mark.parametrize(("start", "stop"), [(10, 200), (170, -60), (0, 90), (90, 0)])
def test_a_turn_arrow_ends_where_it_is_told(start: float, stop: float) -> None:
    arc, head = turn_arrow((0, 0), 10, start, stop)
    assert isinstance(arc, Arc)
    assert isinstance(head, Path)
    assert head.points[0] == pytest.approx(
        (10 * math.cos(math.radians(stop)), 10 * math.sin(math.radians(stop)))
    )
    assert arc.start < arc.stop
    assert (arc.start if stop > start else arc.stop) == start
    # The head points the way of the turn.
    back = ((head.points[1][0] + head.points[2][0]) / 2, (head.points[1][1] + head.points[2][1]) / 2)
    cross = back[0] * head.points[0][1] - back[1] * head.points[0][0]
    assert (cross > 0) == (stop > start)


def test_the_datum_triangle_touches_the_corner_from_outside() -> None:
    (triangle,) = datum_corner((50, 60), (-1, -1))
    assert isinstance(triangle, Path)
    assert triangle.points[0] == (50, 60)
    assert all(x <= 50 and y <= 60 for x, y in triangle.points)


def test_tick_box_signature_and_tag_sizes(letters: Lettering) -> None:
    assert bounds(tick_box((1, 2)), letters) == (1, 2, 10.5, 11.5)
    assert bounds(signature_box((0, 0), 60, "lead", letters), letters) == (0, 0, 60, 16)
    block, word = station_tag((100, 50), "CUT", letters)
    assert isinstance(word, Text)
    assert word.grey == 1.0
    outer, inner = bounds([block], letters), bounds([word], letters)
    assert outer[2:] == (100, 50)
    assert outer[0] < inner[0] < inner[2] < outer[2]
    assert (inner[1] + inner[3]) / 2 == pytest.approx((outer[1] + outer[3]) / 2, abs=0.4)
    assert bounds(alert_triangle((5, 5), 12), letters) == pytest.approx((5, 5, 17, 5 + 12 * 0.8660254))


def test_a_label_too_long_for_its_sign_is_refused(letters: Lettering) -> None:
    with pytest.raises(LayoutError, match="signature box"):
        signature_box((0, 0), 20, "name of the lead and date", letters)
    with pytest.raises(LayoutError, match="check bar"):
        check_bar((0, 0), 10, "100 mm and more", letters)


@pytest.mark.parametrize("direction", ["horizontal", "vertical"])
def test_a_check_bar_has_its_length(letters: Lettering, direction: str) -> None:
    marks = check_bar((10, 10), 100, "100 mm", letters, direction, divisions=10)  # type: ignore[arg-type]
    axis = 0 if direction == "horizontal" else 1
    bar = next(mark for mark in marks if isinstance(mark, Line) and mark.pen == VISIBLE)
    assert bar.b[axis] - bar.a[axis] == 100
    strokes = [mark.a[axis] for mark in marks if isinstance(mark, Line) and mark.pen == NARROW]
    assert strokes == pytest.approx([10 + 10 * i for i in range(11)])


@given(st.floats(0, 180), st.floats(0.8, 6))
@settings(max_examples=40, deadline=None)
def test_hatching_fills_a_polygon_evenly_and_stays_in_it(angle: float, spacing: float) -> None:
    area = shapely.Polygon(TRIANGLE)
    lines = [mark for mark in hatch(TRIANGLE, spacing, angle) if isinstance(mark, Line)]
    assert all(area.buffer(1e-6).covers(shapely.LineString([line.a, line.b])) for line in lines)
    # Lines a spacing apart stand for strips: length times spacing is the area, to a strip at the rim.
    covered = sum(math.dist(line.a, line.b) for line in lines) * spacing
    assert covered == pytest.approx(area.area, abs=spacing * 45)


def test_dots_lie_inside_and_are_a_spacing_apart() -> None:
    spots = [mark for mark in dots(TRIANGLE, 3) if isinstance(mark, Circle)]
    area = shapely.Polygon(TRIANGLE)
    assert all(area.covers(shapely.Point(spot.centre).buffer(spot.radius)) for spot in spots)
    nearest = min(math.dist(a.centre, b.centre) for a in spots for b in spots if a != b)
    assert nearest == pytest.approx(3)
    assert len(spots) == pytest.approx(area.area / (9 * math.sqrt(3) / 2), rel=0.25)
    assert dots(((0, 0), (0.1, 0), (0, 0.1)), 3) == ()


def test_faces_are_told_by_word_and_by_texture(letters: Lettering) -> None:
    inner, outer = (face_patch(face, face.value, (0, 0, 40, 30), letters) for face in FaceSide)
    words = [mark.string for patch in (inner, outer) for mark in patch if isinstance(mark, Text)]
    assert words == ["INNER", "OUTER"]
    assert sum(isinstance(mark, Circle) for mark in inner) > 50
    assert not any(isinstance(mark, Circle) for mark in outer)
    ground = [mark for mark in outer if isinstance(mark, Path)][-1]
    box = bounds([Text((20, 15 - 1.25), "OUTER", FINE_BOLD, "centre")], letters)
    assert shapely.Polygon(ground.points).covers(shapely.box(*box))
