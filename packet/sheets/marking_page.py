"""How a marking sheet is divided: the board as large as its words, its table and its tip trims allow."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import chain, product

from packet.boards.alike import Alike
from packet.boards.marks import TipTrims
from packet.drawing.flow import Block, paragraph
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import Drawing, Mark, Rect, Viewport, bounds, shift
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE
from packet.drawing.view import Scale, View, series
from packet.plan import Plan
from packet.sheets.board_dimensions import dimensions, slim_dimensions
from packet.sheets.board_view import board_rect, board_view
from packet.sheets.kit import Kit
from packet.sheets.marking_words import BOXES, TICKS, KeyWord, key_words, tick_boxes, ticks_width
from packet.sheets.snap_table import LOOKS, Look, snap_rows, snap_table
from packet.sheets.tip_detail import Boxed, tip_picture, tip_sentence, tip_trims_note

_GAP = 4.0
_UNDER = 1.5
"""mm between the drawing and what stands below it."""

_CLOSE = 0.8
"""The same where the board has the page to itself, and every mm decides on its scale."""

_LEAST_WORDS = 90.0
_LEAST_TIPS = 46.0


WORTH = 1.9
"""How many times larger a board must be drawn alone than beside its words, to be worth a second sheet."""


@dataclass(frozen=True)
class Page:
    """A composed marking sheet. `left`: where the board is drawn alone, the boxes to tick that are left for the
    sheet with its words and its table; else None. `view` draws the board inside its outline, which takes longest; it is
    asked only for a page that may be taken."""

    scale: Scale
    viewports: tuple[Viewport, ...]
    dimensions: Callable[[], Drawing]
    view: Callable[[], tuple[Drawing, bool]]
    beside: Callable[[], Drawing]
    left: tuple[str, ...] | None = None

    @cached_property
    def _inside(self) -> tuple[Drawing, bool]:
        return self.view()

    @property
    def clear(self) -> bool:
        """Whether every number and mark on the board found clear room."""
        return self._inside[1]

    @property
    def marks(self) -> Drawing:
        return self.dimensions() + self._inside[0] + self.beside()


def compose(plan: Plan, kit: Kit, run: Alike, lines: tuple[KeyWord, ...], short: tuple[str, ...],
            trims: TipTrims | None) -> Page:
    """The page with the board in the largest standard scale that leaves room for the rest.

    Within a scale, large lettering is preferred, and the table beside the board to the table below it. Where
    the board alone, with one of the `short` sentences under it, can be drawn at least WORTH times larger, it is.
    Raises LayoutError where the paper is too small for any scale.
    """
    alone: Page | None = None
    waiting: list[_Composer] = []
    length, breadth = run.first.stock.length, run.first.stock.breadth
    largest = 0.0
    for scale in series(kit.system):
        if length / scale.ratio > kit.room.width or breadth / scale.ratio > kit.room.height:
            continue  # the bare board is larger than the page
        sketch = _Composer(plan, kit, run, lines, trims, scale)
        waiting.append(sketch)
        largest = largest or scale.ratio
        page = sketch.whole()
        if largest * WORTH > scale.ratio and (page is None or page.clear):
            if page:
                return page
            continue  # no drawing alone is large enough yet to be worth a second sheet
        alone, waiting = _largest_alone(alone, waiting, short), []
        if page and (page.clear or alone is None or not alone.clear):
            worth = alone is not None and alone.clear and alone.scale.ratio * WORTH <= scale.ratio
            return alone if alone and worth else page
        if alone and alone.clear and alone.scale.ratio * WORTH <= scale.ratio:
            return alone
    alone = _largest_alone(alone, waiting, short)
    if alone:
        return alone
    raise LayoutError(f"board {run.first.mark}: the marking sheet does not fit {kit.paper.name}; use larger paper")


def _largest_alone(alone: Page | None, sketches: list[_Composer], short: tuple[str, ...]) -> Page | None:
    """The board alone in the largest of these sketches, unless an earlier one is clear."""
    for sketch in sketches:
        if alone is None or not alone.clear:
            # A smaller drawing that is clear is better than a larger one that is not.
            found = sketch.alone(short)
            alone = found if found and (alone is None or found.clear) else alone
    return alone


class _Composer:
    """One board at one scale."""

    def __init__(self, plan: Plan, kit: Kit, run: Alike, lines: tuple[KeyWord, ...], trims: TipTrims | None,
                 scale: Scale) -> None:
        board = run.first
        self.plan, self.kit, self.run, self.board = plan, kit, run, board
        self.lines, self.trims, self.scale = lines, trims, scale
        self.dimensions = dimensions(board, View(scale, (0.0, 0.0)), kit)
        self.extent: Rect = bounds(self.dimensions, kit.lettering)
        self.wide = self.extent[2] - self.extent[0]
        self.foot = kit.room.top - (self.extent[3] - self.extent[1]) - _UNDER
        self.rows = snap_rows(kit, board)

    def whole(self) -> Page | None:
        """Everything on one page, clear if it can be."""
        for look, style in ((LOOKS[0], LARGE), (LOOKS[0], BODY), (LOOKS[1], BODY)):
            for page in chain(self.beside(look, style), self.below(look, style)):
                return page
        return None

    def beside(self, look: Look, style: Style) -> Iterator[Page]:
        """Board and words at the left; table, tip trims (or the last of the words) and ticks at the right."""
        room = self.kit.room
        widest = room.width - self.wide - _GAP
        table = snap_table(room.top_left, self.rows, self.kit, look, widest, room.height) if self.rows else None
        if self.foot <= room.bottom or widest <= 0.0 or (self.rows and table is None):
            return
        least = max(table.width if table else 0.0, ticks_width(self.kit), _LEAST_TIPS)
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
            if table.bottom - _GAP - TICKS < room.bottom:
                return
            column = Room(column.left, column.bottom, column.right, table.bottom - _GAP)
        ticks, right = column.cut_bottom(TICKS, 2.0)
        board = self._board((left.width - self.wide) / 2)
        tries: tuple[tuple[tuple[KeyWord, ...], int, Callable[[Room], Block | Boxed | None]], ...]
        if self.trims:
            tries = ((self.lines, 0, self._tips), (self.lines, 1, self._tips),
                     (self.lines_with_tips, 0, self._tip_picture))
        else:
            tries = tuple((self.lines, moved, self._tips) for moved in (1, 2, 0))
        for lines, moved, tips in tries:
            # The last `moved` instructions stand in the column.
            here = key_words(self.kit, lines[len(lines) - moved:], right, style)
            if here is None:
                continue
            rest = Room(right.left, right.bottom, right.right, here.bottom - (_GAP if moved else 0.0))
            words = key_words(self.kit, lines[:len(lines) - moved], left, style)
            page = self._page(board, table, words, here, tips(rest), tick_boxes(self.kit, ticks))
            if page:
                yield page

    def below(self, look: Look, style: Style) -> Iterator[Page]:
        """The board across the page; words with ticks, tip trims and table below it, side by side."""
        room = self.kit.room
        under = Room(room.left, room.bottom, room.right, self.foot)
        if self.wide > room.width or under.height < TICKS + 10.0:
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
        ticks, words = under.cut_bottom(TICKS, 2.0)
        board = self._board((room.width - self.wide) / 2)
        page = self._page(board, table, key_words(self.kit, self.lines, words, style), self._tips(spot),
                          tick_boxes(self.kit, ticks))
        if page:
            yield page

    def alone(self, short: tuple[str, ...]) -> Page | None:
        """The board across the page with its dimensions, a sentence below it, a box to tick where it fits; None
        where not even the last sentence fits."""
        slim = slim_dimensions(self.board, View(self.scale, (0.0, 0.0)), self.kit)
        for drawn in (slim, self.dimensions) if slim else (self.dimensions,):
            page = self._alone(short, drawn)
            if page:
                return page
        return None

    def _alone(self, short: tuple[str, ...], drawn: Drawing) -> Page | None:
        room, kit = self.kit.room, self.kit
        left, bottom, right, top = bounds(drawn, kit.lettering)
        if right - left > room.width:
            return None
        under = Room(room.left, room.bottom, room.right, room.top - (top - bottom) - _CLOSE)
        at = (room.left + (room.width - right + left) / 2 - left, room.top - top)
        for boxes, text, style in product((BOXES[:1], ()), short, (LARGE, BODY)):
            wide = ticks_width(kit, boxes) if boxes else 0.0
            spot, words = under.cut_right(wide, _GAP)
            block = paragraph(words.top_left, words.width, text, style, kit.lettering)
            if under.height < (TICK_SIZE if boxes else 0.0) or block.bottom < under.bottom:
                continue
            ticks = tick_boxes(kit, spot, boxes)
            view = View(self.scale, at)
            viewport = Viewport(board_rect(self.board, view), self.scale.ratio, "board")
            return Page(self.scale, (viewport,), partial(shift, drawn, *at),
                        partial(board_view, self.plan, kit, self.run, view),
                        partial(_marks, (block, ticks) if ticks else (block,)), BOXES[len(boxes):])
        return None

    def _page(self, board: View, table: Block | None, *parts: Block | Boxed | None) -> Page | None:
        """All parts on one page, or None where one of them found no room."""
        viewports = [Viewport(board_rect(self.board, board), self.scale.ratio, "board")]
        found: list[Block | Boxed] = [table] if table else []
        for part in parts:
            if part is None:
                return None
            found.append(part)
            if not isinstance(part, Block):
                viewports.append(part[1])
        return Page(self.scale, tuple(viewports), partial(shift, self.dimensions, *board.origin),
                    partial(board_view, self.plan, self.kit, self.run, board), partial(_marks, found))

    def _board(self, spare: float) -> View:
        """The view, with `spare` mm at the left of the drawing."""
        room = self.kit.room
        return View(self.scale, (room.left + spare - self.extent[0], room.top - self.extent[3]))

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


def _marks(parts: Sequence[Block | Boxed]) -> Drawing:
    marks: list[Mark] = []
    for part in parts:
        marks += part.marks if isinstance(part, Block) else part[0]
    return tuple(marks)
