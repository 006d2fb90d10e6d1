"""Boards to buy: how many of each size, how they stack, what stays whole."""

from __future__ import annotations

from dataclasses import dataclass

from packet.boards.marks import size_of
from packet.boards.records import Board, Stock
from packet.description.resolved import Boards

MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class SizeBought:
    """Boards of one nominal size, mm: `cut` are on the marking sheets, `spare` are bought besides; `size` is the place
    of the size in `boards.sizes`."""

    size: int
    breadth: float
    length: float
    thickness: float
    cut: int
    spare: int

    @property
    def bought(self) -> int:
        return self.cut + self.spare

    @property
    def volume(self) -> float:
        """m3 of one board."""
        return self.breadth * self.length * self.thickness * MM3


@dataclass(frozen=True, slots=True)
class Supply:
    """All boards of the order, the sizes in the order of the project file.

    `held` are the whole parts kept of the boards that are cut: board mark, breadth and length, mm.
    """

    sizes: tuple[SizeBought, ...]
    held: tuple[tuple[str, float, float], ...]

    @property
    def cut(self) -> int:
        return sum(size.cut for size in self.sizes)

    @property
    def spare(self) -> int:
        return sum(size.spare for size in self.sizes)

    @property
    def bought(self) -> int:
        return self.cut + self.spare

    @property
    def stack(self) -> tuple[float, float, float]:
        """Breadth, length and height of all boards laid on each other, mm."""
        return (max(size.breadth for size in self.sizes), max(size.length for size in self.sizes),
                sum(size.bought * size.thickness for size in self.sizes))


def supply(boards: tuple[Board, ...], own: Boards, spare: Stock) -> Supply:
    """What to buy for these layouts, in boards of their nominal sizes; spare boards are of the size of `spare`."""
    found = []
    for size, (breadth, length) in enumerate(own.sizes):
        cut = sum(board.stock.size == size for board in boards)
        more = own.spare if spare.size == size else 0
        if cut or more:
            found.append(SizeBought(size, breadth, length, own.thickness, cut, more))
    return Supply(tuple(found), tuple((board.mark, *size_of(outline)) for board in boards for outline in board.held))
