"""Receiving: where each board is measured, what is within limits, and a table for the readings."""

from __future__ import annotations

import math

from packet.boards.delivered import smallest
from packet.description.resolved import MeasuredBoard
from packet.drawing.dimension import linear
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, NUMBER
from packet.drawing.marks import Drawing, Line, Mark, Point, Text, bounds, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import FRAME, HEAVY, HIDDEN, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import TICK_SIZE, circled, tick_box
from packet.drawing.table import PAD, Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.site_blocks import boxed, sheet
from packet.work.stations import Station

_ROW = 11.5
"""mm; a reading is written with a glove on. Where boards are few the rows are taller, up to _TALL."""

_GAP = 2.4
_TALL = 16.0
_BESIDE = 19.0
"""mm left of the board in the picture for the breadth and a corner's number, and below it for the length."""

_LEAST_HIGH = 36.0
"""mm high that the board is drawn, so that the word BREADTH stands between its arrowheads."""

_CORNER = 4.0
"""mm, radius of a corner's number."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A page for every project, and further ones where the boards are many."""
    rows = _rows(plan, kit)
    # A number and the size below it each on one line: a row as high as any other.
    marks = (line for mark, *_ in rows for line in str(mark).split("\n"))
    first = max(18.0, max((kit.lettering.width(line, BODY_BOLD) for line in marks), default=0.0) + 2 * PAD + 0.5)
    columns = [Column(width, "centre", BODY_BOLD)
               for width in (first, *spread(kit.room.width - first, 31, 31, 31, 31, 22, 22, 22, 22, 15))]
    header = kit.words.texts("receiving.table.header")
    head = _head(plan, kit)
    note = paragraph((0.0, 0.0), kit.room.width, kit.words.text("receiving.note", mixed=plan.nest.mixed), BODY, kit.lettering)
    sheets: list[Sheet] = []
    free = kit.room.height - note.height - _GAP

    def taken(start: int, height: float) -> int:
        return fit(columns, rows[start:], header, height, kit.lettering, _ROW)

    # Every page is filled to the same part, rather than a last page with one board.
    takes = [taken(0, free - head.height - _GAP)]
    while sum(takes) < len(rows):
        takes.append(taken(sum(takes), free))
    part = len(rows) / sum((*takes[:-1], taken(0, free) if len(takes) > 1 else takes[-1]))
    begun = 0
    for page, most in enumerate(takes):
        above = (head,) if not page else ()
        left = len(rows) - begun
        here = rows[begun:begun + (min(most, math.ceil(most * part)) if page < len(takes) - 1 else left)]
        # Many sizes of board take the first page for their limits; the readings then begin on the next.
        room = free - sum(block.height + _GAP for block in above)
        row = next((row for row in (_TALL, (_ROW + _TALL) / 2)
                    if fit(columns, here, header, room, kit.lettering, row) == len(here)), _ROW)
        below = (table((0.0, 0.0), columns, here, header, kit.lettering, row, rules="grid"),) if here else ()
        hung = stack(kit.room.top_left, (*above, *below, note), _GAP)
        subject = kit.words.text("receiving.subject", first=begun + 1, last=begun + len(here)) if here else ""
        drawn = with_notes(kit, hung.marks)
        sheets.append(sheet(kit, "receiving", "receiving", Station.P.word, drawn, len(sheets) + 1, subject))
        begun += len(here)
    return tuple(sheets)


def _rows(plan: Plan, kit: Kit) -> list[list[Cell]]:
    """A row for every board that is bought, and for each one measured beyond these; what was read stands in it."""
    read = {board.mark: board for board in plan.description.boards.measured}
    count = max(len(plan.boards) + plan.description.boards.spare, *(int(mark) for mark in read), 0)
    return [_row(plan, kit, _named(plan, kit, number), read.get(str(number))) for number in range(1, count + 1)]


def _named(plan: Plan, kit: Kit, number: int) -> str:
    """The board's number, and its size where several are bought: the marking sheet of that number is made for it."""
    boards = plan.description.boards
    if not plan.nest.mixed:
        return str(number)
    stock = plan.boards[number - 1].stock if number <= len(plan.boards) else plan.nest.spare
    return f"{number}\n{_bare(kit, *boards.sizes[stock.size])}"


def _bare(kit: Kit, breadth: float, length: float) -> str:
    """A size without its unit, which stands beside it."""
    return kit.form.size(breadth, length).removesuffix(f" {kit.form.unit}")


def _row(plan: Plan, kit: Kit, mark: str, board: MeasuredBoard | None) -> list[Cell]:
    box = tick_box((0.0, 0.0))
    if board is None:
        return [mark, *[""] * 8, box]
    length = kit.form.length
    diagonals = [length(each) for each in board.diagonals] or ["", ""]
    thickness = [length(each) for each in board.thickness] or [""] * 4
    square = bool(board.diagonals) and abs(board.diagonals[0] - board.diagonals[1]) <= plan.description.limits.diagonal
    return [mark, length(board.length), length(board.breadth), *diagonals, *thickness, (*box, *_tick()) if square else box]


def _tick() -> Drawing:
    """A tick in a tick box at the origin: a board too far from the others makes no plan, so this one is square too."""
    a, b, c = ((share * TICK_SIZE, up * TICK_SIZE) for share, up in ((0.2, 0.5), (0.42, 0.22), (0.82, 0.8)))
    return (Line(a, b, FRAME), Line(b, c, FRAME))


def _head(plan: Plan, kit: Kit) -> Block:
    """Picture, limits and what to do, side by side."""
    picture, limits, stop = Room(0.0, 0.0, kit.room.width, 1.0).columns(0.34, 0.34, 0.32, gap=5.0)
    blocks = [_picture(plan, kit, picture.width), _limits(plan, kit, limits.width), _stop(kit, stop.width)]
    height = max(block.height for block in blocks)
    marks: list[Mark] = []
    for room, block in zip((picture, limits, stop), blocks, strict=True):
        marks += block.moved((room.left, 0.0)).marks
    return Block(tuple(marks), (0.0, 0.0), kit.room.width, height)


def _picture(plan: Plan, kit: Kit, width: float) -> Block:
    """The board with its long edge down, and where each reading is taken."""
    words, lettering = kit.words, kit.lettering
    boards = plan.description.boards
    left, right = _BESIDE, width - 2.5 * _CORNER
    across = right - left
    up = max(across * min(boards.breadth / boards.length, 0.62), _LEAST_HIGH)
    a, b, c, d = (left, 0.0), (right, 0.0), (right, up), (left, up)
    marks: list[Mark] = [rectangle((left, 0.0, right, up), HEAVY), Line(a, c, HIDDEN), Line(d, b, HIDDEN)]
    marks += linear(a, b, -9.0, words.text("receiving.picture.length"), lettering, NUMBER)
    marks += linear(a, d, 13.0, words.text("receiving.picture.breadth"), lettering, BODY_BOLD)
    corners: tuple[Point, ...] = ((left - 1.4 * _CORNER, 0.2 * up), (left - 1.4 * _CORNER, 0.8 * up),
                                  (right + 1.4 * _CORNER, 0.8 * up), (right + 1.4 * _CORNER, 0.2 * up))
    for number, (at, corner) in enumerate(zip(corners, (a, d, c, b), strict=True), 1):
        marks += (Line(at, corner, VISIBLE), *circled(at, words.text("receiving.picture.corner", number=number), lettering,
                                                      _CORNER, BODY_BOLD))
    first, second = words.texts("receiving.picture.diagonals")
    marks += (Text((left + 0.24 * across, 0.24 * up + 4.0), first, NUMBER, "right"),
              Text((right - 0.24 * across, 0.24 * up + 4.0), second, NUMBER))
    foot = bounds(marks, lettering)[1] - 1.5
    told = paragraph((0.0, foot), width, words.text("receiving.picture.thickness"), BODY, lettering)
    return Block((*marks, *told.marks), (0.0, up + 1.0), width, up + 1.0 - told.bottom).moved((0.0, 0.0))


def _limits(plan: Plan, kit: Kit, width: float) -> Block:
    boards, limits = plan.description.boards, plan.description.limits
    text, form = kit.words.text, kit.form
    rows: list[list[Cell]] = []
    for each in plan.supply.sizes:
        length, breadth = (side + 2 * boards.edge_trim for side in smallest(boards, each.size))
        if len(plan.supply.sizes) == 1:
            rows += [[text("receiving.limits.length"), form.length_unit(length)],
                     [text("receiving.limits.breadth"), form.length_unit(breadth)]]
        else:
            size = _bare(kit, each.breadth, each.length)
            rows.append([text("receiving.limits.least", size=size), form.size(breadth, length)])
    values = {"spread": limits.board_spread, "diagonals": limits.diagonal, "thickness": limits.thickness_spread}
    rows += [[text(f"receiving.limits.{key}"), form.length_unit(value)] for key, value in values.items()]
    # A size and its unit stay on one line where the names leave them room.
    asked = max(kit.lettering.width(str(size), NUMBER) for _, size in rows) + 2 * PAD
    value = min(max(0.45 * width, asked), 0.58 * width)
    name = width - value
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, text("receiving.limits.title"), NUMBER, kit.lettering),
        table((0.0, 0.0), [Column(name), Column(value, "right", NUMBER)], rows, None, kit.lettering)), 0.0, width)


def _stop(kit: Kit, width: float) -> Block:
    return boxed(kit, width, kit.words.text("receiving.stop.title"), kit.words.texts("receiving.stop.lines"))
