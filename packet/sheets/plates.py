"""Pictorial views of boards: any set of plates in a room, their marks where they show."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from string import ascii_uppercase

from packet.assembly.opening_states import Plate, State, standing_plates
from packet.drawing.lettering import BODY_BOLD, FINE_BOLD, NUMBER, Lettering, Style
from packet.drawing.marks import Drawing, Mark, Rect, Text
from packet.drawing.pens import NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import Camera, Face3, Picture, picture, prism
from packet.drawing.symbols import circled
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.kit import Kit

CLEAR = 0.6  # mm kept between a mark and the edges of its board

FRONT = Camera(-90.0, 0.0)
BEFORE = Camera(-66.0, 24.0)
BEHIND = Camera(114.0, 24.0)
ABOVE = Camera(-90.0, 90.0)
LYING = Camera(-62.0, 32.0)


def faces(plates: Iterable[Plate]) -> tuple[Face3, ...]:
    """The plates as solids for a picture."""
    return tuple(face for plate in plates for face in prism(plate.outline, plate.into, plate.thickness, plate.mark))


@lru_cache(maxsize=4)  # several sheets and the pictures of words and steps show it
def shown_open(plan: Plan, camera: Camera) -> Picture:
    """All leaves as they stand when open."""
    return picture(faces(standing_plates(plan.assembly.leaves)), camera)


def fitted(bounds: Rect, room: Room) -> float:
    """Model mm on a mm of paper, so that the picture just fills the room."""
    left, bottom, right, top = bounds
    return max((right - left) / room.width, (top - bottom) / room.height)


def in_room(shown: Picture, lettering: Lettering | None, room: Room, *, ratio: float | None = None,
            fine: bool = False) -> Drawing:
    """A picture in the middle of a room; with its marks where `lettering` is given."""
    view = View.centred(Scale(ratio or fitted(shown.bounds, room), ""), shown.bounds, room.rect)
    marks: Drawing = shown.drawing(view, wide=NARROW if fine else VISIBLE)
    return marks if lettering is None else (*marks, *lettered(shown, view, lettering))


def lettered_states(kit: Kit, states: Sequence[State], room: Room) -> Drawing:
    """What opens or folds, state after state: pictures at one size, two abreast, each with its letter."""
    shown = [picture(faces(state.plates), BEFORE) for state in states]
    rows = room.rows(*(1,) * ((len(shown) + 1) // 2), gap=3.0)
    spaces = [space for row in rows for space in row.columns(1, 1, gap=4.0)][:len(shown)]
    ratio = max(fitted(each.bounds, space.inset(9.0, 0.0, 0.0, 0.0)) for each, space in zip(shown, spaces, strict=True))
    marks: list[Mark] = []
    for number, (each, space) in enumerate(zip(shown, spaces, strict=True)):
        marks += circled((space.left + 4.0, space.top - 4.0), ascii_uppercase[number], kit.lettering, 4.0, BODY_BOLD)
        marks += in_room(each, None, space.inset(9.0, 0.0, 0.0, 0.0), ratio=ratio, fine=True)
    return tuple(marks)


def lettered(shown: Picture, view: View, lettering: Lettering,
             styles: tuple[Style, ...] = (NUMBER, BODY_BOLD, FINE_BOLD)) -> Drawing:
    """The mark of every board on the largest part of it that shows, where it stands clear of the edges."""
    import shapely

    parts: dict[str, shapely.Polygon] = {}
    for key in dict.fromkeys(region.key for region in shown.regions):
        pieces = [shapely.Polygon(view.points(r.points)).buffer(0) for r in shown.regions if r.key == key]
        parts[key] = max(pieces, key=lambda piece: piece.area)
    marks: list[Mark] = []
    for key, part in parts.items():
        clear = part.buffer(-CLEAR)
        for style in styles:
            spot = shapely.Point(part.centroid)
            text = Text((spot.x, spot.y - style.height / 2), key, style, "centre")
            if clear.contains(shapely.Polygon(lettering.box(text))):
                marks.append(text)
                break
    return tuple(marks)
