"""Pictures for erecting and striking: a hinge from packed to open, a corner seen from inside, where to press."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from packet.assembly.records import Leaf, LeafKind, Point, Seam, SeamKind
from packet.assembly.views import centre_of, cut, horizontal, into_board, swing, walls_in_order
from packet.description.terms import Face
from packet.drawing.dimension import polar
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD
from packet.drawing.marks import Circle, Drawing, Mark, Path, Text
from packet.drawing.pens import LAST, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import Camera, picture, prism
from packet.drawing.symbols import arrow, circled, turn_arrow
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.tape.section import hinge_section
from packet.tape.strips import Role

if TYPE_CHECKING:
    from shapely import Polygon

_LOOKING_UP = -16.0  # degrees; roofs of any slope show their inner face from below
_TO_MID = 0.2  # of the way from a leaf's centre to its wall's
_REACH, _THICK = 17.0, 4.0  # mm of paper, boards of the hinge pictures


def hinge_opening(kit: Kit, name: str, packed: float, opened: float, gap: float, room: Room, above: str) -> Drawing:
    """A hinge cut across, its closing face below: packed in long dashes, open in full; its angles in words.
    `above`: what lies on the other side."""
    words = kit.words
    centre = (room.centre[0], room.bottom + 19.0 + _REACH)
    marks: list[Mark] = []

    def placed(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((centre[0] + x, centre[1] + y) for x, y in points)

    marks += [Path(placed(board), LAST) for board in hinge_section(_THICK, packed, _REACH).boards]
    marks += [Path(placed(board), VISIBLE, 0.88) for board in hinge_section(_THICK, opened, _REACH).boards]
    marks.append(Circle(centre, 0.9, None, 0.0))
    lines = (name, words.text("erect.hinges.angles", packed=packed, opened=opened),
             words.text("erect.hinges.gap", gap=gap))
    for place, (line, style) in enumerate(zip(lines, (BODY_BOLD, BODY, BODY), strict=True)):
        marks.append(Text((room.centre[0], room.bottom + 12.5 - place * 6.0), line, style, "centre"))
    marks.append(Text((centre[0], centre[1] + _THICK + 4.0), above, BODY, "centre"))
    return tuple(marks)


def inside_corner(plan: Plan, kit: Kit, seam: Seam, room: Room) -> Drawing:
    """The head of a corner seen from inside: hip strip hatched, patch dark, none of it on a door."""
    import shapely

    assembly = plan.assembly
    walls = [assembly.by_mark[mark] for mark in seam.leaves]
    leaves = [*walls, *(assembly.above(wall) for wall in walls)]
    patch = next(strip for strip in plan.strips if strip.role is Role.PATCH and strip.edge == f"corner {seam.mark}")
    land = next(strip.land for strip in plan.strips if strip.role is Role.FLAT)
    near = 1.0 * plan.geometry.leaf_width
    shapes = {leaf.mark: shapely.Polygon(leaf.outline).intersection(_square(_head(leaf), near)) for leaf in leaves}
    corner = walls[0].open_pose.place(walls[0].edge("corner")[0])
    camera = Camera(math.degrees(math.atan2(-corner[1], -corner[0])), _LOOKING_UP)
    solid = [face for leaf in leaves for face in prism(
        [leaf.open_pose.place(p) for p in list(shapes[leaf.mark].exterior.coords)[:-1]], into_board(leaf),
        leaf.thickness, leaf.mark)]
    shown = picture(solid, camera)
    left, bottom, right, top = shown.bounds
    ratio = max((right - left) / room.width, (top - bottom) / room.height)
    view = View.centred(Scale(ratio, ""), shown.bounds, room.rect)
    marks: list[Mark] = list(shown.drawing(view, wide=NARROW))

    def on_paper(leaf: Leaf, area: Polygon) -> tuple[Point, ...]:
        return tuple(view.point(camera.project(leaf.open_pose.place((x, y), leaf.depth(Face.INNER))))
                     for x, y in list(area.exterior.coords)[:-1])

    for leaf in leaves:
        if leaf.kind is LeafKind.ROOF:
            hip = shapely.LineString(leaf.edge("hip")).buffer(land, cap_style="flat")
            band = on_paper(leaf, shapes[leaf.mark].intersection(hip))
            marks += [Path(band, None, 0.97), *hatch(band, 1.8), Path(band, NARROW)]
    for leaf in leaves:
        if leaf.mark in patch.leaves:
            marks.append(Path(on_paper(leaf, shapes[leaf.mark].intersection(_square(_head(leaf), patch.width / 2))),
                              VISIBLE, 0.55))
    hinge = view.point(camera.project(corner))
    for leaf in leaves:
        ring = on_paper(leaf, shapes[leaf.mark])
        x, y = sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
        x += 0.25 * (x - hinge[0])
        inside = shapely.Polygon(ring).buffer(-1.0)
        texts = [Text((x, y - style.height / 2), leaf.mark, style, "centre") for style in (BODY_BOLD, FINE_BOLD)]
        marks += [text for text in texts if inside.contains(shapely.Polygon(kit.lettering.box(text)))][:1]
    return tuple(marks)


def _head(leaf: Leaf) -> Point:
    """The leaf's corner where its eave meets the corner of the room or the hip."""
    side = "corner" if leaf.kind is LeafKind.WALL else "hip"
    return next(p for p in leaf.edge("eave") if p in leaf.edge(side))


def _square(centre: Point, half: float) -> Polygon:
    import shapely

    return shapely.box(centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)


def strike_plan(plan: Plan, kit: Kit, press: tuple[str, ...], room: Room) -> Drawing:
    """The plan with both doors folded back (1) and an arrow at every place to press (3)."""
    assembly = plan.assembly
    cuts = cut(assembly.of_kind(LeafKind.WALL), horizontal(plan.geometry.wall_height / 2))
    doors = {door.mark: swing(assembly, door) for door in assembly.doors}
    points = [p for polygon in cuts.values() for p in polygon]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    reach = next(iter(doors.values())).radius
    rect = (min(xs), min(ys) - reach, max(xs), max(ys) + reach)
    margin = 18.0
    ratio = max((rect[2] - rect[0]) / (room.width - 2 * margin), (rect[3] - rect[1]) / (room.height - 2.0))
    view = View.centred(Scale(ratio, ""), rect, room.rect)
    thick = view.length(plan.geometry.thickness)
    marks: list[Mark] = []
    for mark, polygon in cuts.items():
        marks.append(Path(view.points(polygon), LAST if mark in doors else VISIBLE, None if mark in doors else 0.85))
    for each in doors.values():
        pivot, radius = view.point(each.pivot), view.length(each.radius)
        back, turn = math.radians(each.back), math.copysign(1.0, each.back - each.shut)
        free = polar(pivot, radius, each.back)
        # Folded back, the outer faces meet and the door lies outside the wall.
        out = polar((0.0, 0.0), thick, math.degrees(back) - turn * 90.0)
        marks += [Path((pivot, free, (free[0] + out[0], free[1] + out[1]), (pivot[0] + out[0], pivot[1] + out[1])),
                       VISIBLE, 1.0), *turn_arrow(pivot, radius, each.shut, each.back - turn * 14.0, NARROW, 3.0)]
        middle = polar(pivot, radius * 0.55, (each.shut + each.back) / 2)
        marks += circled(middle, "1", kit.lettering)
    for first, second in walls_in_order(assembly):
        seam = next(s for s in assembly.seams_of(first.mark) if s.kind is SeamKind.WALL_MID)
        outer, inner = (centre_of(first, face) for face in (Face.OUTER, Face.INNER))
        other = centre_of(second, Face.OUTER)
        away = math.dist(outer, inner)
        inward = ((inner[0] - outer[0]) / away, (inner[1] - outer[1]) / away)
        x, y = view.point(((outer[0] + other[0]) / 2, (outer[1] + other[1]) / 2))
        if seam.mark in press:
            near, far, number = ((x - inward[0] * off, y - inward[1] * off) for off in (0.8, 11.0, 13.5))
            marks += [*arrow(far, near, VISIBLE, 5), *circled(number, "3", kit.lettering)]
        for leaf in (first, second):
            cx, cy = view.point(centre_of(leaf, Face.INNER)[:2])
            # A little towards the middle of the wall: marks at a corner keep apart.
            cx, cy = cx + _TO_MID * (x - cx), cy + _TO_MID * (y - cy)
            wide = kit.lettering.width(leaf.mark, BODY_BOLD) / 2
            off = 2.0 + abs(inward[0]) * wide + abs(inward[1]) * BODY_BOLD.height / 2
            if view.length(plan.geometry.leaf_width) > 2 * wide + 3:
                marks.append(Text((cx + inward[0] * off, cy + inward[1] * off - BODY_BOLD.height / 2), leaf.mark,
                                  BODY_BOLD, "centre"))
    return tuple(marks)
