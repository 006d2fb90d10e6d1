"""How a marking sheet is divided: the board as large as its words, its table and its tip trims allow."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import chain

from packet.boards.marks import TipTrims
from packet.boards.records import Board
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import Drawing, Mark, Rect, Text, Viewport, bounds
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE, tick_box
from packet.drawing.view import Scale, View, series
from packet.plan import Plan
from packet.sheets.board_dimensions import dimensions
from packet.sheets.board_view import board_rect, board_view
from packet.sheets.kit import Kit
from packet.sheets.snap_table import ALONE, LOOKS, Look, Row, snap_rows, snap_table
from packet.sheets.tip_detail import Boxed, tip_picture, tip_sentence, tip_trims_note
from packet.work.sheet_numbers import snap_tables_sheet

_GAP = 4.0
_UNDER = 1.5
"""mm between the drawing and what stands below it."""

_LEAST_WORDS = 90.0
_LEAST_TIPS = 46.0
_TICKS = TICK_SIZE + 2.0
_TICK_GAP = 1.5

KeyWord = tuple[str, str]
"""A keyword and what to do."""


@dataclass(frozen=True, slots=True)
class Page:
    """A composed marking sheet."""

    marks: Drawing
    scale: Scale
    viewports: tuple[Viewport, ...]
    clear: bool
    table_apart: bool = False


def compose(plan: Plan, kit: Kit, board: Board, lines: tuple[KeyWord, ...], trims: TipTrims | None) -> Page:
    """The page with the board in the largest standard scale that leaves room for the rest.

    Within a scale, large lettering is preferred, and the table beside the board to the table below it. Where
    the table would cost the board more than one step of the scale, it goes to a sheet of its own
    (`table_apart`). Raises LayoutError where the paper is too small for any scale.
    """
    apart: list[tuple[int, Page]] = []
    for step, scale in enumerate(series(kit.system)):
        sketch = _Composer(plan, kit, board, lines, trims, scale)
        for look, style in ((LOOKS[0], LARGE), (LOOKS[0], BODY), (LOOKS[1], BODY)):
            for page in chain(sketch.beside(look, style), sketch.below(look, style)):
                if page.clear or not apart:
                    return page
        if apart and step > apart[0][0]:
            break
        found = sketch.bare()
        if found:
            apart.append((step, found))
    if apart:
        return apart[0][1]
    raise LayoutError(f"board {board.mark}: the marking sheet does not fit {kit.paper.name}; use larger paper")


def table_page(rows: tuple[Row, ...], trims: TipTrims | None, kit: Kit
               ) -> tuple[Drawing, tuple[Row, ...], tuple[Viewport, ...]]:
    """A page of the table alone, the tip trims at its right: drawing, rows left over, viewports."""
    room = kit.room
    viewports: tuple[Viewport, ...] = ()
    marks: Drawing = ()
    if trims:
        spot, room = room.cut_right(_LEAST_TIPS + 10.0, 2 * _GAP)
        note = tip_trims_note(trims, kit, spot)
        if note is None:
            raise LayoutError(f"tip trims {trims.first} to {trims.last} do not fit {kit.paper.name}; use larger paper")
        marks, viewports = note[0], (note[1],)
    for count in range(len(rows), 0, -1):
        for look in ALONE:
            table = snap_table(room.top_left, rows[:count], kit, look, room.width, room.height)
            if table:
                return marks + table.marks, rows[count:], viewports
    if rows:
        raise LayoutError(f"the snap table does not fit {kit.paper.name}; use larger paper")
    return marks, (), viewports


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
        # What the column does not need gives the words longer lines.
        for width in dict.fromkeys((widest, (least + widest) / 2, least)):
            yield from self._split(style, table, width)

    def _split(self, style: Style, table: Block | None, width: float) -> Iterator[Page]:
        """Pages with a column of that width at the right."""
        room = self.kit.room
        column = Room(room.right - width, room.bottom, room.right, room.top)
        left = Room(room.left, room.bottom, column.left - _GAP, self.foot)
        if table:
            table = table.moved(column.top_left)
            if table.bottom - _GAP - _TICKS < room.bottom:
                return
            column = Room(column.left, column.bottom, column.right, table.bottom - _GAP)
        ticks, right = column.cut_bottom(_TICKS, 2.0)
        board = self._board((left.width - self.wide) / 2)
        tries: tuple[tuple[tuple[KeyWord, ...], int, Callable[[Room], Block | Boxed | None]], ...]
        if self.trims:
            tries = ((self.lines, 0, self._tips), (self.lines, 1, self._tips),
                     (self.lines_with_tips, 0, self._tip_picture))
        else:
            tries = tuple((self.lines, moved, self._tips) for moved in (1, 2, 0))
        for lines, moved, tips in tries:
            # The last `moved` instructions stand in the column.
            here = self._words(lines[len(lines) - moved:], right, style)
            if here is None:
                continue
            rest = Room(right.left, right.bottom, right.right, here.bottom - (_GAP if moved else 0.0))
            page = self._page(board, table, self._words(lines[:len(lines) - moved], left, style), here, tips(rest),
                              self._ticks(ticks))
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

    def bare(self) -> Page | None:
        """Board, words and ticks alone; the table stands on a sheet of its own, and the words say on which."""
        room = self.kit.room
        under = Room(room.left, room.bottom, room.right, self.foot)
        if self.wide > room.width or under.height < _TICKS + 10.0:
            return None
        ticks, words = under.cut_bottom(_TICKS, 2.0)
        text = self.kit.words.text
        lines = (*self.lines_with_tips,
                 (text("marking.apart.word"), text("marking.apart.do", sheet=snap_tables_sheet())))
        page = self._page(self._board((room.width - self.wide) / 2), None, self._words(lines, words, BODY),
                          self._ticks(ticks))
        return replace(page, table_apart=True) if page else None

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
        drawn, clear = board_view(self.plan, self.kit, self.board, board)
        return Page((*dimensions(self.board, board, self.kit), *drawn, *marks), self.scale, tuple(viewports), clear)

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
        tight = stack(room.top_left, blocks, 0.1 * style.height, room.width)
        # What height is left parts the instructions from each other.
        spare = (tight.bottom - room.bottom) / len(blocks)
        if spare < 0.0:
            return None
        gap = 0.1 * style.height + min(spare, 0.7 * style.height)
        return stack((room.left, room.top - min(spare, 2.0)), blocks, gap, room.width)

    @property
    def lines_with_tips(self) -> tuple[KeyWord, ...]:
        """The instructions, the one on tip trims at their end."""
        if self.trims is None:
            return self.lines
        return (*self.lines, (self.kit.words.text("marking.tips.word"), tip_sentence(self.trims, self.kit)))

    def _tips(self, room: Room) -> Block | Boxed | None:
        return tip_trims_note(self.trims, self.kit, room) if self.trims else Block((), room.top_left, 0.0, 0.0)

    def _tip_picture(self, room: Room) -> Block | Boxed | None:
        return tip_picture(self.trims, self.kit, room) if self.trims else Block((), room.top_left, 0.0, 0.0)

    def _tick_labels(self) -> tuple[str, ...]:
        return tuple(self.kit.words.text(f"marking.{name}") for name in ("checked", "done"))

    def _tick_step(self, label: str) -> float:
        """What one box takes with its label, mm."""
        return TICK_SIZE + 1.3 + self.kit.lettering.width(label, BODY)

    def _tick_width(self) -> float:
        return sum(self._tick_step(label) for label in self._tick_labels()) + _TICK_GAP

    def _ticks(self, room: Room) -> Block | None:
        """Boxes for `checked` and `cut`, as far apart as the room allows."""
        spare = room.width - self._tick_width()
        if spare < 0.0:
            return None
        marks: list[Mark] = []
        x = room.left
        for label in self._tick_labels():
            marks += tick_box((x, room.bottom))
            marks.append(Text((x + TICK_SIZE + 1.3, room.bottom + (TICK_SIZE - BODY.height) / 2), label, BODY))
            x += self._tick_step(label) + _TICK_GAP + min(spare, 10.0)
        return Block(tuple(marks), room.top_left, room.width, _TICKS)
