"""From sections to boards: pieces in place, lines in snap order, what is held and what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packet.assembly.records import Assembly, Leaf, Point
from packet.boards.held import most_leaves
from packet.boards.nest import Lane, Nest, Section
from packet.boards.records import Board, Cut, CutKind, Piece, Stock

TOUCH = 1e-4
"""mm; closer than this is the same place."""

Parts = tuple[tuple[str, int], ...]
"""Leaves by their mark, each with the number of its shelter."""

Line = tuple[CutKind, Point, Point, Parts]


def lay_out(assembly: Assembly, nested: Nest, marks: tuple[str, ...] | None = None) -> tuple[Board, ...]:
    """Boards in the order they are cut, marked 1, 2, ... unless `marks` says otherwise."""
    last, ordered = len(nested.boards), _alike_together(tuple(zip(nested.stocks, nested.boards, strict=True)))
    names = marks or tuple(str(number) for number in range(1, last + 1))
    return tuple(
        _board(assembly, mark, sections, stock, keep=number == last)
        for number, (mark, (stock, sections)) in enumerate(zip(names, ordered, strict=True), 1)
    )


def _alike_together(boards: tuple[tuple[Stock, tuple[Section, ...]], ...]) -> tuple[tuple[Stock, tuple[Section, ...]], ...]:
    """Boards with the same leaves in the same places one after another; the last, which keeps the rest, stays last."""
    found: dict[object, list[tuple[Stock, tuple[Section, ...]]]] = {}
    for board in boards[:-1]:
        stock, sections = board
        places = stock.size, tuple((section.start, lane.base, lane.lying, tuple(leaf.mark for leaf in lane.blank.leaves))
                                   for section in sections for lane in section.lanes)
        found.setdefault(places, []).append(board)
    return (*(board for same in found.values() for board in same), *boards[-1:])


def _board(assembly: Assembly, mark: str, sections: tuple[Section, ...], stock: Stock, keep: bool) -> Board:
    pieces: list[Piece] = []
    lines: list[Line] = []
    offcuts: list[tuple[Point, ...]] = []
    held: tuple[tuple[Point, ...], ...] = ()
    for section in sections:
        end = section.start + section.length
        top = section.lanes[-1].base + section.lanes[-1].across
        last = section is sections[-1]
        # What is left beside the last section and beyond it is parted so that the larger part stays whole.
        side = _rectangle(section.start, top + stock.kerf, stock.length, stock.breadth)
        far = _rectangle(end + stock.kerf, 0.0, stock.length, stock.breadth)
        over = last and keep and _worth(side, stock.kerf, assembly) > _worth(far, stock.kerf, assembly)
        if end < stock.length - TOUCH:
            lines.append((CutKind.UPRIGHT, (end, 0.0), (end, top), ()) if over
                         else (CutKind.ACROSS, (end, 0.0), (end, stock.breadth), ()))
        for lane in section.lanes:
            upper = lane.base + lane.across
            stop = section.start + lane.along
            if upper < stock.breadth - TOUCH:
                reach = stock.length if over and lane is section.lanes[-1] else end
                lines.append((CutKind.ALONG, (section.start, upper), (reach, upper), ()))
            if stop < end - TOUCH:
                lines.append((CutKind.UPRIGHT, (stop, lane.base), (stop, upper), ()))
                offcuts.append(_rectangle(stop + stock.kerf, lane.base, end, upper))
            for turned, (leaf, copy) in enumerate(zip(lane.blank.leaves, lane.blank.copies, strict=True)):
                place = _Placer(section.start, lane, bool(turned))
                if len(lane.blank.leaves) == 1:
                    offcuts += (place.all(corner) for corner in _corners(leaf))
                pieces.append(Piece(leaf.mark, place.all(leaf.outline), place.all(leaf.rough), copy))
                lines += _leaf_lines(leaf, copy, place, first=not turned)
        rests = [side, _rectangle(end + stock.kerf, 0.0, stock.length, top)] if over else [
            far, _rectangle(section.start, top + stock.kerf, end, stock.breadth)]
        if last and keep and _worth(rests[0], stock.kerf, assembly)[0]:
            held = (rests.pop(0),)
        offcuts += (rest for rest in (rests if last else rests[1:]) if _is_there(rest))
    return Board(mark, stock, tuple(pieces), _numbered(lines), held, tuple(offcuts))


class _Placer:
    """Leaf frame to board frame: never mirrored, only shifted and turned by quarters."""

    def __init__(self, start: float, lane: Lane, turned: bool) -> None:
        self.start, self.lane, self.blank, self.turned = start, lane, lane.blank, turned

    def __call__(self, point: Point) -> Point:
        u, v = self.blank.place(point, self.turned)
        if self.lane.lying:
            u, v = v, self.blank.width - u
        return (self.start + u, self.lane.base + v)

    def all(self, points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple(self(p) for p in points)


def _leaf_lines(leaf: Leaf, copy: int, place: _Placer, first: bool) -> Iterator[Line]:
    """Lines inside a blank: the diagonal once for both leaves, and each leaf's own trim."""
    rough = leaf.rough
    for a, b in zip(rough, rough[1:] + rough[:1], strict=True):
        slanting = abs(a[0] - b[0]) > TOUCH and abs(a[1] - b[1]) > TOUCH
        if slanting and first:
            both = zip(place.blank.leaves, place.blank.copies, strict=True)
            yield CutKind.DIAGONAL, place(a), place(b), tuple((one.mark, of) for one, of in both)
    if "tip" in leaf.edges:
        a, b = leaf.edge("tip")
        yield CutKind.TIP, place(a), place(b), ((leaf.mark, copy),)
    if leaf.door and leaf.outline != leaf.hinged:
        low = min(p[1] for p in leaf.outline)
        a, b = (p for p in leaf.outline if p[1] == low)
        yield CutKind.DOOR, place(a), place(b), ((leaf.mark, copy),)


def _corners(leaf: Leaf) -> Iterator[tuple[Point, ...]]:
    """What a convex leaf leaves of its blank, corner by corner: the corner and the leaf's outline across it."""
    rough = leaf.rough
    xs, ys = [p[0] for p in rough], [p[1] for p in rough]
    for corner in _rectangle(min(xs), min(ys), max(xs), max(ys)):
        # The outline cuts a corner off where it runs from one of the corner's two sides to the other.
        sides = [[i for i, p in enumerate(rough) if abs(p[axis] - corner[axis]) < TOUCH] for axis in (0, 1)]
        if set(sides[0]) & set(sides[1]):
            continue
        ends = [min(side, key=lambda i: math.dist(rough[i], corner)) for side in sides]
        ways = [_way(rough, *ends), _way(rough, *reversed(ends))]
        yield (corner, *min(ways, key=len))


def _way(points: tuple[Point, ...], first: int, last: int) -> tuple[Point, ...]:
    """The points from one index to the other, in order, round the end."""
    count = (last - first) % len(points) + 1
    return tuple(points[(first + step) % len(points)] for step in range(count))


def _numbered(lines: list[Line]) -> tuple[Cut, ...]:
    """Kinds in cutting order, lines of a kind from the datum corner on; lines in a row become one."""
    order = list(CutKind)
    ahead: list[Line] = [(kind, min(a, b), max(a, b), parts) for kind, a, b, parts in lines]
    merged: list[Line] = []
    for kind, a, b, parts in sorted(ahead, key=lambda line: (order.index(line[0]), _across(line), line[1])):
        previous = merged[-1] if merged else None
        if (previous and kind is CutKind.ALONG and previous[0] is kind
                and abs(previous[2][1] - a[1]) < TOUCH and abs(previous[2][0] - a[0]) < 10.0):
            merged[-1] = (kind, previous[1], b, ())
        else:
            merged.append((kind, a, b, parts))
    return tuple(Cut(number, kind, a, b, tuple(mark for mark, _ in parts), tuple(copy for _, copy in parts))
                 for number, (kind, a, b, parts) in enumerate(merged, 1))


def _across(line: Line) -> float:
    """Lines along the board go row by row; all others by their place along the length."""
    return round(line[1][1], 3) if line[0] is CutKind.ALONG else 0.0


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _is_there(outline: tuple[Point, ...]) -> bool:
    """Whether a rectangle has any room in it."""
    (x0, y0), (x1, y1) = outline[0], outline[2]
    return x1 - x0 > TOUCH and y1 - y0 > TOUCH


def _worth(outline: tuple[Point, ...], kerf: float, assembly: Assembly) -> tuple[int, float]:
    """How many leaves of one shape a rectangle can become, and its area; (0, 0) where there is none."""
    if not _is_there(outline):
        return 0, 0.0
    (x0, y0), (x1, y1) = outline[0], outline[2]
    length, breadth = x1 - x0, y1 - y0
    return most_leaves(length, breadth, kerf, assembly.leaves), length * breadth
