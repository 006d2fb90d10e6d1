"""Boards as they were delivered: what is left of each after squaring it, and what all leaves can count on."""

from __future__ import annotations

import math

from packet.description.resolved import Boards, MeasuredBoard


def skew(board: MeasuredBoard) -> float:
    """How far a board leans over its breadth, mm; 0 where its diagonals were not measured.

    In a parallelogram of sides L and B the diagonals satisfy d1^2 - d2^2 = 4 L B cos(angle), and the far long edge
    is shifted by B cos(angle) along the near one.
    """
    if not board.diagonals:
        return 0.0
    first, second = board.diagonals
    return abs(first**2 - second**2) / (4 * board.length)


def squared_length(board: MeasuredBoard) -> float:
    """Length left when both ends are cut square to the datum edge, mm."""
    return board.length - skew(board)


def size_measured(boards: Boards, board: MeasuredBoard) -> int:
    """The place in `boards.sizes` of the size that a board as measured is nearest to."""
    sizes = boards.sizes
    return min(range(len(sizes)), key=lambda place: math.dist(sizes[place], (board.breadth, board.length)))


def smallest(boards: Boards, size: int = 0) -> tuple[float, float]:
    """Length and breadth (mm) that every board of one size has, nominal where none was measured, after squaring and
    edge trims; `size` is a place in `boards.sizes`."""
    breadth, length = boards.sizes[size]
    measured = [board for board in boards.measured if size_measured(boards, board) == size]
    lengths = [squared_length(board) for board in measured] or [length]
    breadths = [board.breadth for board in measured] or [breadth]
    return min(lengths) - 2 * boards.edge_trim, min(breadths) - 2 * boards.edge_trim


def thickness(boards: Boards) -> float:
    """The thickest place measured on any board, mm, else the nominal one: strips and pack must go round it."""
    return max((t for board in boards.measured for t in board.thickness), default=boards.thickness)
