"""What is left whole of the boards, and which leaves it can become.

A blank is a rectangle of a board that no leaf takes: the part that is held uncut for miscuts, and every offcut
large enough for a leaf. What a blank can become is a nesting question on that rectangle; `recut` lays it out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packet.assembly.records import Hand, Leaf, LeafKind, Point, polygon_area
from packet.boards.blanks import is_rectangle, pairs, rough_size
from packet.boards.records import Board, Stock

SLACK = 1e-6
"""mm"""

Extent = tuple[float, float, float, float]
"""left, bottom, right, top in the board's frame, mm."""


@dataclass(frozen=True, slots=True)
class HeldBlank:
    """A rectangle left whole of a board. `mark` is unique in the project; `held` says that the marking sheet
    orders it to be kept uncut (else it is an offcut that happens to be large enough). Board frame, mm."""

    mark: str
    board: str
    outline: tuple[Point, ...]
    thickness: float
    kerf: float
    held: bool

    @property
    def extent(self) -> Extent:
        return _extent(self.outline)

    @property
    def length(self) -> float:
        """Along the length of its board, mm."""
        left, _, right, _ = self.extent
        return right - left

    @property
    def breadth(self) -> float:
        """Along the breadth of its board, mm."""
        _, bottom, _, top = self.extent
        return top - bottom

    @property
    def stock(self) -> Stock:
        """The blank as a board of its own: its datum corner is the one nearest to its board's."""
        return Stock(self.length, self.breadth, self.thickness, self.kerf)


@dataclass(frozen=True, slots=True)
class Becomes:
    """One thing a blank can become alone: leaves like `leaves` (marks of one shape, any hand), so many of each hand.

    A rectangle has no hand: its count stands under None. Counts of the two hands are both reached together; the last
    rectangle of an odd number gives one hand only, and stands in `more`, of either hand.
    """

    kind: LeafKind
    leaves: tuple[str, ...]
    counts: tuple[tuple[Hand | None, int], ...]
    more: int = 0

    @property
    def total(self) -> int:
        return sum(count for _, count in self.counts) + self.more


def blanks_left(boards: tuple[Board, ...], leaves: tuple[Leaf, ...]) -> tuple[HeldBlank, ...]:
    """The held blanks of all boards, then the offcuts that can still become a leaf; marked by board and number."""
    found: list[HeldBlank] = []
    for held in (True, False):
        for board in boards:
            for outline in board.held if held else board.offcuts:
                number = sum(blank.board == board.mark for blank in found) + 1
                blank = HeldBlank(f"{board.mark}H{number}", board.mark, outline, board.stock.thickness,
                                  board.stock.kerf, held)
                if held or (_is_whole(outline) and can_become(blank, leaves)):
                    found.append(blank)
    return tuple(found)


def can_become(blank: HeldBlank, leaves: tuple[Leaf, ...]) -> tuple[Becomes, ...]:
    """The most leaves of each shape that the blank gives when it becomes that shape alone; empty for none.

    Both hands come out as equal as whole rectangles allow, since either may be the one that is spoiled.
    """
    return tuple(_becoming(blank.length, blank.breadth, blank.kerf, leaves))


def most_leaves(length: float, breadth: float, kerf: float, leaves: tuple[Leaf, ...]) -> int:
    """The most leaves of one shape that a rectangle gives."""
    return max((one.total for one in _becoming(length, breadth, kerf, leaves)), default=0)


def rectangles(length: float, breadth: float, width: float, height: float, kerf: float) -> int:
    """How many rectangles of one size a rectangle gives in two stages of straight cuts, whichever way it is turned.

    Sections over the breadth hold rectangles all standing or all lying; of one size no mixed section holds more.
    """
    def one_way(along: float, across: float) -> int:
        most = 0
        standing, lying = (int((across + kerf + SLACK) // (side + kerf)) for side in (height, width))
        for count in range(int((along + kerf + SLACK) // (width + kerf)) + 1):
            rest = along - count * (width + kerf)
            most = max(most, count * standing + max(0, int((rest + kerf + SLACK) // (height + kerf))) * lying)
        return most

    return max(one_way(length, breadth), one_way(breadth, length))


def _becoming(length: float, breadth: float, kerf: float, leaves: tuple[Leaf, ...]) -> Iterator[Becomes]:
    # A door is cut from the same rectangle as any wall leaf, and trimmed after hinging: `rough` has no trims.
    shapes: dict[tuple[LeafKind, float, float, float], list[Leaf]] = {}
    for leaf in leaves:
        area = round(abs(polygon_area(leaf.rough)), 1)
        shapes.setdefault((leaf.kind, *rough_size(leaf), area), []).append(leaf)
    for (kind, width, height, _), alike in shapes.items():
        count = rectangles(length, breadth, width, height, kerf)
        if not count:
            continue
        marks = tuple(leaf.mark for leaf in alike)
        if is_rectangle(alike[0]):
            yield Becomes(kind, marks, ((None, count),))
            continue
        each = 2 if pairs(alike[0]) else 1
        hands = tuple(sorted({leaf.hand for leaf in alike}, key=list(Hand).index))
        whole, odd = divmod(count, len(hands))
        yield Becomes(kind, marks, tuple((hand, whole * each) for hand in hands), odd * each)


def _extent(outline: tuple[Point, ...]) -> Extent:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), min(ys), max(xs), max(ys)


def _is_whole(outline: tuple[Point, ...]) -> bool:
    left, bottom, right, top = _extent(outline)
    return abs(abs(polygon_area(outline)) - (right - left) * (top - bottom)) < 1.0  # mm2
