"""How a tip is trimmed: in words, and one tip enlarged with what is measured along which edge."""

from __future__ import annotations

from packet.boards.marks import TipTrims
from packet.drawing.dimension import linear
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, NUMBER
from packet.drawing.marks import Drawing, Line, Path, Point, Text, Viewport, bounds, shift
from packet.drawing.pens import CUT, DIMENSION, HATCH, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.view import Scale, View, series
from packet.sheets.kit import Kit

_BELOW = 0.7
"""How much of the leaf is shown below the trim, as a share of what is cut off."""

_LEAST = 12.0
"""mm on paper of the measured length; a smaller picture has no room for its own dimensions."""

_DETAILS = (46.0, 58.0, 70.0)
"""mm beside the words for the picture, as much as its figures need."""

Boxed = tuple[Drawing, Viewport]


def tip_trims_note(trims: TipTrims, kit: Kit, room: Room) -> Boxed | None:
    """Words and picture in the upper part of the room, side by side or one above the other; None without room."""
    for detail in _DETAILS if room.width >= 2 * _DETAILS[0] else (room.width,):
        if detail < room.width:
            words_room, picture_room = room.columns(room.width - detail - 4.0, detail, gap=4.0)
            words = _words(trims, kit, words_room)
        else:
            words = _words(trims, kit, room)
            picture_room = Room(room.left, room.bottom, room.right, words.bottom - 3.0)
        picture = tip_picture(trims, kit, picture_room)
        if words.bottom >= room.bottom and picture is not None:
            return (*words.marks, *picture[0]), picture[1]
    return None


def tip_sentence(trims: TipTrims, kit: Kit) -> str:
    """All of it in one sentence, for where the words stand apart from the picture."""
    return kit.words.text("marking.tips.all", numbers=span(trims.first, trims.last, kit), along=trims.along_mid,
                          short=trims.short_edge, levels=_levels(trims, kit))


def span(first: int, last: int, kit: Kit) -> str:
    """Line numbers in a row: `6`, `1 and 2`, `1 to 3`."""
    key = ("one", "two")[last - first] if last - first < 2 else "more"
    return kit.words.text(f"marking.span.{key}", first=first, last=last)


def _words(trims: TipTrims, kit: Kit, room: Room) -> Block:
    words = kit.words
    title = words.text("marking.tips.title", numbers=span(trims.first, trims.last, kit))
    return stack(room.top_left, [
        paragraph(room.top_left, room.width, text, style, kit.lettering)
        for text, style in ((title, BODY_BOLD), (words.text("marking.tips.do"), BODY), (_levels(trims, kit), BODY))],
        0.3)


def _levels(trims: TipTrims, kit: Kit) -> str:
    """Where the trim lines lie, from the datum corner."""
    up, along = (_either([kit.form.length(level, halves=True) for level in levels], kit)
                 for levels in (trims.up, trims.along))
    if up and along:
        return kit.words.text("marking.tips.levels_both", up=up, along=along)
    return kit.words.text(f"marking.tips.levels_{'up' if up else 'along'}", levels=up or along)


def _either(figures: list[str], kit: Kit) -> str:
    """`3, 39 or 45`."""
    if len(figures) < 2:
        return "".join(figures)
    return kit.words.text("marking.tips.either", some=", ".join(figures[:-1]), last=figures[-1])


def tip_picture(trims: TipTrims, kit: Kit, room: Room) -> Boxed | None:
    """The tip in the largest standard scale that fits."""
    for scale in series(kit.system):
        if trims.along_mid / scale.ratio < _LEAST:
            return None
        marks = _marks(trims, kit, scale)
        left, bottom, right, top = bounds(marks, kit.lettering)
        if right - left <= room.width and top - bottom <= room.height:
            dx = room.left + (room.width - right + left) / 2 - left
            dy = room.top - top
            corners = View(scale, (dx, dy)).points(_outline(trims))
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            return shift(marks, dx, dy), Viewport((min(xs), min(ys), max(xs), max(ys)), scale.ratio, "tip")
    return None


def _outline(trims: TipTrims) -> tuple[Point, ...]:
    """The last of an untrimmed leaf, mid edge on the left: foot, hip foot, tip; origin on the trim line."""
    along, short = trims.along_mid, trims.short_edge
    low = -_BELOW * along
    return ((0.0, low), (short * (along - low) / along, low), (0.0, along))


def _marks(trims: TipTrims, kit: Kit, scale: Scale) -> Drawing:
    words, form = kit.words, kit.form
    view = View(scale, (0.0, 0.0))
    foot, hip, tip = view.points(_outline(trims))
    start, stop = view.points([(0.0, 0.0), (trims.short_edge, 0.0)])
    half = (start[1] + tip[1]) / 2
    deep = 0.62 * (start[1] - foot[1])
    # The figure stands clear of the hip at the level of its foot; arrowheads outside a narrow short edge need room.
    share = min(1.0, (deep + NUMBER.height) / (start[1] - foot[1]))
    beside = max(stop[0] + share * (hip[0] - stop[0]), stop[0] + (0.0 if stop[0] >= 7.0 else 6.0)) + 2.0
    lean = trims.short_edge / trims.along_mid
    return (
        *hatch((start, stop, tip), 1.6, 45.0, HATCH),
        Path((foot, start, tip, stop, hip), VISIBLE, closed=False),
        Line(start, stop, CUT),
        Path((foot, (hip[0] * 0.4, foot[1] + 1.0), (hip[0] * 0.6, foot[1] - 1.0), hip), NARROW, closed=False),
        *linear(start, tip, 4.5, "", kit.lettering),
        Text((start[0] - 6.8, half), form.length(trims.along_mid, halves=True), NUMBER, "centre", 90.0),
        *linear(start, stop, -deep, "", kit.lettering),
        Line((stop[0], start[1] - deep), (beside - 0.8, start[1] - deep), DIMENSION),
        Text((beside, start[1] - deep - NUMBER.height / 2), form.length(trims.short_edge, halves=True), NUMBER),
        Text((start[0] - 2.0, foot[1] - 1.0), words.text("marking.tips.mid"), FINE, "right"),
        Text((tip[0] + 1.5 + 1.6 * FINE.height * lean, tip[1] - FINE.height), words.text("marking.tips.tip"), FINE),
        Text((hip[0] / 2, foot[1] - 5.0), words.text("marking.tips.caption", scale=scale.title), FINE, "centre"),
    )
