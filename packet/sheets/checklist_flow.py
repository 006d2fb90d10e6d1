"""How the checklist fills its pages: tasks of a station in columns, hold points and long tasks across."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from packet.drawing.flow import Block, together
from packet.drawing.marks import Line, Mark
from packet.drawing.pens import TABLE

COLUMN = 112.0  # mm, least width of a column of tasks
BETWEEN = 8.0  # mm between columns
GAP = 1.3  # mm between a block and the rule that parts it from the next

Make = Callable[[int, float], Block]
"""The block of the task of that index, for a width in mm."""


@dataclass(frozen=True, slots=True)
class Filled:
    """The first `count` tasks laid out, as one block from the top."""

    count: int
    block: Block


def columns_of(width: float) -> int:
    """How many columns of tasks a page of that width takes."""
    return max(1, int((width + BETWEEN) / (COLUMN + BETWEEN)))


def fill(make: Make, total: int, width: float, height: float) -> Filled | None:
    """As many of `total` tasks, from the first, as `height` mm take; None where not even the first fits.

    Tasks are set in rows; a row is one task across the page or a run of tasks down its columns, in order. Of
    all ways the lowest is taken.
    """
    layout = _Layout(make, width)
    best: list[tuple[float, tuple[tuple[int, int], ...]]] = [(0.0, ())]
    for stop in range(1, total + 1):
        options = []
        for start in range(stop):
            below = best[start]
            row = layout.row(start, stop)
            tall = below[0] + row.height + (2 * GAP if start else 0.0)
            options.append((tall, (*below[1], (start, stop))))
        best.append(min(options, key=lambda option: option[0]))
        if best[-1][0] > 3 * height:
            break  # far beyond the page: no later task brings it back
    fitting = [stop for stop in range(1, len(best)) if best[stop][0] <= height + 1e-6]
    if not fitting:
        return None
    return Filled(fitting[-1], layout.drawn(best[fitting[-1]][1]))


class _Layout:
    """Rows of a page of one width, each made once."""

    def __init__(self, make: Make, width: float) -> None:
        self.width = width
        self.count = columns_of(width)
        self.column = (width - (self.count - 1) * BETWEEN) / self.count
        self.make = cache(make)
        self.row = cache(self._row)

    def drawn(self, rows: tuple[tuple[int, int], ...]) -> Block:
        blocks: list[Block] = []
        y = 0.0
        for start, stop in rows:
            if y:
                rule = Line((0.0, y - GAP), (self.width, y - GAP), TABLE)
                blocks.append(Block((rule,), (0.0, 0.0), self.width, 0.0))
                y -= 2 * GAP
            row = self.row(start, stop)
            blocks.append(row.moved((0.0, y)))
            y -= row.height
        return together((0.0, 0.0), blocks, self.width, -y)

    def _row(self, start: int, stop: int) -> Block:
        if stop - start == 1:
            return self.make(start, self.width)
        blocks = [self.make(index, self.column) for index in range(start, stop)]
        parts = _level([block.height for block in blocks], self.count)
        columns: list[Block] = []
        rules: list[Mark] = []
        tallest = 0.0
        for place, (first, last) in enumerate(parts):
            x, y = place * (self.column + BETWEEN), 0.0
            for block in blocks[first:last]:
                if y:
                    rules.append(Line((x, y - GAP), (x + self.column, y - GAP), TABLE))
                    y -= 2 * GAP
                columns.append(block.moved((x, y)))
                y -= block.height
            tallest = max(tallest, -y)
        for place in range(1, len(parts)):
            x = place * (self.column + BETWEEN) - BETWEEN / 2
            rules.append(Line((x, 0.0), (x, -tallest), TABLE))
        columns.append(Block(tuple(rules), (0.0, 0.0), self.width, tallest))
        return together((0.0, 0.0), columns, self.width, tallest)


def _level(heights: list[float], count: int) -> list[tuple[int, int]]:
    """Cut a list into at most `count` runs, in order, of which the tallest is as low as can be."""
    def tall(first: int, last: int) -> float:
        return sum(heights[first:last]) + 2 * GAP * (last - first - 1)

    @cache
    def cut(first: int, left: int) -> tuple[float, tuple[tuple[int, int], ...]]:
        if left == 1 or first == len(heights) - 1:
            return tall(first, len(heights)), ((first, len(heights)),)
        options = []
        for last in range(first + 1, len(heights)):
            rest, runs = cut(last, left - 1)
            options.append((max(tall(first, last), rest), ((first, last), *runs)))
        return min(options, key=lambda option: option[0])

    return list(cut(0, count)[1])
