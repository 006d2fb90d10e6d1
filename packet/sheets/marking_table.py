"""The second sheet of a board that is drawn alone: the table of its lines, tip trims, what to do."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from packet.boards.marks import TipTrims
from packet.boards.records import Board
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import Drawing, Viewport
from packet.drawing.room import LayoutError, Room
from packet.sheets.kit import Kit
from packet.sheets.marking_words import TICKS, KeyWord, key_words, tick_boxes
from packet.sheets.snap_table import ALONE, Look, Row, snap_rows, snap_table
from packet.sheets.tip_detail import tip_trims_note

_GAP = 8.0
_COLUMNS = (150.0, 130.0, 110.0, 90.0)
"""mm, widths of the column of words and tip trims at the right of the table, the most readable first."""

_TIPS = (60.0, 50.0, 42.0, 35.0)
"""mm, heights of the part of that column kept for the tip trims, the largest picture first."""

Drawn = tuple[Drawing, tuple[Viewport, ...]]


def table_pages(kit: Kit, board: Board, lines: tuple[KeyWord, ...], trims: TipTrims | None, ticks: tuple[str, ...]
                ) -> Iterator[Drawn]:
    """As few pages as hold the table, large; the words, tip trims and boxes to tick (`ticks`, by the keys of their
    labels) stand on the last.

    Raises LayoutError where the paper is too small.
    """
    rows = snap_rows(kit, board)
    while True:
        page = _last(kit, rows, lines, trims, ticks)
        if page:
            yield page
            return
        count, drawing = _filled(kit, rows, board)
        yield drawing, ()
        rows = rows[count:]


def _last(kit: Kit, rows: tuple[Row, ...], lines: tuple[KeyWord, ...], trims: TipTrims | None, ticks: tuple[str, ...]
          ) -> Drawn | None:
    """All that is left on one page, the table as large as it goes, then the words."""
    for look, style, width in product(ALONE if rows else ALONE[:1], (LARGE, BODY), _COLUMNS):
        page = _page(kit, rows, lines, trims, ticks, look, style, width)
        if page:
            return page
    return None


def _page(kit: Kit, rows: tuple[Row, ...], lines: tuple[KeyWord, ...], trims: TipTrims | None, ticks: tuple[str, ...],
          look: Look, style: Style, width: float) -> Drawn | None:
    """The table at the left, the words beside it, tip trims below them, the boxes to tick at the foot."""
    room = kit.room
    marks: Drawing = ()
    column = room
    if rows:
        column, left = room.cut_right(width, _GAP)
        table = snap_table(left.top_left, rows, kit, look, left.width, left.height)
        if table is None:
            return None
        # What the table leaves goes to the words.
        column = Room(room.left + table.width + _GAP, room.bottom, room.right, room.top)
        marks = table.marks
    if ticks:
        foot, column = column.cut_bottom(TICKS, 2.0)
        boxes = tick_boxes(kit, foot, ticks)
        if boxes is None:
            return None
        marks += boxes.marks
    if trims is None:
        words = key_words(kit, lines, column, style)
        return (marks + words.marks, ()) if words else None
    for height in _TIPS:
        spot, rest = column.cut_bottom(height, _GAP / 2)
        words, note = key_words(kit, lines, rest, style), tip_trims_note(trims, kit, spot)
        if words and note:
            return marks + words.marks + note[0], (note[1],)
    return None


def _filled(kit: Kit, rows: tuple[Row, ...], board: Board) -> tuple[int, Drawing]:
    """A page of the table alone, with as many lines as it holds."""
    room = kit.room
    for count in range(len(rows), 0, -1):
        for look in ALONE:
            table = snap_table(room.top_left, rows[:count], kit, look, room.width, room.height)
            if table:
                return count, table.marks
    raise LayoutError(f"board {board.mark}: the words of the marking sheet do not fit {kit.paper.name}; "
                      "use larger paper")
