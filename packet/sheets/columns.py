"""Blocks of words set into columns, page after page."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packet.drawing.flow import Block
from packet.drawing.marks import Drawing, Mark
from packet.drawing.room import LayoutError, Room

Make = Callable[[float], Block]
"""A block for a given width in mm; it may hang from anywhere."""

STEP = 1.0
"""mm to which level columns are found."""


def in_columns(makes: Sequence[Make], room: Room, count: int, gap: float, between: float) -> tuple[Drawing, ...]:
    """The blocks in order down `count` equal columns, on as many pages as they need.

    `gap` mm stands between blocks, `between` mm between columns. Raises LayoutError for a block taller than
    the room.
    """
    columns = room.columns(*(1.0,) * count, gap=between)
    pages: list[list[Mark]] = [[]]
    place, y = 0, room.top
    for make in makes:
        block = make(columns[0].width)
        if block.height > room.height:
            raise LayoutError(f"a block of words is {block.height:.0f} mm high, the page has {room.height:.0f} mm; "
                              "use larger paper")
        below = y if y == room.top else y - gap
        if below - block.height < room.bottom - 1e-6:
            place, below = place + 1, room.top
            if place == count:
                pages.append([])
                place = 0
        pages[-1] += block.moved((columns[place].left, below)).marks
        y = below - block.height
    return tuple(tuple(page) for page in pages)


def balanced(makes: Sequence[Make], room: Room, count: int, gap: float, between: float) -> tuple[Drawing, ...]:
    """The same, with columns as level as the blocks allow; more pages than one are left as they fall."""
    pages = in_columns(makes, room, count, gap, between)
    if len(pages) > 1:
        return pages
    low, high = 0.0, room.height
    while high - low > STEP:
        middle = (low + high) / 2
        try:
            tried = in_columns(makes, room.cut_top(middle)[0], count, gap, between)
        except LayoutError:
            tried = ()
        if len(tried) == 1:
            pages, high = tried, middle
        else:
            low = middle
    return pages
