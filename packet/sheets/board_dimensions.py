"""Running dimensions round a board, from its datum corner."""

from __future__ import annotations

from typing import Literal

from packet.boards.marks import edge_stations
from packet.boards.records import Board
from packet.drawing.dimension import linear, running
from packet.drawing.lettering import FINE_BOLD, NUMBER
from packet.drawing.marks import Drawing, Line, Point, Text, bounds
from packet.drawing.view import View
from packet.sheets.kit import Kit
from packet.sheets.placing import Taken

_OFFSETS = (4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0)
"""mm between the board's ends and their dimensions, as many as it takes to keep the corners clear."""

_SLIM = 3.25
"""mm between the ends and their dimensions where the board has the page to itself."""


def dimensions(board: Board, view: View, kit: Kit) -> Drawing:
    """Running dimensions on all four edges from the datum corner, and the words at that corner."""
    stations = edge_stations(board)
    drawn = _along(board, view, kit)
    for end, marks in (("left", stations.left), ("right", stations.right)):
        for offset in _OFFSETS:
            found = _up(board, view, kit, end, marks, offset)
            if not _touch(drawn, found, kit):
                break
        drawn += found
    for drop in range(0, 24, 2):
        words = _datum_words(view, kit, float(drop))
        if not _touch(drawn, words, kit):
            break
    return (*drawn, *words)


def slim_dimensions(board: Board, view: View, kit: Kit) -> Drawing | None:
    """The same close to the board: the words at the corner stand along the left end, and the board's own breadth
    is left out at an end where it has no room. None where they do not stand clear."""
    stations = edge_stations(board)
    drawn: Drawing = (*_close(view, kit, (0.0, 0.0), stations.bottom, -_OFFSETS[0]),
                      *_close(view, kit, (0.0, board.stock.breadth), stations.top, _OFFSETS[0]))
    for end, marks in (("left", stations.left), ("right", stations.right)):
        for figures in (marks, marks[:-1]):
            found = _up(board, view, kit, end, figures, _SLIM)
            if len(figures) > 1 and not _led(found) and not _touch(drawn, found, kit):
                drawn += found
                break
        else:
            if len(marks) > 2:
                return None
            # No line ends here: the breadth alone, in the middle of the end.
            x, high = (0.0 if end == "left" else board.stock.length), board.stock.breadth
            drawn += linear(view.point((x, 0.0)), view.point((x, high)), _SLIM if end == "left" else -_SLIM - 5.0,
                            kit.form.length(high, halves=True), kit.lettering, NUMBER)
    x, y = view.origin
    text = " ".join(kit.words.texts("marking.datum"))
    long = kit.lettering.width(text, FINE_BOLD)
    for start in range(4, int(view.length(board.stock.breadth) - long), 2):
        words = (Text((x - _SLIM - 2.8, y + start), text, FINE_BOLD, "left", 90.0),)
        if not _touch(drawn, words, kit):
            return (*drawn, *words)
    return None


def _along(board: Board, view: View, kit: Kit) -> Drawing:
    """Both long edges."""
    stations = edge_stations(board)
    return (*_run(view, kit, (0.0, 0.0), "x", stations.bottom, -_OFFSETS[0]),
            *_run(view, kit, (0.0, board.stock.breadth), "x", stations.top, _OFFSETS[0]))


def _close(view: View, kit: Kit, origin: Point, marks: tuple[float, ...], offset: float) -> Drawing:
    """A long edge whose last figure may stand a little nearer to its neighbour, before figures are led away."""
    whole = _run(view, kit, origin, "x", marks, offset)
    if len(marks) > 2 and _led(whole):
        near, last = (_run(view, kit, origin, "x", part, offset) for part in (marks[:-1], marks[-1:]))
        if not (_led(near) or _led(last) or _touch(near, last, kit)):
            return (*near, *last)
    return whole


def _up(board: Board, view: View, kit: Kit, end: str, marks: tuple[float, ...], offset: float) -> Drawing:
    """One end of the board."""
    left = end == "left"
    return _run(view, kit, (0.0 if left else board.stock.length, 0.0), "y", marks, -offset if left else offset)


def _run(view: View, kit: Kit, origin: Point, direction: Literal["x", "y"], marks: tuple[float, ...],
         offset: float) -> Drawing:
    labels = [(view.length(mark), kit.form.length(mark, halves=True)) for mark in marks]
    start, along_x = view.point(origin), direction == "x"
    whole = running(start, direction, labels, offset, kit.lettering, NUMBER)
    if len(labels) < 3 or not _turned(whole, along_x):
        return whole
    # A line a finger's breadth before the far edge crowds it; the size of the board stands in the words too.
    short = running(start, direction, labels[:-1], offset, kit.lettering, NUMBER)
    return whole if _turned(short, along_x) else short


def _led(dimension: Drawing) -> bool:
    """Whether figures of a running dimension had to be led to their ticks."""
    return any(isinstance(mark, Line) and min(abs(mark.a[0] - mark.b[0]), abs(mark.a[1] - mark.b[1])) > 0.01
               for mark in dimension)


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
    here, there = _taken(drawn, kit), _taken(more, kit)
    return any(not a.free(box, clear=0.8) for a, b in ((here, there), (there, here)) for box in b.boxes)


def _taken(marks: Drawing, kit: Kit) -> Taken:
    return Taken([bounds((mark,), kit.lettering) for mark in marks if isinstance(mark, Text)],
                 [(mark.a, mark.b) for mark in marks if isinstance(mark, Line)])
