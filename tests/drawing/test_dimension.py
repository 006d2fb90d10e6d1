"""Dimensions read from the bottom or the right, stand clear of one another, and lead to their marks."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.drawing.collisions import text_conflicts
from packet.drawing.dimension import angular, leader, linear, readable, running
from packet.drawing.lettering import NUMBER, Lettering
from packet.drawing.marks import Arc, Circle, Drawing, Line, Path, Text, bounds
from packet.drawing.pens import DIMENSION, EXTENSION
from packet.pdf.fonts import lettering


def texts(marks: Drawing) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


@given(st.floats(-720, 720))
def test_text_always_reads_from_the_bottom_or_the_right(angle: float) -> None:
    turned = readable(angle)
    assert -90 < turned <= 90 + 1e-6
    # The same line: the angle changed by half turns only.
    assert math.sin(math.radians(2 * (turned - angle))) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("turn", range(0, 360, 15))
@pytest.mark.parametrize("offset", [12.0, -12.0])
def test_a_linear_dimension_measures_what_it_spans(letters: Lettering, turn: int, offset: float) -> None:
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    marks = linear((50, 50), (50 + 80 * cos, 50 + 80 * sin), offset, "600", letters)
    heads = [mark.points[0] for mark in marks if isinstance(mark, Path)]
    assert math.dist(*heads) == pytest.approx(80)
    # Twelve from the outline, on the left of the way for plus.
    assert -sin * (heads[0][0] - 50) + cos * (heads[0][1] - 50) == pytest.approx(offset)
    (text,) = texts(marks)
    assert -90 < text.angle <= 90 + 1e-6
    assert text_conflicts(marks, letters, wider_than=0.0) == []


def test_extension_lines_start_clear_of_the_outline_and_pass_the_dimension_line(letters: Lettering) -> None:
    for offset in (12.0, -12.0):
        lines = [m for m in linear((0, 0), (80, 0), offset, "600", letters) if isinstance(m, Line)]
        ends = [(line.a, line.b) for line in lines if line.pen == EXTENSION]
        sign = math.copysign(1, offset)
        assert ends == [((x, sign), (x, sign * 14)) for x in (0, 80)]


def test_a_short_distance_has_its_text_and_arrows_outside(letters: Lettering) -> None:
    marks = linear((0, 0), (4, 0), 10, "1-1/2", letters)
    left, _, right, _ = bounds(texts(marks), letters)
    assert left > 4
    tips = [(mark.points[0], mark.points[1]) for mark in marks if isinstance(mark, Path)]
    assert all(tip[0] == pytest.approx(edge) for (tip, _), edge in zip(tips, (0, 4), strict=True))
    assert [body[0] < tip[0] for tip, body in tips] == [True, False]
    assert any(isinstance(mark, Line) and mark.pen == DIMENSION and mark.b[0] >= right for mark in marks)
    assert text_conflicts(marks, letters, wider_than=0.0) == []


def test_no_distance_is_refused(letters: Lettering) -> None:
    with pytest.raises(ValueError, match="both points"):
        linear((1, 1), (1, 1), 5, "0", letters)


@pytest.mark.parametrize("direction", ["x", "y"])
@pytest.mark.parametrize("offset", [9.0, -9.0])
def test_running_dimensions_stand_at_their_marks(letters: Lettering, direction: str, offset: float) -> None:
    stations = [(0.0, "0"), (48.0, "480"), (96.0, "960"), (144.0, "1440")]
    marks = running((30, 40), direction, stations, offset, letters)  # type: ignore[arg-type]
    axis = 0 if direction == "x" else 1
    start = (30, 40)[axis]
    for distance, string in stations:
        (text,) = [mark for mark in texts(marks) if mark.string == string]
        assert text.at[axis] == pytest.approx(start + distance)
        far = bounds([text], letters)
        beyond = far[1] - 40 if offset > 0 else 40 - far[3]
        if axis:
            beyond = far[0] - 30 if offset > 0 else 30 - far[2]
        assert beyond > 9
        assert text.angle == (0 if direction == "x" else 90)
    (origin,) = [mark for mark in marks if isinstance(mark, Circle)]
    assert origin.centre[axis] == pytest.approx(start)


@given(
    st.lists(st.floats(0, 200).map(lambda x: round(x, 1)), min_size=1, max_size=9, unique=True),
    st.sampled_from(["x", "y"]),
    st.sampled_from([8.0, -8.0]),
    st.sampled_from(["along", "across", "auto"]),
)
@settings(max_examples=120, deadline=None)
def test_running_dimensions_never_touch(
    places: list[float], direction: str, offset: float, reading: str
) -> None:
    letters = lettering()
    stations = [(place, f"{place * 10:.0f}") for place in places]
    marks = running((0, 0), direction, stations, offset, letters, reading=reading)  # type: ignore[arg-type]
    assert [str(conflict) for conflict in text_conflicts(marks, letters, wider_than=0.0)] == []
    boxes = [shapely.Polygon(letters.box(text)) for text in texts(marks)]
    assert all(a.distance(b) > 1 for a, b in combinations(boxes, 2))
    # In the order of the marks they belong to.
    axis = 0 if direction == "x" else 1
    order = sorted(texts(marks), key=lambda text: sum(box[axis] for box in letters.box(text)))
    assert [text.string for text in order] == [text for _, text in sorted(stations)]


def test_crowded_running_dimensions_turn_and_are_led(letters: Lettering) -> None:
    stations = [(0.0, "0"), (30.0, "480"), (33.0, "528"), (36.0, "576"), (39.0, "624")]
    marks = running((0, 0), "x", stations, -8, letters)
    assert all(text.angle == 90 for text in texts(marks))
    roomy = running((0, 0), "x", [(0.0, "0"), (60.0, "960")], -8, letters)
    assert all(text.angle == 0 for text in texts(roomy))
    assert len(marks) - len(stations) * 4 > len(roomy) - 2 * 4  # leaders come on top


def test_running_dimensions_need_a_station(letters: Lettering) -> None:
    with pytest.raises(ValueError, match="one station"):
        running((0, 0), "x", [], 8, letters)


def test_an_angle_is_drawn_about_its_vertex(letters: Lettering) -> None:
    marks = angular((10, 10), 25, 20, 80, "60.0°", letters, extend_from=3)
    (arc,) = [mark for mark in marks if isinstance(mark, Arc)]
    assert (arc.centre, arc.start, arc.stop) == ((10, 10), 20, 80)
    box = bounds(texts(marks), letters)
    middle = ((box[0] + box[2]) / 2 - 10, (box[1] + box[3]) / 2 - 10)
    assert math.degrees(math.atan2(middle[1], middle[0])) == pytest.approx(50, abs=3)
    assert all(math.dist((10, 10), corner) > 25 for corner in ((box[0], box[1]), (box[2], box[1])))
    assert text_conflicts(marks, letters, wider_than=0.0) == []


def test_a_narrow_angle_has_its_arrows_outside(letters: Lettering) -> None:
    marks = angular((0, 0), 30, 150, 160, "10.0°", letters)
    (arc,) = [mark for mark in marks if isinstance(mark, Arc)]
    assert arc.start < 150
    assert arc.stop > 160
    assert text_conflicts(marks, letters, wider_than=0.0) == []


def test_a_leader_points_and_its_text_stands_beyond_the_shelf(letters: Lettering) -> None:
    for knee in ((40.0, 30.0), (-40.0, 30.0)):
        marks = leader((0, 0), knee, "latch hole\n33.4", letters, style=NUMBER)
        head = next(mark for mark in marks if isinstance(mark, Path) and mark.closed)
        assert head.points[0] == (0, 0)
        box = bounds(texts(marks), letters)
        assert box[0] > 43 if knee[0] > 0 else box[2] < -43
        assert text_conflicts(marks, letters, wider_than=0.0) == []
