"""The shelter as it stands: front elevation, section through the middle, and a pictorial view."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packet.assembly.records import Leaf, LeafKind
from packet.assembly.views import (
    beyond,
    centre_of,
    cut,
    into_board,
    middle,
    opening_height,
    opening_width,
    standing,
)
from packet.description.terms import Face
from packet.drawing.dimension import angular, leader, linear
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, NUMBER, Lettering
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, Viewport
from packet.drawing.pens import EXTENSION, HEAVY, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import Camera, Face3, picture, prism
from packet.drawing.view import Scale, View, pick_scale, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plan_view import Drawn
from packet.sheets.plates import BEFORE

FRONT = Camera(-90.0, 0.0)
_HEIGHTS = 21.0  # mm of paper left of the elevation for its two heights
_OVERHANG = 3.0  # mm the ground line runs past a view
_BELOW = 22.0  # mm for a dimension and a caption below the ground line
CAPTION = 20.0  # mm from the ground line down to the baseline of a view's caption
_ABOVE = 21.0  # mm for what is said above the peak
_SPLIT_GAP = 4.0
FAR = 1.9  # so many times larger alone, a view has a page of its own
BESIDE = 50.0  # mm, the least width of the picture beside it there
AIR = 6.0  # mm between the two
_ALONG_ROOF = 38.0  # mm of roof on which an angle can be written; the plan page has the angles too
_ARROWS = 8.0  # mm of a dimension line that its two arrowheads need
_ROOMY, _STEEP = 40.0, 50.0  # mm of half span, and slope in degrees, up to which the angles stand on arcs
_MARGIN = 1.0  # mm kept between a leaf mark and the outline of its leaf


def solids(leaves: tuple[Leaf, ...]) -> tuple[Face3, ...]:
    """The leaves as they stand, as plates."""
    return tuple(face for leaf in leaves
                 for face in prism(standing(leaf), into_board(leaf), leaf.thickness, leaf.mark))


def best_split(plan: Plan, kit: Kit, room: Room) -> tuple[Room, Room] | None:
    """Rooms side by side that hold section and elevation at one scale; None where each on a page of its own is far larger."""
    own = room.cut_right(BESIDE, gap=2 * AIR)[1]
    alone = max(section_scale(plan, kit, own).ratio, elevation_scale(plan, kit, own).ratio)
    for scale in series(kit.system):
        spare = room.width - _SPLIT_GAP - section_width(plan, scale) - elevation_width(plan, scale)
        if scale.ratio >= alone and spare >= 0.0:
            return room.cut_left(section_width(plan, scale) + spare / 2, gap=_SPLIT_GAP) if scale.ratio <= FAR * alone else None
    return None


def elevation_scale(plan: Plan, kit: Kit, room: Room) -> Scale:
    left, _, right, top = _reach(plan, FRONT)
    return pick_scale(kit.system, (right - left, top),
                      (room.width - _HEIGHTS - _OVERHANG, room.height - _BELOW - _ABOVE))


def elevation_width(plan: Plan, scale: Scale) -> float:
    """mm of paper that the elevation takes at a scale."""
    left, _, right, _ = _reach(plan, FRONT)
    return (right - left) / scale.ratio + _HEIGHTS + _OVERHANG


def section_scale(plan: Plan, kit: Kit, room: Room) -> Scale:
    left, right = _across(plan)
    return pick_scale(kit.system, (right - left + 2 * plan.geometry.thickness, _peak(plan)),
                      (room.width - 2 * _OVERHANG, room.height - _BELOW - _ABOVE))


def section_width(plan: Plan, scale: Scale) -> float:
    """mm of paper that the section takes at a scale."""
    left, right = _across(plan)
    return (right - left + 2 * plan.geometry.thickness) / scale.ratio + 2 * _OVERHANG


def front_elevation(plan: Plan, kit: Kit, room: Room, ground: float) -> Drawn:
    """The side of the first door, with leaf marks; heights and width over all. `ground`: level on paper, mm."""
    scale = elevation_scale(plan, kit, room)
    left, _, right, top = _reach(plan, FRONT)
    view = View(scale, (room.right - _OVERHANG - (room.width - _HEIGHTS - _OVERHANG) / 2
                        - (left + right) / 2 / scale.ratio, ground))
    form, lettering = kit.form, kit.lettering
    marks: list[Mark] = [*picture(solids(plan.assembly.leaves), FRONT).drawing(view),
                         *_ground(view, left, right)]
    height = plan.geometry.wall_height
    for level, offset in ((height, 6.0), (top, 14.0)):
        choices = ((form.length_unit(level), BODY_BOLD), (form.length_unit(level), FINE_BOLD))
        fitting = [(text, style) for text, style in choices
                   if lettering.width(text, style) + _ARROWS < view.length(level)]
        text, style = fitting[0] if fitting else (form.length(level), FINE_BOLD)
        marks += linear(view.point((left, 0)), view.point((left, level)), offset, text, lettering, style)
    marks += _leaf_marks(kit, view, FRONT, plan.assembly.leaves, Face.OUTER, 0.74)
    marks += _latches(plan, view, [mark for mark in marks if isinstance(mark, Text)], lettering)
    marks += linear(view.point((left, 0)), view.point((right, 0)), -8, form.length_unit(right - left), lettering)
    return _drawn(marks, scale, view, (left, 0.0, right, top), "elevation")


def middle_section(plan: Plan, kit: Kit, room: Room, ground: float) -> Drawn:
    """Cut through the mid seams of the two door walls, seen from the side: inside sizes and angles."""
    scale = section_scale(plan, kit, room)
    geometry, form, lettering, words = plan.geometry, kit.form, kit.lettering, kit.words
    plane = middle(plan.assembly)
    left, right = _across(plan)
    view = View(scale, (room.centre[0] - (left + right) / 2 / scale.ratio, ground))
    camera = Camera(math.degrees(math.atan2(plane.towards[1], plane.towards[0])), 0.0)
    kept = beyond(plan.assembly.leaves, plane)
    cuts = cut(plan.assembly.leaves, plane)
    marks: list[Mark] = list(picture(solids(kept), camera, with_regions=False).drawing(view, fills=False, wide=NARROW))
    for polygon in cuts.values():
        ring = view.points(polygon)
        marks += [Path(ring, None, 1.0), *hatch(ring, 1.2), Path(ring, VISIBLE)]
    apex, thickness = geometry.apex, geometry.thickness
    marks += _ground(view, left - thickness, right + thickness)
    # The lines of the inner roof faces run on to the apex, from which the whole is computed.
    rim, rim_height = geometry.opening_across_flats / 2, opening_height(plan.assembly, Face.INNER)
    for end in (rim * left / right, rim):
        marks.append(Line(view.point((end, rim_height)), view.point((0, apex)), EXTENSION))
    marks += linear(view.point((left, 0)), view.point((right, 0)), -8, form.length_unit(right - left), lettering)
    marks += _cleared(linear(view.point((0, 0)), view.point((0, apex)), 0.01, words.text(
        "arrangement.section.apex", apex=apex), lettering), lettering)
    marks += _roof_angles(plan, kit, view)
    tip = view.point((rim, rim_height))
    marks += leader(tip, (tip[0] + 8, view.point((0, _peak(plan)))[1] + 11), words.text(
        "arrangement.section.opening", rim=rim_height, inside=opening_width(plan.assembly, Face.INNER),
        outside=opening_width(plan.assembly, Face.OUTER)), lettering, BODY_BOLD)
    behind = tuple(leaf for leaf in kept if leaf.mark not in cuts and leaf.kind is LeafKind.WALL)
    texts = _leaf_marks(kit, view, camera, behind, Face.INNER, 0.22)
    if geometry.walls % 2:
        texts = _off_axis(texts, view, lettering)
    marks += _clear_of(marks, texts, lettering)
    return _drawn(marks, scale, view, (left - thickness, 0.0, right + thickness, apex), "section")


def _across(plan: Plan) -> tuple[float, float]:
    """Left and right end of the section's inside, mm from the axis: walls, or a corner opposite a wall."""
    geometry = plan.geometry
    return -(geometry.across_flats - geometry.apothem), geometry.apothem


def _off_axis(texts: Drawing, view: View, lettering: Lettering) -> Drawing:
    """Without the marks that the dimension of the apex would run through."""
    x, _ = view.point((0.0, 0.0))
    return tuple(text for text in texts if isinstance(text, Text)
                 and abs(text.at[0] - x) > lettering.width(text.string, text.style) / 2 + 0.5)


def _roof_angles(plan: Plan, kit: Kit, view: View) -> Drawing:
    """Slope and eave angle: on arcs at the eaves, or written along the roof where the view is too small."""
    geometry, lettering = plan.geometry, kit.lettering
    slope, eave = kit.form.angle(geometry.slope), kit.form.angle(geometry.angle_eave)
    reach = view.length(geometry.apothem)
    right, left = (view.point((side * geometry.apothem, geometry.wall_height)) for side in (1, -1))
    odd = geometry.walls % 2  # opposite the wall stands a hip, which shows neither angle
    if reach > _ROOMY and geometry.slope < _STEEP:
        arc = min(24.0, reach * 0.45)
        at_eave = () if odd else angular(left, arc * 0.5, -90.0, geometry.slope, eave, lettering)
        return _cleared((*angular(right, arc, 180.0 - geometry.slope, 180.0, slope, lettering), *at_eave), lettering)
    marks: list[Mark] = []
    if view.length(geometry.slant) < _ALONG_ROOF:
        return ()
    ends = ((left, 1.0, "eave", eave), (right, -1.0, "slope", slope))
    for foot, turn, key, value in ends[1:] if odd else ends:
        along = math.radians(geometry.slope)
        run, off = view.length(geometry.slant) * 0.42, view.length(geometry.thickness) + 2.2
        at = (foot[0] + turn * (run * math.cos(along) - off * math.sin(along)),
              foot[1] + run * math.sin(along) + off * math.cos(along))
        marks.append(Text(at, kit.words.text(f"arrangement.section.{key}", angle=value), BODY_BOLD, "centre",
                          turn * geometry.slope))
    return tuple(marks)


def ground_level(plan: Plan, room: Room, scale: Scale) -> float:
    """Where the ground line of a view at that scale runs, mm on paper, so that it stands in the middle of the room."""
    return room.bottom + _BELOW + (room.height - _BELOW - _ABOVE - _peak(plan) / scale.ratio) / 2


def pictorial(plan: Plan, room: Room, camera: Camera = BEFORE) -> Drawing:
    """The shelter from the front and above, or as another camera has it, as large as the room; no scale."""
    shown = picture(solids(plan.assembly.leaves), camera)
    left, bottom, right, top = shown.bounds
    ratio = max((right - left) / room.width, (top - bottom) / room.height)
    return shown.drawing(View.centred(Scale(ratio, ""), shown.bounds, room.rect))


def _drawn(marks: list[Mark], scale: Scale, view: View, rect: tuple[float, float, float, float], name: str) -> Drawn:
    low, high = view.point(rect[:2]), view.point(rect[2:])
    return Drawn(tuple(marks), scale, Viewport((*low, *high), scale.ratio, name))


def _reach(plan: Plan, camera: Camera) -> tuple[float, float, float, float]:
    points = [camera.project(p) for leaf in plan.assembly.leaves for depth in (0.0, leaf.thickness)
              for p in standing(leaf, depth)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _peak(plan: Plan) -> float:
    """The highest of the built shelter and of the apex of its inner lines, mm."""
    return max(plan.geometry.apex, _reach(plan, FRONT)[3])


def _clear_of(drawn: Sequence[Mark], added: Drawing, lettering: Lettering) -> Drawing:
    """Those of the added texts that no text already drawn comes near."""
    import shapely

    taken = [shapely.Polygon(lettering.box(mark)).buffer(1.0) for mark in drawn if isinstance(mark, Text)]
    return tuple(mark for mark in added if isinstance(mark, Text)
                 and not any(box.intersects(shapely.Polygon(lettering.box(mark))) for box in taken))


def _ground(view: View, left: float, right: float) -> Drawing:
    a, b = view.point((left, 0)), view.point((right, 0))
    return (Line((a[0] - _OVERHANG, a[1]), (b[0] + _OVERHANG, b[1]), HEAVY),)


def _cleared(marks: Drawing, lettering: Lettering) -> Drawing:
    """The marks with clear ground under every text, for texts that stand on lines of the view."""
    return tuple(one for mark in marks for one in (
        (Path(lettering.box(mark), None, 1.0), mark) if isinstance(mark, Text) else (mark,)))


def _leaf_marks(kit: Kit, view: View, camera: Camera, leaves: tuple[Leaf, ...], face: Face, level: float) -> Drawing:
    """Marks on the leaves whose face looks at the viewer, in the largest lettering that stands clear inside.
    `level`: part of a wall's height at which they stand."""
    import shapely

    marks: list[Mark] = []
    near = camera.axes()[2]
    for leaf in leaves:
        normal = leaf.open_pose.z if leaf.marked_face is face else into_board(leaf)
        if sum(a * b for a, b in zip(normal, near, strict=True)) < 0.05:
            continue
        outline = shapely.Polygon(view.points(camera.project(p) for p in standing(leaf, leaf.depth(face))))
        clear = outline.buffer(-_MARGIN)
        x, y = view.point(camera.project(centre_of(leaf, face)))
        if leaf.kind is LeafKind.WALL:
            y = outline.bounds[1] + level * (outline.bounds[3] - outline.bounds[1])
        for style in (NUMBER, BODY_BOLD, FINE_BOLD):
            text = Text((x, y - style.height / 2), leaf.mark, style, "centre")
            word = Text((x, text.at[1] - BODY.leading), kit.words.text("arrangement.plan.door"), BODY, "centre")
            if clear.contains(shapely.Polygon(kit.lettering.box(text))):
                marks.append(text)
                if leaf.door and clear.contains(shapely.Polygon(kit.lettering.box(word))):
                    marks.append(word)
                break
    return tuple(marks)


def _latches(plan: Plan, view: View, texts: Sequence[Text], lettering: Lettering) -> Drawing:
    """Latch holes of leaves that face the front squarely, unless a mark stands there in a small view."""
    import shapely

    marks: list[Mark] = []
    boxes = [shapely.Polygon(lettering.box(text)) for text in texts]
    for leaf in plan.assembly.of_kind(LeafKind.WALL):
        if centre_of(leaf, Face.OUTER)[1] - centre_of(leaf, Face.INNER)[1] > -0.999 * leaf.thickness:
            continue
        for hole in leaf.holes:
            at = view.point(FRONT.project(leaf.open_pose.place((hole.x, hole.y))))
            radius = view.length(hole.diameter / 2)
            if not any(shapely.Point(at).distance(box) < radius + 0.5 for box in boxes):
                marks.append(Circle(at, radius, NARROW, 1.0))
    return tuple(marks)
