"""Lines to write on: only where a page leaves room, inside that room, and far enough apart for a pencil in gloves."""

from __future__ import annotations

from itertools import pairwise

import pytest

from packet.drawing.marks import Line, Text, bounds, rectangle
from packet.drawing.pens import TABLE, VISIBLE
from packet.sheets.notes import with_notes
from tests.sheets.drawn import kit_of, letters
from tests.zoo import zoo_plan


@pytest.mark.parametrize("name", ["booth", "twelve inch"])
def test_lines_fill_what_a_page_leaves_and_touch_nothing(name: str) -> None:
    """10 mm apart (common practice, no source); the drawing above keeps as it is."""
    kit = kit_of(zoo_plan(name))
    room = kit.room
    drawn = (rectangle((room.left, room.centre[1], room.right, room.top), VISIBLE),)
    marks = with_notes(kit, drawn)
    levels = [mark.a[1] for mark in marks[1:] if isinstance(mark, Line) and mark.pen == TABLE]
    assert marks[:1] == drawn and len(levels) >= 3
    assert all(above - below == pytest.approx(10.0) for above, below in pairwise(levels))
    left, bottom, right, top = bounds(marks[1:], letters())
    assert left == room.left and right == room.right and room.bottom <= bottom < room.bottom + 10.0
    assert top < room.centre[1]
    assert [mark.string for mark in marks if isinstance(mark, Text)] == [kit.words.name("Notes")]


def test_a_page_nearly_full_has_none() -> None:
    kit = kit_of(zoo_plan("booth"))
    low = kit.room.bottom + 0.25 * kit.room.height
    drawn = (rectangle((kit.room.left, low, kit.room.right, kit.room.top), VISIBLE),)
    assert with_notes(kit, drawn) == drawn
