"""Boards that are marked and cut alike: one marking sheet serves them all."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Any

from packet.boards.records import Board


@dataclass(frozen=True, slots=True)
class Alike:
    """Boards one after another with the same lines, the same leaves in the same places and the same part held.
    `number` counts from 1; with one set it is the mark of the one board."""

    number: int
    boards: tuple[Board, ...]

    @property
    def first(self) -> Board:
        return self.boards[0]

    @property
    def marks(self) -> tuple[str, ...]:
        """Mark of the first and of the last board, once where they are one."""
        return tuple(dict.fromkeys((self.first.mark, self.boards[-1].mark)))


def alike(boards: tuple[Board, ...]) -> tuple[Alike, ...]:
    """All boards in their order; only whose leaf it is, that of one shelter or the next, does not part them."""
    return tuple(Alike(number, tuple(run)) for number, (_, run) in enumerate(groupby(boards, _pattern), 1))


def numbers(runs: tuple[Alike, ...]) -> dict[str, int]:
    """For the mark of every board the number of the run it belongs to, and so of its marking sheet."""
    return {board.mark: run.number for run in runs for board in run.boards}


def _pattern(board: Board) -> Any:
    cuts = [(cut.kind, cut.leaves, _rounded((cut.a, cut.b))) for cut in board.cuts]
    pieces = [(piece.leaf, _rounded(piece.outline)) for piece in board.pieces]
    return board.stock.size, cuts, pieces, [_rounded(held) for held in board.held]


def _rounded(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((round(x, 3), round(y, 3)) for x, y in points)
