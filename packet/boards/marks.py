"""What people read off a board when they mark it: stations along its edges, trims and check lengths.

Board frame: origin at the datum corner, `along` the length and `up` the breadth, mm. Every station is the
exact distance from the datum corner; nothing is added up from piece to piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

from packet.assembly.records import Assembly, Leaf, LeafKind, Point
from packet.boards.records import Board, Cut, CutKind, Piece

SAME = 0.01
"""mm; stations closer than this are one mark."""

TRIMS = (CutKind.TIP, CutKind.DOOR)
"""Cuts that are measured on their own leaf, not from the datum corner along an edge."""


@dataclass(frozen=True, slots=True)
class Stations:
    """Running dimensions on the four edges, from the datum corner, ascending, its 0 and the far corner
    included. `bottom` and `top` run along, `left` and `right` run up; mm."""

    bottom: tuple[float, ...]
    top: tuple[float, ...]
    left: tuple[float, ...]
    right: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class TipTrims:
    """The tip trims of one board: cut numbers `first` to `last`, the length measured from the tip along the
    mid edge, the short edge that it leaves (mm), and the levels at which the lines lie, from the datum corner."""

    first: int
    last: int
    along_mid: float
    short_edge: float
    up: tuple[float, ...]
    along: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """Leaves of one kind and one size on a board, and the length from corner to corner of each, mm."""

    kind: LeafKind
    leaves: tuple[str, ...]
    length: float


@dataclass(frozen=True, slots=True)
class Diagonals:
    """Check lengths of the untrimmed leaves, walls first and in the order of the pieces, and of the board, mm."""

    leaves: tuple[Check, ...]
    board: float


def edge_stations(board: Board) -> Stations:
    """Where snap lines start and end, edge by edge.

    Every end along the board is written on both long edges; a diagonal that starts at the far side of a saw
    cut starts at the line of that cut. An end at a height goes to the end of the board that its line
    reaches, and a line that reaches neither goes to the nearer one.
    """
    length, breadth = board.stock.length, board.stock.breadth
    lines = [cut for cut in board.cuts if cut.kind not in TRIMS]
    across = [cut.a[0] for cut in lines if cut.kind is CutKind.ACROSS]
    ends = [point[0] for cut in lines if cut.kind is not CutKind.ACROSS for point in (cut.a, cut.b)]
    past = board.stock.kerf + SAME
    along = _distinct([0.0, length, *across, *(x for x in ends if not any(0.0 <= x - c <= past for c in across))])
    left, right = [0.0, breadth], [0.0, breadth]
    for cut in lines:
        if cut.kind is CutKind.ALONG:
            before, after = cut.a[0], length - cut.b[0]
            if before <= SAME or before <= after:
                left.append(cut.a[1])
            if after <= SAME or after < before:
                right.append(cut.b[1])
    return Stations(along, along, _distinct(left), _distinct(right))


def cuts_of(board: Board, kind: CutKind) -> tuple[Cut, ...]:
    """The cuts of one kind, in snap order."""
    return tuple(cut for cut in board.cuts if cut.kind is kind)


def tip_trims(assembly: Assembly, board: Board) -> TipTrims | None:
    """What the crew needs for the tip trims of a board; None where there are none."""
    cuts = cuts_of(board, CutKind.TIP)
    if not cuts:
        return None
    leaf = assembly.by_mark[cuts[0].leaves[0]]
    return TipTrims(
        first=cuts[0].number, last=cuts[-1].number, along_mid=_top(leaf.rough) - _top(leaf.hinged),
        short_edge=cuts[0].length,
        up=_distinct(cut.a[1] for cut in cuts if abs(cut.a[1] - cut.b[1]) <= SAME),
        along=_distinct(cut.a[0] for cut in cuts if abs(cut.a[0] - cut.b[0]) <= SAME))


def bottom_trim(door: Leaf) -> float:
    """What a door leaf loses at its sill after hinging, mm."""
    return abs(min(y for _, y in door.outline) - min(y for _, y in door.hinged))


def check_diagonals(assembly: Assembly, board: Board) -> Diagonals:
    """Corner to corner of the leaves as they are snapped, before trims, and of the whole board.

    Only leaves with a corner in two opposite corners of their blank have such a length: rectangles, and the two
    halves of one that is cut along its diagonal.
    """
    found: dict[tuple[LeafKind, float], list[str]] = {}
    for piece in board.pieces:
        length = max(math.dist(a, b) for a, b in combinations(piece.rough, 2))
        if abs(length - math.hypot(*size_of(piece.rough))) <= SAME:
            found.setdefault((assembly.by_mark[piece.leaf].kind, round(length, 3)), []).append(piece.leaf)
    return Diagonals(
        tuple(Check(kind, tuple(found[kind, length]), length)
              for kind, length in sorted(found, key=lambda key: list(LeafKind).index(key[0]))),
        math.hypot(board.stock.length, board.stock.breadth))


def named_edges(piece: Piece, leaf: Leaf) -> dict[str, tuple[Point, Point]]:
    """The finished piece's edges on the board by their name in the leaf (`eave`, `mid`, ...)."""
    outline = piece.outline
    return {name: (outline[i], outline[(i + 1) % len(outline)]) for i, name in enumerate(leaf.edges)}


def size_of(outline: Iterable[Point]) -> tuple[float, float]:
    """How far an outline reaches up and along the board, the smaller first, mm."""
    points = tuple(outline)
    extents = [max(p[axis] for p in points) - min(p[axis] for p in points) for axis in (0, 1)]
    return (min(extents), max(extents))


def _top(points: tuple[Point, ...]) -> float:
    return max(y for _, y in points)


def _distinct(values: Iterable[float]) -> tuple[float, ...]:
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > SAME:
            found.append(value)
    return tuple(found)
