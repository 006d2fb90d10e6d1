"""Boards with the lines that are cut, small, each line with its number."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packet.assembly.records import Point
from packet.boards.alike import Alike
from packet.boards.records import Board, CutKind
from packet.drawing.lettering import BODY_BOLD, NUMBER
from packet.drawing.marks import Drawing, Line, Mark, Text, rectangle
from packet.drawing.pens import CUT, HEAVY, LAST
from packet.drawing.room import Room
from packet.drawing.symbols import circled, datum_corner
from packet.drawing.view import Scale, View
from packet.sheets.kit import Kit
from packet.sheets.plates import fitted

_LEAST = 38.0
"""mm of height under which the boards are not drawn."""
_WIDE = 62.0
"""mm of width that a board takes at least."""
_RADIUS = 3.0
_HEAD = 8.0
_SHARES = (0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88, 0.43, 0.57)
"""Places along a line that are tried for its number."""


def boards_in_row(runs: Sequence[Alike], room: Room, kit: Kit) -> Drawing:
    """A board of every run side by side with the lines it is cut on; nothing where the room is too small for that."""
    if room.height < _LEAST or room.width / len(runs) < _WIDE:
        return ()
    marks: list[Mark] = []
    for run, place in zip(runs, room.columns(*[1] * len(runs), gap=8.0), strict=True):
        board = _board(run.first, place.inset(5.0, 5.0, 1.0, _HEAD), kit)
        if not board:
            return ()
        name = kit.words.text("cuts.board", marks="-".join(run.marks))
        marks += [*board, Text((place.centre[0], place.top - NUMBER.height), name, NUMBER, "centre")]
    return tuple(marks)


def _board(board: Board, room: Room, kit: Kit) -> Drawing:
    """Outline, datum corner and lines; what is cut last dashed. Nothing where a number would stand on another."""
    bounds = (0.0, 0.0, board.stock.length, board.stock.breadth)
    view = View.centred(Scale(fitted(bounds, room), ""), bounds, room.rect)
    low, high = view.point((0.0, 0.0)), view.point((board.stock.length, board.stock.breadth))
    marks: list[Mark] = [rectangle((*low, *high), HEAVY, 1.0), *datum_corner(low, size=4.0)]
    numbers: list[Mark] = []
    taken: list[Point] = []
    for cut in board.cuts:
        a, b = view.point(cut.a), view.point(cut.b)
        marks.append(Line(a, b, LAST if cut.kind is CutKind.DOOR else CUT))
        spots = ((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for share in _SHARES)
        spot = next((spot for spot in spots if all(math.dist(spot, other) > 2 * _RADIUS + 0.6 for other in taken)), None)
        if spot is None:
            return ()
        taken.append(spot)
        numbers += circled(spot, str(cut.number), kit.lettering, _RADIUS, BODY_BOLD)
    return (*marks, *numbers)
