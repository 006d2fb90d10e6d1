"""How a marking sheet is divided: the board as large as its words, its table and its tip trims allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packet.boards.marks import TipTrims
from packet.boards.records import Board
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, LARGE, Style
from packet.drawing.marks import Drawing, Line, Mark, Rect, Text, Viewport, bounds
from packet.drawing.pens import LEADER
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE, tick_box
from packet.drawing.view import Scale, View, series
from packet.plan import Plan
from packet.sheets.board_view import board_rect, board_view, dimensions
from packet.sheets.kit import Kit
from packet.sheets.snap_table import LOOKS, Look, snap_rows, snap_table
from packet.sheets.tip_detail import tip_trims_note

_GAP = 5.0
_UNDER = 1.5
"""mm between the drawing and what stands below it."""

_LEAST_WORDS = 90.0
_LEAST_TIPS = 46.0
_TICKS = TICK_SIZE + 2.0

KeyWord = tuple[str, str]
"""A keyword and what to do."""

Boxed = tuple[Drawing, Viewport]


@dataclass(frozen=True, slots=True)
class Page:
    """A composed marking sheet."""

    marks: Drawing
    scale: Scale
    viewports: tuple[Viewport, ...]


def compose(plan: Plan, kit: Kit, board: Board, lines: tuple[KeyWord, ...], trims: TipTrims | None) -> Page:
    """The page with the board in the largest standard scale that leaves room for the rest.

    Within a scale, large lettering is preferred, and the table beside the board to the table below it.
    Raises LayoutError where the paper is too small for any scale.
    """
    for scale in series(kit.system):
        sketch = _Composer(plan, kit, board, lines, trims, scale)
        for look, style in ((LOOKS[0], LARGE), (LOOKS[0], BODY), (LOOKS[1], BODY)):
            for page in (*sketch.beside(look, style), *sketch.below(look, style)):
                return page
    raise LayoutError(f"board {board.mark}: the marking sheet does not fit {kit.paper.name}; use larger paper")


class _Composer:
    """One board at one scale."""

    def __init__(self, plan: Plan, kit: Kit, board: Board, lines: tuple[KeyWord, ...], trims: TipTrims | None,
                 scale: Scale) -> None:
        self.plan, self.kit, self.board = plan, kit, board
        self.lines, self.trims, self.scale = lines, trims, scale
        self.extent: Rect = bounds(dimensions(board, View(scale, (0.0, 0.0)), kit), kit.lettering)
        self.wide = self.extent[2] - self.extent[0]
        self.foot = kit.room.top - (self.extent[3] - self.extent[1]) - _UNDER
        self.rows = snap_rows(kit, board)

    def beside(self, look: Look, style: Style) -> Iterator[Page]:
        """Board and words at the left; table, tip trims (or the last of the words) and ticks at the right."""
        room = self.kit.room
        widest = room.width - self.wide - _GAP
        table = snap_table(room.top_left, self.rows, self.kit, look, widest, room.height) if self.rows else None
        if self.foot <= room.bottom or widest <= 0.0 or (self.rows and table is None):
            return
        least = max(table.width if table else 0.0, self._tick_width(), _LEAST_TIPS)
        if least > widest:
            return
        # Half of what the column does not need gives the words longer lines.
        column = Room(room.right - (least + widest) / 2, room.bottom, room.right, room.top)
        left = Room(room.left, room.bottom, column.left - _GAP, self.foot)
        if table:
            table = table.moved(column.top_left)
            if table.bottom - _GAP - _TICKS < room.bottom:
                return
            column = Room(column.left, column.bottom, column.right, table.bottom - _GAP)
        ticks, right = column.cut_bottom(_TICKS, 2.0)
        board = self._board((left.width - self.wide) / 2)
        for here, there in (((), self.lines),) if self.trims else ((self.lines[-1:], self.lines[:-1]), ((), self.lines)):
            page = self._page(board, table, self._words(there, left, style), self._words(here, right, style),
                              self._tips(right), self._ticks(ticks))
            if page:
                yield page

    def below(self, look: Look, style: Style) -> Iterator[Page]:
        """The board across the page; words with ticks, tip trims and table below it, side by side."""
        room = self.kit.room
        under = Room(room.left, room.bottom, room.right, self.foot)
        if self.wide > room.width or under.height < _TICKS + 10.0:
            return
        table = snap_table(under.top_left, self.rows, self.kit, look, under.width - _LEAST_WORDS,
                           under.height) if self.rows else None
        if self.rows and table is None:
            return
        spot = under
        if table:
            table = table.moved((room.right - table.width, under.top))
            under = Room(under.left, under.bottom, table.at[0] - _GAP, under.top)
        if self.trims:
            spot, under = under.cut_right(_LEAST_TIPS, _GAP)
        ticks, words = under.cut_bottom(_TICKS, 2.0)
        board = self._board((room.width - self.wide) / 2)
        page = self._page(board, table, self._words(self.lines, words, style), self._tips(spot), self._ticks(ticks))
        if page:
            yield page

    def _page(self, board: View, table: Block | None, *parts: Block | Boxed | None) -> Page | None:
        """All parts on one page, or None where one of them found no room."""
        viewports = [Viewport(board_rect(self.board, board), self.scale.ratio, "board")]
        marks: list[Mark] = list(table.marks) if table else []
        for part in parts:
            if part is None:
                return None
            if isinstance(part, Block):
                marks += part.marks
            else:
                marks += part[0]
                viewports.append(part[1])
        x, y = board.origin
        corner = Line((x - 8.0, self.foot - 0.5), (x - 4.3, y - 5.4), LEADER)
        return Page((*dimensions(self.board, board, self.kit), *board_view(self.plan, self.kit, self.board, board),
                     corner, *marks), self.scale, tuple(viewports))

    def _board(self, spare: float) -> View:
        """The view, with `spare` mm at the left of the drawing."""
        room = self.kit.room
        return View(self.scale, (room.left + spare - self.extent[0], room.top - self.extent[3]))

    def _words(self, lines: tuple[KeyWord, ...], room: Room, style: Style) -> Block | None:
        """A bold keyword at the left, what to do beside it; None where the room is too small."""
        if not lines:
            return Block((), room.top_left, 0.0, 0.0)
        strong = Style(style.height, True)
        lettering = self.kit.lettering
        indent = max(lettering.width(word, strong) for word, _ in lines) + 4.0
        if room.width < indent + 40.0 or room.height <= 0.0:
            return None
        blocks = []
        for word, text in lines:
            body = paragraph((room.left + indent, room.top), room.width - indent, text, style, lettering)
            head = paragraph(room.top_left, indent, word, strong, lettering)
            blocks.append(Block(head.marks + body.marks, room.top_left, room.width, body.height))
        block = stack(room.top_left, blocks, 0.1 * style.height, room.width)
        return block if block.bottom >= room.bottom else None

    def _tips(self, room: Room) -> Block | Boxed | None:
        if self.trims is None:
            return Block((), room.top_left, 0.0, 0.0)
        return tip_trims_note(self.trims, self.kit, room)

    def _tick_width(self) -> float:
        return sum(TICK_SIZE + 2.0 + self.kit.lettering.width(label, BODY_BOLD) for label in self._tick_labels()) + 6.0

    def _tick_labels(self) -> tuple[str, ...]:
        return tuple(self.kit.words.text(f"marking.{name}") for name in ("checked", "done"))

    def _ticks(self, room: Room) -> Block | None:
        """Boxes for `checked` and `cut`."""
        if room.width < self._tick_width():
            return None
        marks: list[Mark] = []
        x = room.left
        for label in self._tick_labels():
            marks += tick_box((x, room.bottom))
            marks.append(Text((x + TICK_SIZE + 2.0, room.bottom + (TICK_SIZE - BODY.height) / 2), label, BODY_BOLD))
            x += TICK_SIZE + 2.0 + self.kit.lettering.width(label, BODY_BOLD) + 6.0
        return Block(tuple(marks), room.top_left, room.width, _TICKS)
