"""What lies on a board: pieces, cuts, what is held. Board frame: origin at the datum corner, x along the
length, y along the breadth, mm, seen on the printed face."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Point
from packet.description.decided import part_mark


@dataclass(frozen=True, slots=True)
class Stock:
    """A board as it lies on the table, mm. `kerf` is what the blade takes; `size` is the place of its nominal size
    among those that may be bought together, 0 for `boards.size`."""

    length: float
    breadth: float
    thickness: float
    kerf: float = 0.0
    size: int = 0

    @property
    def area(self) -> float:
        """mm2"""
        return self.length * self.breadth


class CutKind(StrEnum):
    """Kinds of cut in the order they are made: large pieces apart first, trims last."""

    ACROSS = "across"
    ALONG = "along"
    UPRIGHT = "upright"
    DIAGONAL = "diagonal"
    TIP = "tip trim"
    DOOR = "door trim"


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight line that is snapped and cut, `number` in snap order from 1. `copies` are the numbers of the
    shelters of its `leaves`, 0 where there is one shelter."""

    number: int
    kind: CutKind
    a: Point
    b: Point
    leaves: tuple[str, ...] = ()
    copies: tuple[int, ...] = ()

    @property
    def length(self) -> float:
        """mm"""
        return math.dist(self.a, self.b)

    def parts(self) -> tuple[tuple[str, int], ...]:
        """The leaves that it cuts out, each with the shelter it belongs to."""
        return tuple(zip(self.leaves, self.copies, strict=True))


@dataclass(frozen=True, slots=True)
class Piece:
    """A leaf on a board: finished outline, and the rough outline before trims. `copy` is the number of the shelter
    it is for, 0 where there is one."""

    leaf: str
    outline: tuple[Point, ...]
    rough: tuple[Point, ...]
    copy: int = 0

    @property
    def mark(self) -> str:
        """What is written on it: `A3`, or `2-A3` for the second shelter of an order."""
        return part_mark(self.leaf, self.copy)


@dataclass(frozen=True, slots=True)
class Board:
    """One board's layout. `held` stays uncut; `offcuts` are left over and fit no leaf."""

    mark: str
    stock: Stock
    pieces: tuple[Piece, ...]
    cuts: tuple[Cut, ...]
    held: tuple[tuple[Point, ...], ...]
    offcuts: tuple[tuple[Point, ...], ...]

    @property
    def cut_length(self) -> float:
        """mm of cut on this board, every line once."""
        return sum(cut.length for cut in self.cuts)
