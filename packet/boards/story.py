"""Story sticks: strips with full-size marks that are laid along an edge instead of a tape measure.

A stick carries the marks of an edge as running distances from its zero end. Edges with the same marks share one.
Lengths in mm.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.opening_marks import opening_marks, stations
from packet.assembly.records import Assembly, Leaf
from packet.boards.marks import SAME, edge_stations
from packet.boards.records import Board


class StickFor(StrEnum):
    """What a stick is laid along, and which end its zero goes to."""

    LONG = "long"  # a long edge of a board, zero at the datum corner
    END = "end"  # the end of a board at the datum corner
    FAR_END = "far end"  # the other end, zero on the datum's long edge
    HOLES = "holes"  # down a leaf with holes, zero at its head
    ACROSS = "across"  # across a leaf with openings, zero at the mid or left edge
    UP = "up"  # up a leaf with openings, zero at its sill, eave or bottom
    CHECK = "check"  # edges of finished leaves


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark, mm from the zero end; `names` tell what has that length, where the figure alone does not."""

    at: float
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stick:
    """`parts` are the marks of the boards or leaves it serves; `marks` ascend from 0 to its length."""

    use: StickFor
    parts: tuple[str, ...]
    marks: tuple[Mark, ...]

    @property
    def length(self) -> float:
        return self.marks[-1].at


def sticks(assembly: Assembly, boards: tuple[Board, ...]) -> tuple[Stick, ...]:
    """Every distinct stick: those of the boards in their order, those of leaves that are cut into, the check stick."""
    found: dict[tuple[StickFor, tuple[float, ...]], list[str]] = {}
    for use, part, places in (*_of_boards(boards), *_of_leaves(assembly)):
        if len(places) > 2:  # an edge with nothing to mark between its ends needs no stick
            found.setdefault((use, tuple(round(place, 3) for place in places)), []).append(part)
    return (*(Stick(use, tuple(parts), tuple(Mark(at) for at in places)) for (use, places), parts in found.items()),
            _check(assembly))


def segments(length: float, piece: float, overlap: float) -> tuple[float, ...]:
    """Where each piece begins when a length is laid out in pieces that overlap, mm. The last one may be shorter."""
    count = 1 + max(0, math.ceil((length - piece) / (piece - overlap) - 1e-9))
    return tuple(number * (piece - overlap) for number in range(count))


def _of_boards(boards: tuple[Board, ...]) -> Iterator[tuple[StickFor, str, tuple[float, ...]]]:
    for board in boards:
        edges = edge_stations(board)
        yield StickFor.LONG, board.mark, edges.bottom
        yield StickFor.END, board.mark, edges.left
        if edges.right != edges.left:
            yield StickFor.FAR_END, board.mark, edges.right


def _of_leaves(assembly: Assembly) -> Iterator[tuple[StickFor, str, tuple[float, ...]]]:
    for leaf in assembly.leaves:
        if leaf.holes:
            top = max(y for _, y in leaf.outline)
            foot = min(y for _, y in leaf.outline)
            yield StickFor.HOLES, leaf.mark, tuple(sorted({0.0, top - foot, *(top - hole.y for hole in leaf.holes)}))
        if leaf.openings:
            placed = opening_marks(leaf)
            wide = max(leaf.hand.sign * x for x, _ in leaf.outline)
            high = max(y for _, y in leaf.outline)
            yield StickFor.ACROSS, leaf.mark, stations(tuple(each.across for each in placed), wide)
            yield StickFor.UP, leaf.mark, stations(tuple(each.up for each in placed), high)


def _check(assembly: Assembly) -> Stick:
    """All lengths of finished edges on one stick, each with the names of the edges that have it."""
    lengths: list[tuple[float, str]] = []
    for leaf in assembly.leaves:
        lengths += _edges(leaf)
    marks: list[Mark] = [Mark(0.0)]
    for length, name in sorted(lengths):
        if length - marks[-1].at > SAME:
            marks.append(Mark(length, (name,)))
        elif name not in marks[-1].names:
            marks[-1] = Mark(marks[-1].at, (*marks[-1].names, name))
    return Stick(StickFor.CHECK, tuple(leaf.mark for leaf in assembly.leaves), tuple(marks))


def _edges(leaf: Leaf) -> Iterator[tuple[float, str]]:
    """Length and name of each finished edge; a listed leaf's edges are told by its mark alone."""
    kind = "door" if leaf.door else str(leaf.kind)
    listed = leaf.edges[0] in ("bottom", "1")
    ends = itertools.pairwise((*leaf.outline, leaf.outline[0]))
    for name, (a, b) in zip(leaf.edges, ends, strict=True):
        yield math.dist(a, b), leaf.mark if listed else f"{kind} {name}"
