"""New leaves out of a blank: laid out, marked and cut as a board of its own."""

from __future__ import annotations

from packet.assembly.records import Assembly, Leaf
from packet.boards.held import HeldBlank
from packet.boards.layout import lay_out
from packet.boards.nest import DoesNotFit, nest
from packet.boards.records import Board, Stock


def cut_from(blank: HeldBlank, leaves: tuple[Leaf, ...]) -> Board | None:
    """Just these leaves out of the blank, hands as they are; None where they do not all fit.

    The board that is returned has the blank's mark, and its frame is the blank's own: datum corner at the
    lower left, x along the longer of the two ways that fit (`stock` tells which), printed face up.
    """
    asked = Assembly(leaves, (), (), blank.thickness)
    stock = blank.stock
    turned = Stock(stock.breadth, stock.length, stock.thickness, stock.kerf)
    for way in sorted((stock, turned), key=lambda way: -way.length):
        try:
            nested = nest(asked, way)
        except DoesNotFit:
            continue
        if len(nested.boards) == 1:
            return lay_out(asked, nested, (blank.mark,))[0]
    return None
