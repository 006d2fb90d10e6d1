"""Boards to buy: how many, how they stack, what stays whole."""

from __future__ import annotations

from dataclasses import dataclass

from packet.boards.marks import size_of
from packet.boards.records import Board

MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class Supply:
    """Boards of one size, mm: `cut` are on the marking sheets, `spare` are bought besides.

    `held` are the whole parts kept of the boards that are cut: board mark, breadth and length.
    """

    cut: int
    spare: int
    breadth: float
    length: float
    thickness: float
    held: tuple[tuple[str, float, float], ...]

    @property
    def bought(self) -> int:
        return self.cut + self.spare

    @property
    def volume(self) -> float:
        """m3 of one board."""
        return self.breadth * self.length * self.thickness * MM3

    @property
    def stack(self) -> float:
        """Height of all boards laid on each other, mm."""
        return self.bought * self.thickness


def supply(boards: tuple[Board, ...], spare: int, breadth: float, length: float, thickness: float) -> Supply:
    """What to buy for these layouts, in boards of the nominal size."""
    held = tuple((board.mark, *size_of(outline)) for board in boards for outline in board.held)
    return Supply(len(boards), spare, breadth, length, thickness, held)
