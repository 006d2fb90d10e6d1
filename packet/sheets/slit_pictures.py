"""How a slit is made, in three pictures: the strapping is cut, foil is laid over it, the foil is cut at the same place."""

from __future__ import annotations

from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY
from packet.drawing.marks import Drawing, Line, Mark, rectangle
from packet.drawing.pens import CENTRE, HEAVY, HIDDEN, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import circled
from packet.sheets.kit import Kit

LEAST = 56.0
"""mm of height under which there are no pictures."""
_MOST = 84.0
_WORDS = 20.0
_TAPE, _FOIL = 0.6, 0.92
"""Grey of strapping and of foil."""


def slit_in_steps(room: Room, kit: Kit) -> Drawing:
    """Three pictures side by side in the middle of a room; nothing where it is too low."""
    if room.height < LEAST:
        return ()
    high = min(room.height, _MOST)
    low = room.centre[1] - high / 2
    marks: list[Mark] = []
    told = kit.words.texts("relief.steps")
    places = Room(room.left, low, room.right, low + high).columns(*[1] * len(told), gap=10.0)
    for number, (place, text) in enumerate(zip(places, told, strict=True), 1):
        words, above = place.cut_bottom(_WORDS, 2.0)
        marks += _boards(above, foil=number > 1, through=number == 3)
        marks += circled((words.left + 4.0, words.top - 4.0), str(number), kit.lettering, 4.0)
        marks += paragraph((words.left + 11.0, words.top - 1.2), words.width - 11.0, text, BODY, kit.lettering).marks
    return tuple(marks)


def _boards(room: Room, *, foil: bool, through: bool) -> Drawing:
    """Two boards and the hinge between them, the strip across it."""
    x = room.centre[0]
    low, high = room.bottom + 0.3 * room.height, room.bottom + 0.7 * room.height
    marks: list[Mark] = [rectangle(room.rect, VISIBLE, 1.0)]
    if foil:
        hidden = [Line((room.left, y), (room.right, y), HIDDEN) for y in (low, high)]
        low, high = room.bottom + 0.18 * room.height, room.bottom + 0.82 * room.height
        marks += [rectangle((room.left, low, room.right, high), VISIBLE, _FOIL), *hidden]
    else:
        marks.append(rectangle((room.left, low, room.right, high), VISIBLE, _TAPE))
    marks.append(Line((x, room.bottom), (x, low), NARROW))
    marks.append(Line((x, high), (x, room.top), NARROW))
    if foil and not through:
        marks.append(Line((x, low), (x, high), CENTRE))  # the slit is underneath
    else:
        marks += [rectangle((x - 1.2, low, x + 1.2, high), None, 1.0), Line((x, low), (x, high), HEAVY)]
    return tuple(marks)
