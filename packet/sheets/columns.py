"""Blocks of words set into columns, page after page."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packet.drawing.flow import Block
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import Drawing
from packet.drawing.room import LayoutError, Room

Make = Callable[[float], Block]
"""A block for a given width in mm; it may hang from anywhere."""

SIZES = (Style(7.0), LARGE, BODY)
"""Lettering of running text, the largest first: what few words leave room for is read from farther off."""

STEP = 1.0
"""mm to which level columns are found."""


def in_columns(makes: Sequence[Make], room: Room, count: int, gap: float, between: float) -> tuple[Drawing, ...]:
    """The blocks in order down `count` equal columns, on the fewest pages, all columns of all pages as level as the
    blocks allow: a last page with a few lines alone is a page to lose.

    `gap` mm stands between blocks, `between` mm between columns. Raises LayoutError for a block taller than
    the room.
    """
    return tuple(_marks(page) for page in _pages(makes, room, count, gap, between))


def _pages(makes: Sequence[Make], room: Room, count: int, gap: float, between: float) -> list[list[Block]]:
    """The blocks of every page where they hang."""
    columns = room.columns(*(1.0,) * count, gap=between)
    blocks = [make(columns[0].width) for make in makes]
    heights = [block.height for block in blocks]
    tallest = max(heights, default=0.0)
    if tallest > room.height:
        raise LayoutError(f"a block of words is {tallest:.0f} mm high, the page has {room.height:.0f} mm; "
                          "use larger paper")
    pages = -(-_columns(heights, room.height, gap) // count)
    limit = lowest(lambda high: _columns(heights, high, gap) <= pages * count, tallest, room.height)
    places = _placed(heights, limit, gap)
    found: list[list[Block]] = [[] for _ in range(pages)]
    for block, (column, depth) in zip(blocks, places, strict=True):
        found[column // count].append(block.moved((columns[column % count].left, room.top - depth)))
    return found


def _marks(blocks: Sequence[Block]) -> Drawing:
    return tuple([mark for block in blocks for mark in block.marks])


def roomiest(makes: Callable[[Style], Sequence[Make]], room: Room, count: int, gap: float, between: float,
             sizes: Sequence[Style] = SIZES) -> tuple[Drawing, ...]:
    """The blocks as `in_columns` sets them, in the largest of the sizes that takes no page more than the last, which is
    the smallest. Raises LayoutError where a block is taller than the room even so."""
    taken = _pages(makes(sizes[-1]), room, count, gap, between)
    for style in sizes[:-1]:
        try:
            large = _pages(makes(style), room, count, gap, between)
        except LayoutError:  # a block that is taller than the page so large
            continue
        if len(large) <= len(taken):
            taken = large
            break
    return tuple(_marks(page) for page in taken)


def lowest(fits: Callable[[float], bool], low: float, high: float, step: float = STEP) -> float:
    """The least height between two, to a step in mm, at which something still fits; it does at `high`."""
    while high - low > step:
        middle = (low + high) / 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high


def _columns(heights: Sequence[float], limit: float, gap: float) -> int:
    places = _placed(heights, limit, gap)
    return places[-1][0] + 1 if places else 1


def _placed(heights: Sequence[float], limit: float, gap: float) -> list[tuple[int, float]]:
    """For each block the column it stands in, counted over all pages, and how far below its top, mm."""
    places: list[tuple[int, float]] = []
    column, y = 0, 0.0
    for height in heights:
        start = y + gap if y else 0.0
        if start + height > limit + 1e-6 and y:
            column, start = column + 1, 0.0
        places.append((column, start))
        y = start + height
    return places
