"""Running dimensions round a board, from its datum corner."""

from __future__ import annotations

from typing import Literal

from packet.boards.marks import edge_stations
from packet.boards.records import Board
from packet.drawing.dimension import running
from packet.drawing.lettering import FINE_BOLD, NUMBER
from packet.drawing.marks import Drawing, Line, Point, Rect, Text, bounds
from packet.drawing.view import View
from packet.sheets.kit import Kit
from packet.sheets.placing import Taken

_OFFSETS = (4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0)
"""mm between the board's ends and their dimensions, as many as it takes to keep the corners clear."""


def dimensions(board: Board, view: View, kit: Kit) -> Drawing:
    """Running dimensions on all four edges from the datum corner, and the words at that corner."""
    stations = edge_stations(board)
    far, high = board.stock.length, board.stock.breadth

    def run(origin: Point, along_x: bool, marks: tuple[float, ...], offset: float) -> Drawing:
        labels = [(view.length(mark), kit.form.length(mark, halves=True)) for mark in marks]
        start = view.point(origin)
        direction: Literal["x", "y"] = "x" if along_x else "y"
        whole = running(start, direction, labels, offset, kit.lettering, NUMBER)
        if len(labels) < 3 or not _turned(whole, along_x):
            return whole
        # A line a finger's breadth before the far edge crowds it; the size of the board stands in the words too.
        short = running(start, direction, labels[:-1], offset, kit.lettering, NUMBER)
        return whole if _turned(short, along_x) else short

    drawn: Drawing = (*run((0.0, 0.0), True, stations.bottom, -_OFFSETS[0]),
                      *run((0.0, high), True, stations.top, _OFFSETS[0]))
    for x, marks, side in ((0.0, stations.left, -1.0), (far, stations.right, 1.0)):
        for offset in _OFFSETS:
            end = run((x, 0.0), False, marks, side * offset)
            if not _touch(drawn, end, kit):
                break
        drawn += end
    for drop in range(0, 24, 2):
        words = _datum_words(view, kit, float(drop))
        if not _touch(drawn, words, kit):
            break
    return (*drawn, *words)


def _turned(dimension: Drawing, along_x: bool) -> bool:
    """Whether the figures of a running dimension had to be set across it, which takes much room."""
    return any(isinstance(mark, Text) and (mark.angle == 0.0) is not along_x for mark in dimension)


def _datum_words(view: View, kit: Kit, drop: float) -> Drawing:
    """The words beside the triangle at the datum corner, or lower by `drop` mm."""
    x, y = view.origin
    lines = kit.words.texts("marking.datum")
    return tuple(Text((x - 6.0, y - drop - 8.2 - 3.9 * row), line, FINE_BOLD, "right")
                 for row, line in enumerate(lines))


def _touch(drawn: Drawing, more: Drawing, kit: Kit) -> bool:
    """Whether lettering of one drawing comes too near to lettering or lines of the other."""
    def boxes(marks: Drawing) -> list[Rect]:
        return [bounds((mark,), kit.lettering) for mark in marks if isinstance(mark, Text)]

    def lines(marks: Drawing) -> list[tuple[Point, Point]]:
        return [(mark.a, mark.b) for mark in marks if isinstance(mark, Line)]

    return any(not Taken(boxes(a), lines(a)).free(box, clear=0.8) for a, b in ((drawn, more), (more, drawn))
               for box in boxes(b))
