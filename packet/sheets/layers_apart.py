"""The pack with its layers drawn apart, column by column, so that every leaf shows its mark where it lies."""

from __future__ import annotations

import math
from dataclasses import replace

from packet.assembly.opening_states import Plate, pack_plates
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, NUMBER
from packet.drawing.marks import Drawing, Mark, Text
from packet.drawing.room import Room
from packet.drawing.solid import Camera, Picture, picture
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.fold_pictures import caption
from packet.sheets.kit import Kit
from packet.sheets.plates import faces, fitted, lettered

_SIDE = Camera(-8.0, 33.0)  # from the long side of the pack, whose length then lies across the picture
_SHOWN = 0.95  # share of a leaf's breadth that the layer over it leaves free
_BESIDE = 13.0  # mm right of a picture for marks that find no room on their leaf
_NUMBERS = 12.0  # mm left of a picture for the numbers of its layers


def layers_apart(plan: Plan, kit: Kit) -> Drawing:
    """All columns at one scale, beside one another, the lowest layer lowest."""
    text = paragraph((0.0, 0.0), kit.room.width, kit.words.text("fold.apart.note"), BODY, kit.lettering)
    foot, above = kit.room.cut_bottom(text.height, gap=3.0)
    marks: list[Mark] = list(text.moved(foot.top_left).marks)
    columns = [_column(plan, column) for column in plan.pack.columns]
    shown = [picture(faces(plates), _SIDE) for plates in columns]
    rooms = above.columns(*[1] * len(shown), gap=6.0)
    several = len(shown) > 1
    spaces = []
    for number, room in enumerate(rooms, 1):
        head, below = caption(kit, room, None, kit.words.text("fold.column", number=number) if several else "")
        marks += head
        spaces.append(below.inset(_NUMBERS, 1.0, _BESIDE, 1.0))
    ratio = max(fitted(each.bounds, space) for each, space in zip(shown, spaces, strict=True))
    for each, space, column in zip(shown, spaces, plan.pack.columns, strict=True):
        marks += _drawn(plan, kit, each, space, ratio, column)
    return tuple(marks)


def _column(plan: Plan, column: tuple[str, ...]) -> tuple[Plate, ...]:
    """The column's wall leaves and the roof leaves over them, each layer lifted clear of the one below."""
    assembly, flats = plan.assembly, plan.pack.flats
    marks = {*column, *(assembly.above(assembly.by_mark[mark]).mark for mark in column)}
    plates = [plate for plate in pack_plates(assembly, plan.pack) if plate.mark in marks]
    breadth = max(x for plate in plates for x, _, _ in plate.outline) - min(
        x for plate in plates for x, _, _ in plate.outline)
    lift = _SHOWN * breadth * math.tan(math.radians(_SIDE.elevation))
    return tuple(
        replace(plate, outline=tuple((x, y, z + (flats[plate.mark].layer - 1) * lift) for x, y, z in plate.outline))
        for plate in plates)


def _drawn(plan: Plan, kit: Kit, shown: Picture, room: Room, ratio: float, column: tuple[str, ...]) -> Drawing:
    """A column's picture with its marks, and the number of each layer left of it."""
    view = View.centred(Scale(ratio, ""), shown.bounds, room.rect)
    named = lettered(shown, view, kit.lettering)
    marks: list[Mark] = [*shown.drawing(view), *named]
    written = {mark.string for mark in named if isinstance(mark, Text)}
    for key in sorted({region.key for region in shown.regions} - written):
        x, y = max(view.point(p) for region in shown.regions if region.key == key for p in region.points)
        marks.append(Text((x + 1.5, y - FINE_BOLD.height / 2), key, FINE_BOLD))
    left = view.point((shown.bounds[0], 0.0))[0]
    apart = (shown.bounds[3] - shown.bounds[1]) / ratio / plan.pack.layers
    style = NUMBER if apart > 7.5 else BODY_BOLD if apart > 5.0 else FINE_BOLD
    for mark in column:
        levels = [view.point(p)[1] for region in shown.regions if region.key == mark for p in region.points]
        level = (min(levels) + max(levels)) / 2
        marks.append(Text((left - 2.0, level - style.height / 2), str(plan.pack.flats[mark].layer), style, "right"))
    return tuple(marks)
