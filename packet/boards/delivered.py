"""Boards as they were delivered: what is left of each after squaring it, and what all leaves can count on."""

from __future__ import annotations

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


def smallest(boards: Boards) -> tuple[float, float]:
    """Length and breadth (mm) that every board has, nominal where none was measured, after squaring and edge trims."""
    lengths = [squared_length(board) for board in boards.measured] or [boards.length]
    breadths = [board.breadth for board in boards.measured] or [boards.breadth]
    return min(lengths) - 2 * boards.edge_trim, min(breadths) - 2 * boards.edge_trim


def thickness(boards: Boards) -> float:
    """The thickest place measured on any board, mm, else the nominal one: strips and pack must go round it."""
    return max((t for board in boards.measured for t in board.thickness), default=boards.thickness)
