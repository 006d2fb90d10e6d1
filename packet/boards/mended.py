"""The boards after decisions on spoiled parts: pieces that changed places, leaves cut new, and what is still left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from packet.assembly.records import Assembly, Leaf, Point
from packet.boards.blanks import is_rectangle, pairs, rough_size
from packet.boards.held import HeldBlank, blanks_left
from packet.boards.records import Board, Cut, CutKind, Piece
from packet.boards.recut import cut_from
from packet.description.decided import Decision, Remedy, part_mark


@dataclass(frozen=True, slots=True)
class Recut:
    """A leaf cut new: by which decision, out of which blank, and how it lies on it (`board` bears the blank's mark).

    `spare` is the mark of the second leaf of a rectangle that gives two: it falls to the knife in any case. `copy` is the
    number of the leaf's shelter, 0 where there is one.
    """

    decision: int
    leaf: str
    blank: HeldBlank
    board: Board
    spare: str = ""
    copy: int = 0

    @property
    def mark(self) -> str:
        """What is written on the leaf."""
        return part_mark(self.leaf, self.copy)


@dataclass(frozen=True, slots=True)
class Mended:
    """`boards` as their sheets show them, the leaves cut new, the blanks still whole, and finished spares as
    (mark of the spare, leaf whose shape it has)."""

    boards: tuple[Board, ...]
    recuts: tuple[Recut, ...]
    blanks: tuple[HeldBlank, ...]
    spares: tuple[tuple[str, str], ...]

    def used(self, blank: str) -> Recut | None:
        """What was cut out of the blank of that mark; None while it is whole."""
        return next((recut for recut in self.recuts if recut.blank.mark == blank), None)

    @property
    def held(self) -> tuple[HeldBlank, ...]:
        """Every part that was held: those of the boards, each followed by what is left of it; used or not."""
        found = [*self.blanks, *(recut.blank for recut in self.recuts)]
        return tuple(sorted((blank for blank in found if blank.held), key=lambda blank: (len(blank.board), blank.mark)))


def mended(assembly: Assembly, boards: tuple[Board, ...], decided: Iterable[Decision]) -> Mended:
    """Apply the decisions one after another. Raises LookupError where one does not fit these boards any more."""
    state = Mended(boards, (), blanks_left(boards, assembly.leaves), ())
    for one in decided:
        if one.remedy is Remedy.SLOT and not one.copy:
            # One marking sheet serves boards of several shelters: which two changed places in one stands on the decision's.
            state = replace(state, boards=swapped(assembly, state.boards, one.leaf, one.slot))
        elif one.remedy is Remedy.SPARE:
            if one.source not in dict(state.spares):
                raise LookupError(f"there is no spare {one.source}")
            state = replace(state, spares=tuple(spare for spare in state.spares if spare[0] != one.source))
        elif one.remedy in (Remedy.BLANK, Remedy.BOARD):
            blank = (new_board(state, one.leaf, one.copy) if one.remedy is Remedy.BOARD
                     else next((blank for blank in state.blanks if blank.mark == one.source), None))
            if blank is None or blank.mark != one.source:
                raise LookupError(f"there is no blank {one.source} left")
            state = _recut(state, assembly, one, blank)
        if one.keeps:
            state = replace(state, spares=(*state.spares, (one.keeps, one.shape)))
    return state


def new_board(state: Mended, leaf: str, copy: int = 0) -> HeldBlank:
    """One more whole board of the size that a leaf was cut from, with the next number."""
    stock = next(board.stock for board in state.boards if any((p.leaf, p.copy) == (leaf, copy) for p in board.pieces))
    number = len(state.boards) + sum(recut.blank.mark == recut.blank.board for recut in state.recuts) + 1
    outline = ((0.0, 0.0), (stock.length, 0.0), (stock.length, stock.breadth), (0.0, stock.breadth))
    return HeldBlank(str(number), str(number), outline, stock.thickness, stock.kerf, held=False)


def recut(blank: HeldBlank, leaf: Leaf, number: int, copy: int = 0) -> Recut | None:
    """The leaf out of the blank; with it the second leaf of its rectangle, where one cut gives two."""
    spare = f"{leaf.mark}-S{number}"
    if pairs(leaf):
        both = cut_from(blank, (leaf, replace(leaf, mark=spare)))
        if both is not None:
            return Recut(number, leaf.mark, blank, _of(both, leaf.mark, copy), spare, copy)
    board = cut_from(blank, (leaf,))
    return None if board is None else Recut(number, leaf.mark, blank, _of(board, leaf.mark, copy), copy=copy)


def _of(board: Board, leaf: str, copy: int) -> Board:
    """The board with that leaf for one of several shelters."""
    return replace(
        board, pieces=tuple(replace(piece, copy=copy) if piece.leaf == leaf else piece for piece in board.pieces),
        cuts=tuple(replace(cut, copies=tuple(copy if name == leaf else 0 for name in cut.leaves)) for cut in board.cuts))


def _recut(state: Mended, assembly: Assembly, one: Decision, blank: HeldBlank) -> Mended:
    leaf = assembly.by_mark[one.leaf]
    found = recut(blank, leaf, one.number, one.copy)
    if found is None:
        raise LookupError(f"leaf {leaf.mark} does not fit blank {blank.mark}")
    rest = tuple(other for other in state.blanks if other.mark != blank.mark)
    spares = ((found.spare, leaf.mark),) if found.spare else ()
    return replace(state, recuts=(*state.recuts, found), spares=(*state.spares, *spares),
                   blanks=(*rest, *blanks_left((found.board,), assembly.leaves)))


def same_blank(a: Leaf, b: Leaf) -> bool:
    """Whether two leaves are cut from rectangles of one size, and so may change places before any trim."""
    return is_rectangle(a) and is_rectangle(b) and rough_size(a) == rough_size(b)


def swapped(assembly: Assembly, boards: tuple[Board, ...], first: str, second: str) -> tuple[Board, ...]:
    """The boards with the pieces of two leaves in each other's places; door trims go with their leaf."""
    a, b = assembly.by_mark[first], assembly.by_mark[second]
    if not same_blank(a, b):
        raise LookupError(f"leaves {first} and {second} are not cut from one size of blank")
    other = {first: b, second: a}
    return tuple(_relabelled(board, other) if {p.leaf for p in board.pieces} & other.keys() else board for board in boards)


def _relabelled(board: Board, other: dict[str, Leaf]) -> Board:
    pieces = tuple(_placed(other[piece.leaf], piece) if piece.leaf in other else piece for piece in board.pieces)
    kept = [cut for cut in board.cuts if cut.kind is not CutKind.DOOR or not set(cut.leaves) & other.keys()]
    for piece in pieces:
        leaf = next((leaf for leaf in other.values() if leaf.mark == piece.leaf), None)
        if leaf is not None and leaf.door and leaf.outline != leaf.hinged:
            low = min(y for _, y in leaf.outline)
            ends = [place for place, point in zip(piece.outline, leaf.outline, strict=True) if point[1] == low]
            kept.append(Cut(0, CutKind.DOOR, min(ends), max(ends), (leaf.mark,), (piece.copy,)))
    kept.sort(key=lambda cut: (list(CutKind).index(cut.kind), cut.number or len(board.cuts) + 1))
    return replace(board, pieces=pieces, cuts=tuple(replace(cut, number=n) for n, cut in enumerate(kept, 1)))


def _placed(leaf: Leaf, place: Piece) -> Piece:
    """The leaf in the rectangle where another one lay: standing or lying, sill nearest to the datum edge or end."""
    left, bottom = (min(p[axis] for p in place.rough) for axis in (0, 1))
    wide = max(p[0] for p in place.rough) - left
    width, _ = rough_size(leaf)
    x0, y0 = (min(p[axis] for p in leaf.rough) for axis in (0, 1))
    lying = abs(wide - width) > 1e-3

    def at(point: Point) -> Point:
        u, v = point[0] - x0, point[1] - y0
        return (left + v, bottom + width - u) if lying else (left + u, bottom + v)

    return Piece(leaf.mark, tuple(at(p) for p in leaf.outline), tuple(at(p) for p in leaf.rough), place.copy)
