"""Ruled lines where a page is written on at work and is not full: what the crew saw stands with what it was about."""

from __future__ import annotations

from packet.drawing.lettering import BODY_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Text, bounds
from packet.drawing.pens import TABLE
from packet.drawing.room import Room
from packet.sheets.kit import Kit

APART = 10.0
"""mm between ruled lines: a carpenter's pencil, in gloves."""

LEAST = 0.25
"""Share of the page's height that must be left for lines to be ruled."""

_ABOVE = 7.0  # mm between what is printed and the word above the lines


def with_notes(kit: Kit, marks: Drawing, room: Room | None = None) -> Drawing:
    """The drawing, and below it lines to write on where so much of `room`, of the page without it, is left.

    Nothing may stand beside the drawing in that room."""
    inside = room or kit.room
    lowest = bounds(marks, kit.lettering)[1] if marks else inside.top
    return (*marks, *ruled(kit, Room(inside.left, inside.bottom, inside.right, lowest - _ABOVE)))


def ruled(kit: Kit, room: Room) -> Drawing:
    """A heading and as many lines as the room holds; nothing in less than the least that is worth it."""
    if room.height < LEAST * kit.room.height:
        return ()
    top = room.top - BODY_BOLD.height
    marks: list[Mark] = [Text((room.left, top), kit.words.name("Notes"), BODY_BOLD)]
    count = int((top - room.bottom) / APART)
    marks += [Line((room.left, top - line * APART), (room.right, top - line * APART), TABLE) for line in range(1, count + 1)]
    return tuple(marks)
