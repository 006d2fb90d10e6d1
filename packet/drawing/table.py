"""Tables: wrapped cells, drawings in cells, and how many rows fit a height."""

from __future__ import annotations

import operator
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial, reduce
from typing import Literal

from packet.drawing.flow import Block, paragraph
from packet.drawing.lettering import BODY, Lettering, Style
from packet.drawing.marks import Anchor, Drawing, Line, Mark, Point, bounds, rectangle, shift
from packet.drawing.pens import TABLE

Cell = str | Drawing
Rules = Literal["rows", "grid", "none"]

PAD = 1.5  # mm left and right of a cell's content
_PAD_HIGH = 1.0  # mm above and below
_HEADER_GREY = 0.88


@dataclass(frozen=True, slots=True)
class Column:
    """A column: width in mm, where its content stands, and the style of its text."""

    width: float
    align: Anchor = "left"
    style: Style = BODY


def spread(total: float, *shares: float) -> tuple[float, ...]:
    """Widths that divide `total` mm in proportion to the shares."""
    return tuple(total * share / sum(shares) for share in shares)


def row_heights(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    lettering: Lettering,
    row_height: float | None = None,
) -> tuple[float, ...]:
    """Height in mm of each row: that of its tallest cell, `row_height` at least."""
    return tuple(_tall(columns, row, lettering, row_height) for row in rows)


def _tall(columns: Sequence[Column], row: Sequence[Cell], lettering: Lettering, row_height: float | None = None) -> float:
    return max(row_height or 0.0, *(_content(cell, column, lettering).height + 2 * _PAD_HIGH
                                    for cell, column in zip(row, columns, strict=True)))


def fit(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    header: Sequence[str] | None,
    height: float,
    lettering: Lettering,
    row_height: float | None = None,
) -> int:
    """How many of the rows, from the first, fit into `height` mm below the header."""
    used = _header_height(columns, header, lettering)
    count = 0
    for row in rows:
        used += _tall(columns, row, lettering, row_height)
        if used > height + 1e-9:
            break
        count += 1
    return count


def table(
    at: Point,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    header: Sequence[str] | None,
    lettering: Lettering,
    row_height: float | None = None,
    rules: Rules = "rows",
) -> Block:
    """A table hung from its top left. A cell is a text (wrapped, `**bold**` allowed) or a drawing, which is
    placed by its bounds. Raises ValueError when a row has not one cell per column."""
    heights = row_heights(columns, rows, lettering, row_height)
    head = _header_height(columns, header, lettering)
    made = partial(_drawn, columns, rows, heights, header, head, lettering, rules)
    # As it is added up down the table.
    foot = reduce(operator.sub, (head, *heights), at[1])
    return Block(made, at, sum(column.width for column in columns), at[1] - foot)


def _drawn(columns: Sequence[Column], rows: Sequence[Sequence[Cell]], heights: Sequence[float], header: Sequence[str] | None,
           head: float, lettering: Lettering, rules: Rules, at: Point) -> Drawing:
    left, top = at
    width = sum(column.width for column in columns)
    marks: list[Mark] = []
    y = top
    if header is not None:
        marks.append(rectangle((left, top - head, left + width, top), None, _HEADER_GREY))
        marks += _row(left, y, head, _heads(columns), header, lettering)
        y -= head
    lines = [top, y] if header is not None else [top]
    for row, tall in zip(rows, heights, strict=True):
        marks += _row(left, y, tall, columns, row, lettering)
        y -= tall
        lines.append(y)
    if rules != "none":
        marks += [Line((left, level), (left + width, level), TABLE) for level in lines]
    if rules == "grid":
        edges = [left]
        for column in columns:
            edges.append(edges[-1] + column.width)
        marks += [Line((x, top), (x, y), TABLE) for x in edges]
    return tuple(marks)


def _header_height(columns: Sequence[Column], header: Sequence[str] | None, lettering: Lettering) -> float:
    if header is None:
        return 0.0
    return _tall(_heads(columns), header, lettering)


def _heads(columns: Sequence[Column]) -> list[Column]:
    """The columns as their headings are set: bold, and no larger than running text."""
    return [
        Column(column.width, column.align, Style(min(column.style.height, BODY.height), True))
        for column in columns
    ]


def _content(cell: Cell, column: Column, lettering: Lettering) -> Block:
    """A cell's content as a block hung from the page origin."""
    room = column.width - 2 * PAD
    if isinstance(cell, str):
        return paragraph((0.0, 0.0), room, cell, column.style, lettering, column.align)
    if not cell:
        return Block((), (0.0, 0.0), 0.0, 0.0)
    x0, y0, x1, y1 = bounds(cell, lettering)
    indent = {"left": 0.0, "centre": (room - (x1 - x0)) / 2, "right": room - (x1 - x0)}[column.align]
    return Block(shift(cell, indent - x0, -y1), (0.0, 0.0), room, y1 - y0)


def _row(
    left: float,
    top: float,
    tall: float,
    columns: Sequence[Column],
    cells: Sequence[Cell],
    lettering: Lettering,
) -> list[Mark]:
    """Cells centred in height on their row."""
    marks: list[Mark] = []
    x = left
    for column, cell in zip(columns, cells, strict=True):
        content = _content(cell, column, lettering)
        marks += content.moved((x + PAD, top - (tall - content.height) / 2)).marks
        x += column.width
    return marks
