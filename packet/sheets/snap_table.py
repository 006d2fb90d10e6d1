"""The table of a board's snap lines: from where to where, along and up from the datum corner."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.boards.records import Board, CutKind
from packet.drawing.flow import Block
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, HEAD, NUMBER, Style
from packet.drawing.marks import Line, Mark, Text, rectangle
from packet.drawing.pens import NARROW, TABLE
from packet.drawing.symbols import circled
from packet.sheets.kit import Kit

HEADER_GREY = 0.88
_HEAD = 9.8  # mm, height of the header
_GAP = 2.2  # mm between columns of figures at least
_AIR = 0.7  # of the figures' height between columns of figures that have the page to themselves
_MOST_GROUPS = 4
_BETWEEN = 6.0  # mm between groups of columns

Row = tuple[str, tuple[str, str, str, str]]
"""A number, and from where to where."""


@dataclass(frozen=True, slots=True)
class Look:
    """Sizes of the table: figures, circled numbers, row pitch in mm."""

    figures: Style
    numbers: Style
    pitch: float


LOOKS = (Look(NUMBER, BODY_BOLD, 8.2), Look(BODY_BOLD, FINE_BOLD, 6.2))
"""Large first; the small one where a large one has no room."""


ALONE = (Look(HEAD, NUMBER, 12.0), Look(NUMBER, BODY_BOLD, 11.0), *LOOKS)
"""For a table that has the page to itself."""


def snap_rows(kit: Kit, board: Board) -> tuple[Row, ...]:
    """Every snap line in order but the tip trims, which are measured on their leaf."""
    def figure(mm: float) -> str:
        return kit.form.length(mm, halves=True)

    return tuple(
        (str(cut.number), (figure(cut.a[0]), figure(cut.a[1]), figure(cut.b[0]), figure(cut.b[1])))
        for cut in board.cuts if cut.kind is not CutKind.TIP)


def snap_table(at: tuple[float, float], rows: tuple[Row, ...], kit: Kit, look: Look, width: float,
               height: float) -> Block | None:
    """The table in as few groups of columns as the height asks, or None where it has no room."""
    for groups in range(1, _MOST_GROUPS + 1):
        each = math.ceil(len(rows) / groups)
        parts = [rows[i:i + each] for i in range(0, len(rows), each)]
        widths = _widths(rows, kit, look)
        wide = len(parts) * sum(widths) + (len(parts) - 1) * _BETWEEN
        tall = _HEAD + each * look.pitch
        if wide > width:
            return None
        if tall <= height:
            marks: list[Mark] = []
            for index, part in enumerate(parts):
                marks += _group(at[0] + index * (sum(widths) + _BETWEEN), at[1], part, widths, kit, look)
            return Block(tuple(marks), at, wide, tall)
    return None


def _widths(rows: tuple[Row, ...], kit: Kit, look: Look) -> tuple[float, ...]:
    """The number column and four columns of figures."""
    measure = kit.lettering.width
    first = max(measure(number, look.numbers) for number, _ in rows) + 2 * 0.35 * look.numbers.height + 3.0
    heads = [kit.words.text(f"marking.table.{name}") for name in ("along", "up")]
    columns = []
    for index in range(4):
        figures = [measure(cells[index], look.figures) for _, cells in rows]
        columns.append(max([*figures, measure(heads[index % 2], FINE)])
                       + (_AIR * look.figures.height if look.figures is HEAD else _GAP))
    return (max(first, 2 * look.numbers.height + 3.0), *columns)


def _group(left: float, top: float, rows: tuple[Row, ...], widths: tuple[float, ...], kit: Kit, look: Look
           ) -> list[Mark]:
    """One group of columns: header in two lines, a row to a line, a rule between start and end."""
    words, lettering = kit.words, kit.lettering
    right = left + sum(widths)
    rights = [left + sum(widths[:i + 1]) - 1.0 for i in range(1, 5)]
    middle = left + sum(widths[:3])
    marks: list[Mark] = [rectangle((left, top - _HEAD, right, top), None, HEADER_GREY)]
    first, second = top - 1.2 - 2.5, top - 5.6 - 2.5
    marks.append(Text((left + 1.0, second), words.text("marking.table.line"), FINE))
    for start, stop, name in ((left + widths[0], middle, "start"), (middle, right, "stop")):
        marks.append(Text(((start + stop) / 2, first), words.text(f"marking.table.{name}"), FINE_BOLD, "centre"))
    for x, name in zip(rights, ("along", "up", "along", "up"), strict=True):
        marks.append(Text((x, second), words.text(f"marking.table.{name}"), FINE, "right"))
    y = top - _HEAD
    for number, figures in rows:
        centre = y - look.pitch / 2
        marks += circled((left + widths[0] / 2, centre), number, lettering, style=look.numbers)
        for x, text in zip(rights, figures, strict=True):
            marks.append(Text((x, centre - look.figures.height / 2), text, look.figures, "right"))
        marks.append(Line((middle + 0.5, y), (middle + 0.5, y - look.pitch), NARROW))
        y -= look.pitch
        marks.append(Line((left, y), (right, y), TABLE))
    return marks
