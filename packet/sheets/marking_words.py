"""The words of a marking sheet: a keyword and what to do, line by line, and the boxes to tick."""

from __future__ import annotations

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, Style
from packet.drawing.marks import Mark, Text
from packet.drawing.room import Room
from packet.drawing.symbols import TICK_SIZE, tick_box
from packet.sheets.kit import Kit

TICKS = TICK_SIZE + 2.0
"""mm, height of the row of boxes."""

BOXES = ("checked", "done")
"""The boxes to tick, by the keys of their labels."""

_LEAST = 40.0
"""mm of line that the words beside a keyword need."""

_BETWEEN = 1.5
_AFTER_BOX = 1.3

KeyWord = tuple[str, str]
"""A keyword and what to do."""


def key_words(kit: Kit, lines: tuple[KeyWord, ...], room: Room, style: Style) -> Block | None:
    """A bold keyword at the left, what to do beside it; None where the room is too small."""
    if not lines:
        return Block((), room.top_left, 0.0, 0.0)
    strong = Style(style.height, True)
    lettering = kit.lettering
    indent = max(lettering.width(word, strong) for word, _ in lines) + 4.0
    if room.width < indent + _LEAST or room.height <= 0.0:
        return None
    blocks = []
    for word, text in lines:
        body = paragraph((room.left + indent, room.top), room.width - indent, text, style, lettering)
        head = paragraph(room.top_left, indent, word, strong, lettering)
        blocks.append(Block(head.marks + body.marks, room.top_left, room.width, body.height))
    tight = stack(room.top_left, blocks, 0.1 * style.height, room.width)
    # What height is left parts the instructions from each other.
    spare = (tight.bottom - room.bottom) / len(blocks)
    if spare < 0.0:
        return None
    gap = 0.1 * style.height + min(spare, 0.7 * style.height)
    return stack((room.left, room.top - min(spare, 2.0)), blocks, gap, room.width)


def ticks_width(kit: Kit, names: tuple[str, ...] = BOXES) -> float:
    """The least width of the row of boxes, mm."""
    return sum(_step(kit, label) for label in _labels(kit, names)) + _BETWEEN * (len(names) - 1)


def tick_boxes(kit: Kit, room: Room, names: tuple[str, ...] = BOXES) -> Block | None:
    """Boxes with their labels at the foot of the room, as far apart as it allows; None where it is too narrow."""
    spare = room.width - ticks_width(kit, names)
    if spare < -1e-6:
        return None
    marks: list[Mark] = []
    x = room.left
    for label in _labels(kit, names):
        marks += tick_box((x, room.bottom))
        marks.append(Text((x + TICK_SIZE + _AFTER_BOX, room.bottom + (TICK_SIZE - BODY.height) / 2), label, BODY))
        x += _step(kit, label) + _BETWEEN + min(spare, 10.0)
    return Block(tuple(marks), room.top_left, room.width, TICKS)


def _labels(kit: Kit, names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(kit.words.text(f"marking.{name}") for name in names)


def _step(kit: Kit, label: str) -> float:
    """What one box takes with its label, mm."""
    return TICK_SIZE + _AFTER_BOX + kit.lettering.width(label, BODY)
