"""Pictures of folding: wall leaves cut across, seen from the sill end, boards drawn thick enough to letter."""

from __future__ import annotations

import math
from itertools import pairwise

from packet.assembly.folding import Section, pack_section, section_state, thickened
from packet.assembly.records import LeafKind, Point, SeamKind
from packet.drawing.dimension import polar, readable
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, rectangle
from packet.drawing.pens import HEAVY, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import circled
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.kit import Kit

_PIVOT = 0.9  # mm, radius of the dot on a pivot
_FILL = {True: 0.88, False: 1.0}  # the first half is grey, the second white
_ROOMY = 1.25  # height of a layer over that of the capitals in it
MOST = 10.0  # mm, the thickest a layer is drawn
PART_WAY = 0.25  # how far open the half is drawn on its way
_ON_ITS_WAY = 0.16  # thickness over leaf width in that picture
_SHOWS = 10.0  # mm of a leaf that must show beside its mark
_EDGE = 1.5  # mm kept clear at the sides for pivots and pens


def caption(kit: Kit, room: Room, number: int | None, text: str) -> tuple[Drawing, Room]:
    """A circled number and a heading along the top of a room, and what is left of it."""
    band, rest = room.cut_top(8.0, gap=1.0)
    middle = (band.bottom + band.top) / 2
    left = band.left
    marks: list[Mark] = []
    if number is not None:
        marks += circled((left + 4.0, middle), str(number), kit.lettering, 4.0, BODY_BOLD)
        left += 10.0
    marks.append(Text((left, middle - BODY_BOLD.height / 2), text, BODY_BOLD))
    return tuple(marks), rest


def flat_half(plan: Plan, kit: Kit, half: str, room: Room) -> Drawing:
    """A half laid flat, inner face up: every leaf's mark in it, the kind of every hinge on its pivot's side."""
    _, band = room.cut_bottom(5.0)
    ratio = len(_walls(plan, half)) * plan.geometry.leaf_width / (room.width - 2 * _EDGE)
    section = section_state(thickened(plan.assembly, min(MOST, band.height - 5.0) * ratio), half, 1.0)
    view = _centred(section, ratio, band)
    marks = [*_leaves(plan, kit, section, view), *_pivots(section, view)]
    for mark, pivot in section.pivots.items():
        seam = plan.assembly.seam_by_mark[mark]
        x, y = view.point(pivot)
        above = y > view.point(section.centre(seam.leaves[0]))[1]
        word = "flat" if seam.angle_packed else "mid" if seam.kind is SeamKind.WALL_MID else "corner"
        marks.append(Text((x, y + 2.0 if above else y - 2.0 - FINE.height), kit.words.text(f"fold.seam.{word}"), FINE,
                          "centre"))
    return tuple(marks)


def folding_half(plan: Plan, kit: Kit, half: str, room: Room) -> Drawing:
    """A half part of the way from flat to folded, on the floor."""
    section = section_state(thickened(plan.assembly, _ON_ITS_WAY * plan.geometry.leaf_width), half, PART_WAY)
    left, bottom, right, top = section.bounds
    ratio = max((right - left) / (room.width - 4.0), (top - bottom) / (room.height - 4.0))
    view = _centred(section, ratio, room)
    # Neighbouring marks are half a leaf's rise apart; where they would hide the leaves, the next picture has them.
    rise = view.length(plan.geometry.leaf_width) * math.sin(math.radians(180 * PART_WAY)) / 2
    style = BODY_BOLD if rise > BODY_BOLD.height + 2.2 else FINE_BOLD
    lettered = kit.lettering.width(max(section.leaves, key=len), style) + 8.0 < view.length(plan.geometry.leaf_width)
    tags: list[Mark] = []
    for mark in section.leaves if lettered else ():
        x, y = view.point(section.centre(mark))
        wide, high = kit.lettering.width(mark, style) / 2 + 0.8, style.height / 2 + 0.8
        tags += [rectangle((x - wide, y - high, x + wide, y + high), None, 1.0),
                 Text((x, y - style.height / 2), mark, style, "centre")]
    return (*_leaves(plan, kit, section, view, lettered=False), *_pivots(section, view),
            *_floor(section, view), *tags)


def cut_across(plan: Plan, kit: Kit, section: Section, ratio: float, room: Room) -> Drawing:
    """A section on the floor of a room, its leaves lettered where they are thick enough or have room beside them."""
    view = _centred(section, ratio, room)
    return (*_leaves(plan, kit, section, view, lettered=False), *_pivots(section, view), *_floor(section, view),
            *_tags(kit, section, view))


def _tags(kit: Kit, section: Section, view: View) -> Drawing:
    """Every leaf's mark on clear ground in its middle, or none where they would stand on one another."""
    import shapely

    for style in (NUMBER, BODY_BOLD, FINE_BOLD):
        marks: list[Mark] = []
        boxes = []
        for mark in section.leaves:
            x, y = view.point(section.centre(mark))
            text = Text((x, y - style.height / 2), mark, style, "centre")
            corners = shapely.Polygon(kit.lettering.box(text)).bounds
            leaf = shapely.Polygon(view.points(section.leaves[mark]))
            if not leaf.buffer(-0.3).contains(shapely.box(*corners)):
                if leaf.length / 2 < kit.lettering.width(mark, style) + _SHOWS:
                    break
                wide, high = (corners[2] - corners[0]) / 2 + 0.8, style.height / 2 + 0.8
                marks.append(rectangle((x - wide, y - high, x + wide, y + high), None, 1.0))
            marks.append(text)
            boxes.append(shapely.box(*corners).buffer(0.8))
        clash = any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[i + 1:])
        if len(boxes) == len(section.leaves) and not clash:
            return tuple(marks)
    return ()


def folded_half(plan: Plan, kit: Kit, half: str, room: Room, *, turned: bool = False) -> Drawing:
    """A folded half on the floor, layer upon layer; `turned` half round, as it goes onto the other."""
    layers = plan.pack.layers - 1
    ratio, thick = _stack_scale(plan, room, layers)
    section = section_state(thickened(plan.assembly, thick * ratio), half, 0.0)
    section = section.turned_half() if turned else section
    view = _centred(section, ratio, room)
    floor = () if turned else _floor(section, view)
    return (*_leaves(plan, kit, section, view), *_pivots(section, view), *floor)


def whole_pack(plan: Plan, kit: Kit, room: Room) -> tuple[Drawing, Section, View]:
    """The interlocked halves from the sill end; the section and view let a sheet point at its layers."""
    ratio, thick = _stack_scale(plan, room, plan.pack.layers)
    section = pack_section(thickened(plan.assembly, thick * ratio), plan.pack)
    view = _centred(section, ratio, room)
    return (*_leaves(plan, kit, section, view), *_pivots(section, view), *_floor(section, view)), section, view


def pack_from_above(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """The top layer of the pack, sill end to the left, its hip edges bold."""
    import shapely

    top = [leaf for leaf in plan.assembly.leaves if plan.pack.flats[leaf.mark].layer == plan.pack.layers]
    placed = {leaf.mark: [_lying(plan.pack.flats[leaf.mark].place(p)) for p in leaf.hinged] for leaf in top}
    xs, ys = [x for ring in placed.values() for x, _ in ring], [y for ring in placed.values() for _, y in ring]
    names = 9.0  # mm at each end and side for their words
    ratio = max((max(xs) - min(xs)) / (room.width - 2 * names), (max(ys) - min(ys)) / (room.height - 2 * names))
    view = View.centred(Scale(ratio, ""), (min(xs), min(ys), max(xs), max(ys)), room.rect)
    marks: list[Mark] = []
    for leaf in top:
        ring = view.points(placed[leaf.mark])
        marks.append(Path(ring, VISIBLE, _FILL[leaf.half == plan.assembly.halves[0]]))
        x, y = sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
        inside = shapely.Polygon(ring).buffer(-0.8)
        texts = [Text((x, y - style.height / 2), leaf.mark, style, "centre") for style in (BODY_BOLD, FINE_BOLD)]
        marks += [text for text in texts if inside.contains(shapely.Polygon(kit.lettering.box(text)))][:1]
    middle = view.point(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    for leaf in top:
        if leaf.kind is not LeafKind.ROOF:
            continue
        a, b = (view.point(_lying(plan.pack.flats[leaf.mark].place(p))) for p in leaf.edge("hip"))
        apart = any(seam.removable for seam in plan.assembly.seams_of(leaf.mark))
        marks.append(Line(a, b, VISIBLE if apart else HEAVY))
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        above = y > middle[1]
        angle = readable(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])))
        up = polar((0.0, 0.0), 2.0 if above else -2.5 - BODY_BOLD.height, angle + 90)
        word = kit.words.text("fold.hip_apart" if apart else "fold.hip_here")
        marks.append(Text((x + up[0], y + up[1]), word, BODY_BOLD, "centre", angle))
    for x, key in ((min(xs), "sill_end"), (max(xs), "roof_end")):
        at = view.point((x, (min(ys) + max(ys)) / 2))
        off = -3.0 if key == "sill_end" else 3.0 + FINE.height
        marks.append(Text((at[0] + off, at[1]), kit.words.text(f"fold.{key}"), FINE, "centre", 90.0))
    return tuple(marks)


def _lying(point: Point) -> Point:
    """A point of the pack's plane as drawn on its long side, still seen from above."""
    return (point[1], -point[0])


def _walls(plan: Plan, half: str) -> tuple[str, ...]:
    return tuple(section_state(plan.assembly, half, 1.0).leaves)


def _stack_scale(plan: Plan, room: Room, layers: int) -> tuple[float, float]:
    """Model mm on a mm of paper, and how thick a layer is drawn."""
    thick = min(MOST, (room.height - 2.0) / layers)
    return 2 * plan.geometry.leaf_width / (room.width - 2 * _EDGE), thick


def _centred(section: Section, ratio: float, room: Room) -> View:
    """Centred across, standing on the floor of the room."""
    left, bottom, right, _ = section.bounds
    return View(Scale(ratio, ""), (room.centre[0] - (left + right) / 2 / ratio, room.bottom + 1.0 - bottom / ratio))


def _leaves(plan: Plan, kit: Kit, section: Section, view: View, lettered: bool = True) -> Drawing:
    first = plan.assembly.halves[0]
    marks: list[Mark] = []
    for mark, corners in section.leaves.items():
        ring = view.points(corners)
        marks.append(Path(ring, VISIBLE, _FILL[plan.assembly.by_mark[mark].half == first]))
        if lettered:
            thick = min(math.dist(a, b) for a, b in pairwise(ring))
            style = _fitting(thick)
            x, y = view.point(section.centre(mark))
            marks.append(Text((x, y - style.height / 2), mark, style, "centre"))
    return tuple(marks)


def _fitting(thick: float) -> Style:
    """The largest lettering for a layer so many mm thick."""
    return next((style for style in (NUMBER, BODY_BOLD) if style.height * _ROOMY <= thick), FINE_BOLD)


def _pivots(section: Section, view: View) -> Drawing:
    # Hinges of the two halves that lie on one another are one dot.
    places = {(round(x, 3), round(y, 3)): None for x, y in map(view.point, section.pivots.values())}
    return tuple(Circle(place, _PIVOT, None, 0.0) for place in places)


def _floor(section: Section, view: View) -> Drawing:
    left, bottom, right, _ = section.bounds
    a, b = view.point((left, bottom)), view.point((right, bottom))
    return (Line((a[0], a[1] - 0.8), (b[0], b[1] - 0.8), HEAVY),)
