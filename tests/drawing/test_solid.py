"""Hidden lines: what must be seen and what must not, worked out by hand."""

from __future__ import annotations

import math
import pathlib
from itertools import pairwise

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from packet.drawing.marks import Line, Path
from packet.drawing.pens import HIDDEN, VISIBLE
from packet.drawing.solid import Camera, Face3, Picture, picture, prism
from packet.drawing.view import Scale, View

SQUARE = ((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 100.0, 0.0), (0.0, 100.0, 0.0))
ISOMETRIC = math.degrees(math.atan(1 / math.sqrt(2)))


def drawn(scene: Picture, hidden: bool = False) -> float:
    return sum(math.dist(s.a, s.b) for s in scene.segments if s.hidden is hidden)


def test_a_cube_shows_nine_of_its_twelve_edges() -> None:
    scene = picture(prism(SQUARE, (0, 0, 1), 100), Camera(-45, 30), with_hidden=True)
    assert sum(not s.hidden for s in scene.segments) == 9
    assert sum(s.hidden for s in scene.segments) == 3
    # The three hidden edges meet in the corner farthest from the viewer: (0, 100, 0).
    far = Camera(-45, 30).project((0, 100, 0))
    assert all(min(math.dist(end, far) for end in (s.a, s.b)) < 1e-6 for s in scene.segments if s.hidden)
    assert len(scene.regions) == 3


def test_an_isometric_cube_has_edges_of_one_length() -> None:
    scene = picture(prism(SQUARE, (0, 0, 1), 100), Camera(-45, ISOMETRIC))
    # Isometric drawing shortens every edge to sqrt(2/3).
    assert [math.dist(s.a, s.b) for s in scene.segments] == pytest.approx([100 * math.sqrt(2 / 3)] * 9)


def test_the_camera_looks_the_way_it_says() -> None:
    assert Camera(-90, 0).project((3, 5, 7)) == pytest.approx((3, 7))  # front: x right, z up
    assert Camera(-90, 90).project((3, 5, 7)) == pytest.approx((3, 5))  # plan
    assert Camera(0, 0).project((3, 5, 7)) == pytest.approx((5, 7))  # from +x: y to the right


def test_a_plate_hides_the_middle_of_the_one_behind_it() -> None:
    """Front view: a plate 100 x 100 at y = 200, and before it one 40 wide and taller, x from 30 to 70."""
    back = Face3(((0, 200, 0), (100, 200, 0), (100, 200, 100), (0, 200, 100)), "back")
    front = Face3(((30, 100, -20), (70, 100, -20), (70, 100, 120), (30, 100, 120)), "front")
    scene = picture([back, front], Camera(-90, 0), with_hidden=True)
    assert drawn(scene) == pytest.approx(4 * 100 - 2 * 40 + 2 * (40 + 140), abs=1e-3)
    assert drawn(scene, hidden=True) == pytest.approx(2 * 40, abs=1e-3)
    tops = sorted((s.a[0], s.b[0]) for s in scene.segments if s.a[1] == s.b[1] == pytest.approx(100))
    spans = sorted(tuple(sorted(top)) for top in tops)
    assert [edge for span in spans for edge in span] == pytest.approx([0, 30, 30, 70, 70, 100], abs=1e-3)
    areas = {
        key: sum(shapely.Polygon(r.points).area for r in scene.regions if r.key == key)
        for key in ("back", "front")
    }
    assert areas == pytest.approx({"back": 60 * 100, "front": 40 * 140})


def test_a_window_leaves_the_frame_of_the_face_behind() -> None:
    """A smaller plate wholly before a larger one: the part seen has a hole, and comes in pieces without."""
    back = Face3(((0, 50, 0), (100, 50, 0), (100, 50, 100), (0, 50, 100)), "back")
    front = Face3(((40, 0, 40), (60, 0, 40), (60, 0, 60), (40, 0, 60)), "front")
    scene = picture([back, front], Camera(-90, 0))
    pieces = [shapely.Polygon(region.points) for region in scene.regions if region.key == "back"]
    assert sum(piece.area for piece in pieces) == pytest.approx(100 * 100 - 20 * 20)
    assert all(piece.is_valid for piece in pieces)
    assert shapely.union_all(pieces).intersection(shapely.box(41, 41, 59, 59)).area == pytest.approx(0)


def test_faces_that_cross_each_hide_half_of_the_other() -> None:
    """From the front, two walls that stand as an X: one is nearer on the left, the other on the right."""
    rising = Face3(((0, 0, 0), (100, 100, 0), (100, 100, 60), (0, 0, 60)), "rising")
    falling = Face3(((0, 100, 0), (100, 0, 0), (100, 0, 60), (0, 100, 60)), "falling")
    scene = picture([rising, falling], Camera(-90, 0))
    for key, left, right in (("rising", 0, 50), ("falling", 50, 100)):
        pieces = shapely.union_all([shapely.Polygon(r.points) for r in scene.regions if r.key == key])
        assert pieces.bounds == pytest.approx((left, 0, right, 60), abs=1e-2)
        assert pieces.area == pytest.approx(50 * 60, rel=1e-3)


def test_a_sloping_face_hides_only_what_is_behind_it() -> None:
    """From above, a ramp that rises from x = 0 to 100 as much covers a level line at z = 50 for x > 50."""
    ramp = Face3(((0, 0, 0), (100, 0, 100), (100, 100, 100), (0, 100, 0)), "ramp")
    scene = picture([ramp], Camera(-90, 90), lines=[((-20, 50, 50), (120, 50, 50))], with_hidden=True)
    spans = sorted((s.a[0], s.b[0], s.hidden) for s in scene.segments if not s.bold)
    assert [span[2] for span in spans] == [False, True, False]
    assert [value for span in spans for value in span[:2]] == pytest.approx(
        [-20, 50, 50, 100, 100, 120], abs=2e-3
    )


def test_faces_that_bend_little_meet_in_a_narrow_line() -> None:
    flat = Face3(((0, 0, 0), (50, 0, 0), (50, 50, 0), (0, 50, 0)), "a")
    gentle = Face3(((50, 0, 0), (100, 0, 10), (100, 50, 10), (50, 50, 0)), "a")
    steep = Face3(((50, 0, 0), (100, 0, 30), (100, 50, 30), (50, 50, 0)), "a")
    for other, bold in ((gentle, False), (steep, True)):  # 11.3 and 31 degrees
        scene = picture([flat, other], Camera(-90, 90))
        joint = [s for s in scene.segments if s.a[0] == s.b[0] == pytest.approx(50)]
        assert [s.bold for s in joint] == [bold]


@given(st.floats(-180, 180), st.floats(5, 85))
@example(32.55061158993303, 49.182908636662155)  # faces cut one after the other came out whole again
@settings(max_examples=40, deadline=None)
def test_visible_faces_fill_the_silhouette_of_any_view(azimuth: float, elevation: float) -> None:
    """The regions of two boxes tile the union of the projections: nothing twice, nothing missing."""
    box = prism(SQUARE, (0, 0, 1), 60, "low")
    tower = prism(((150, 20, -30), (190, 20, -30), (190, 70, -30), (150, 70, -30)), (0, 0, 1), 200, "tower")
    camera = Camera(azimuth, elevation)
    scene = picture([*box, *tower], camera)
    shapes = [shapely.Polygon([camera.project(p) for p in face.points]) for face in (*box, *tower)]
    shadow = shapely.union_all([shape for shape in shapes if shape.area > 1e-9])
    seen = [shapely.Polygon(region.points) for region in scene.regions]
    assert sum(piece.area for piece in seen) == pytest.approx(shadow.area, rel=1e-6)
    assert shapely.union_all(seen).symmetric_difference(shadow).area < 1e-3 * shadow.area


@given(st.floats(-180, 180), st.floats(-80, 80))
@settings(max_examples=40, deadline=None)
def test_seen_and_hidden_edges_add_up(azimuth: float, elevation: float) -> None:
    faces = (*prism(SQUARE, (0, 0, 1), 60, "a"), *prism(SQUARE, (0, 0, -1), 25, "b"))
    camera = Camera(azimuth, elevation)
    scene = picture(faces, camera, with_hidden=True, with_regions=False)
    edges = {
        (face.key, *sorted((a, b))) for face in faces for a, b in pairwise((*face.points, face.points[0]))
    }
    length = sum(math.dist(camera.project(a), camera.project(b)) for _, a, b in edges)
    assert drawn(scene) + drawn(scene, hidden=True) == pytest.approx(length, rel=1e-6, abs=1e-3)


def test_a_plate_is_the_same_whichever_way_its_outline_runs() -> None:
    one = prism(SQUARE, (0, 0, 1), 30)
    other = prism(tuple(reversed(SQUARE)), (0, 0, 1), 30)
    below = prism(SQUARE, (0, 0, 1), -30)
    for faces, low in ((one, 0.0), (other, 0.0), (below, -30.0)):
        top = [face for face in faces if all(z == pytest.approx(low + 30) for _, _, z in face.points)]
        assert len(top) == 1
        ring = [(x, y) for x, y, _ in top[0].points]
        assert shapely.LinearRing(ring).is_ccw  # seen from above, outside


def test_the_drawing_of_a_picture_is_to_scale() -> None:
    scene = picture(prism(SQUARE, (0, 0, 1), 100), Camera(-45, 30), with_hidden=True)
    view = View(Scale(10.0, "SCALE 1:10"), (100, 50))
    marks = scene.drawing(view, hidden=True)
    areas = [mark for mark in marks if isinstance(mark, Path)]
    assert len(areas) == 3
    assert all(mark.fill is not None and 0.7 < mark.fill < 1 for mark in areas)
    wide = [mark for mark in marks if isinstance(mark, Line) and mark.pen == VISIBLE]
    assert len(wide) == 9
    assert sum(isinstance(mark, Line) and mark.pen == HIDDEN for mark in marks) == 3
    assert sum(math.dist(line.a, line.b) for line in wide) == pytest.approx(drawn(scene) / 10)
    assert not any(isinstance(mark, Path) for mark in scene.drawing(view, fills=False))


def test_an_empty_picture_has_no_bounds() -> None:
    with pytest.raises(ValueError, match="no bounds"):
        _ = picture([], Camera(0, 0)).bounds


def test_a_tall_pack_whose_edges_all_but_coincide_is_drawn_whole(tmp_path: pathlib.Path) -> None:
    """Eight walls of 40 mm board: the overlay of its faces fails at full precision. What is seen is all of its shadow."""
    from packet.description import load
    from packet.plan import make_plan
    from packet.sheets.word_pictures import LYING, faces, pack_plates

    project = tmp_path / "kiosk.yaml"
    project.write_text(
        "project: Kiosk\nunits: mm\nshelter: {walls: 8, leaf_width: 380, wall_height: 1300, slant: 1050}\n"
        "boards: {size: 1200 x 2400, thickness: 40}\ntape: {stock: [75, 150]}\n", encoding="utf-8")
    plan = make_plan(load(project))
    solid = tuple(faces(pack_plates(plan.assembly, plan.pack)))
    seen = sum(shapely.Polygon(region.points).area for region in picture(solid, LYING).regions)
    shadow = shapely.union_all([shapely.Polygon([LYING.project(p) for p in face.points]).buffer(0) for face in solid],
                               grid_size=1e-4)
    assert seen == pytest.approx(shadow.area, rel=1e-4)


def _showing(scene: Picture) -> dict[str, float]:
    """Area of each key that is left to see when the tones are laid one over the other in their order."""
    left: list[tuple[str, shapely.Geometry]] = []
    for region in scene.fills:
        over = shapely.Polygon(region.points)
        left = [(key, shapely.difference(area, over, grid_size=1e-6)) for key, area in left]
        left.append((region.key, over))
    found: dict[str, float] = {}
    for key, area in left:
        found[key] = found.get(key, 0.0) + area.area
    return {key: area for key, area in found.items() if area > 1e-3}


def _seen(scene: Picture) -> dict[str, float]:
    found: dict[str, float] = {}
    for region in scene.regions:
        found[region.key] = found.get(region.key, 0.0) + shapely.Polygon(region.points).area
    return found


@given(st.floats(-180, 180), st.floats(5, 85))
@settings(max_examples=25, deadline=None)
def test_tones_laid_over_one_another_leave_what_is_seen(azimuth: float, elevation: float) -> None:
    """Three boxes: drawing over and cutting out come to the same."""
    boxes = (*prism(SQUARE, (0, 0, 1), 60, "low"),
             *prism(((150, 20, -30), (190, 20, -30), (190, 70, -30), (150, 70, -30)), (0, 0, 1), 200, "tower"),
             *prism(((60, -90, 10), (130, -90, 10), (130, -40, 10), (60, -40, 10)), (0, 0, 1), 20, "slab"))
    scene = picture(boxes, Camera(azimuth, elevation))
    assert _showing(scene) == pytest.approx(_seen(scene), rel=1e-5, abs=1e-2)


def test_boards_that_hide_one_another_in_a_ring_are_cut() -> None:
    """Seen from above, three strips laid as the flaps of a box: each over the next, so that no order of them will do."""
    flap = ((-10.0, -60.0, 0.0), (10.0, -60.0, 0.0), (10.0, 60.0, 20.0), (-10.0, 60.0, 20.0))
    faces = []
    for number in range(3):
        turn = math.radians(120 * number)
        ring = [(x + 25, y, z) for x, y, z in flap]
        faces.append(Face3(tuple((x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn), z)
                                 for x, y, z in ring), f"flap {number}"))
    scene = picture(faces, Camera(-90, 90))
    shown = _showing(scene)
    # By the turn of a third they show alike, each less what its neighbour hides.
    assert list(shown.values()) == pytest.approx([shown["flap 0"]] * 3)
    assert shown == pytest.approx(_seen(scene), rel=1e-6)
    assert shown["flap 0"] < 20 * 120 - 100


def test_what_is_seen_of_one_board_is_cut_out_alone() -> None:
    back = Face3(((0, 50, 0), (100, 50, 0), (100, 50, 100), (0, 50, 100)), "back")
    front = Face3(((40, 0, 40), (60, 0, 40), (60, 0, 60), (40, 0, 60)), "front")
    scene = picture([back, front], Camera(-90, 0))
    assert sum(shapely.Polygon(r.points).area for r in scene.visible(["back"])) == pytest.approx(100 * 100 - 20 * 20)
    assert {region.key for region in scene.visible(["back"])} == {"back"}
    assert len(scene.fills) == 2  # whole, the small one over the large one
