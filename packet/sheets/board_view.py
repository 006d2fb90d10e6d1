"""A board as it lies before the crew: outline, snap lines with their numbers, part marks, what is held."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import product

from packet.assembly.records import Leaf, LeafKind, polygon_area
from packet.boards.alike import Alike
from packet.boards.held import HeldBlank
from packet.boards.marks import bottom_trim, named_edges, size_of
from packet.boards.records import Board, Cut, CutKind, Piece
from packet.drawing.flow import wrap
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, HEAD, NUMBER, TITLE, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Point, Rect, rectangle
from packet.drawing.pens import CUT, DIMENSION, HEAVY, LAST, LEADER
from packet.drawing.symbols import arrow, circled, datum_corner
from packet.drawing.view import View
from packet.plan import Plan
from packet.sheets.held_words import becoming
from packet.sheets.kit import Kit
from packet.sheets.placing import Label, Taken, best_place, clearance, inset
from packet.work.sheet_numbers import sheet_number

_ZONE = 4.4
"""mm kept along an eave or a sill for the word that names it."""

_LEAST_ZONE = 1.2
"""mm that a mark keeps from any edge."""

_FRACTIONS = tuple(0.5 + side * step / 32 for step in range(14) for side in ((1, -1) if step else (1,)))
"""Places along a line or an edge, from its middle outward."""

_SQUARE = (CutKind.ACROSS, CutKind.ALONG, CutKind.UPRIGHT)
_ARROW = 4.0
"""Cuts that are sawn beyond their line, and the length in mm of the arrow that says to which side."""

_NEAR_ENDS = tuple(side for step in range(3, 24) for side in (step / 48, 1 - step / 48))
"""Places along a line, from near its ends inward."""

_WORDS = {LeafKind.WALL: ("mid", "sill", "eave"), LeafKind.ROOF: ("mid", "eave")}
"""Names written along the edges of a leaf with a mid edge."""

_SIZES: tuple[tuple[Style, Style | None, bool], ...] = (
    (TITLE, BODY, False), (HEAD, BODY, False), (NUMBER, FINE, False), (TITLE, BODY, True), (HEAD, BODY, True),
    (NUMBER, FINE, True), (BODY_BOLD, FINE, False), (BODY_BOLD, FINE, True), (FINE_BOLD, FINE, False),
    (FINE_BOLD, FINE, True), (BODY_BOLD, None, False), (BODY_BOLD, None, True),
    (FINE_BOLD, None, False), (FINE_BOLD, None, True))
"""Sizes of part mark and hand, and whether they stand upright, in order of preference. Where even a small hand
has no room the mid edge is still named."""


_HELD = tuple((style, small, told) for told in (True, False)
              for style, small in ((HEAD, BODY), (NUMBER, BODY), (BODY_BOLD, FINE)))
"""Sizes of the words in a held part, and whether they say what it can become, in order of preference."""


def board_rect(board: Board, view: View) -> Rect:
    """The board on paper."""
    return (*view.point((0.0, 0.0)), *view.point((board.stock.length, board.stock.breadth)))


def board_view(plan: Plan, kit: Kit, run: Alike, view: View) -> tuple[Drawing, bool]:
    """Everything inside the outline, and the datum corner; and whether every number and mark found clear room.

    Pieces of several boards that are cut alike have no number of their set.
    """
    picture = _Picture(plan, kit, run.first, view, numbered=len(run.boards) == 1)
    return picture.drawn(), picture.clear


class _Picture:
    """One board under way: what is drawn, and what places are taken."""

    def __init__(self, plan: Plan, kit: Kit, board: Board, view: View, numbered: bool) -> None:
        self.numbered = numbered
        self.plan, self.kit, self.board, self.view = plan, kit, board, view
        self.lettering = kit.lettering
        self.taken = Taken(segments=[(view.point(cut.a), view.point(cut.b)) for cut in board.cuts])
        self.words: list[Mark] = []
        self.clear = True

    def drawn(self) -> Drawing:
        ground = [mark for held in self.board.held for mark in hatch(self.view.points(held), 4.0)]
        left = [blank for blank in self.plan.blanks if blank.board == self.board.mark]
        for blank in left:
            if blank.held:
                self._hold(blank)
        for piece in self.board.pieces:
            if self._leaf(piece).door:
                self._door_note(piece)
        for kind in LeafKind:
            # A door has less room, because of its note; it never gets a larger mark than the others.
            sizes: dict[tuple[float, float], list[Piece]] = {}
            for piece in self.board.pieces:
                if self._leaf(piece).kind is kind:
                    width, height = size_of(piece.rough)
                    sizes.setdefault((round(width), round(height)), []).append(piece)
            for pieces in sizes.values():
                largest = 0
                for door in (False, True):
                    largest = self._part_marks([p for p in pieces if self._leaf(p).door is door], largest)
        for cut in self.board.cuts:
            if cut.kind not in (CutKind.TIP, CutKind.DOOR):
                self._number(cut)
        for piece in self.board.pieces:
            self._edge_words(piece)
        kept = {blank.outline: blank for blank in left if not blank.held}
        for offcut in self.board.offcuts:
            if offcut in kept:
                self._keep(kept[offcut])
            else:
                self._offcut(offcut)
        arrows = [mark for cut in self.board.cuts for mark in self._waste(cut)] if self.board.stock.kerf else []
        lines = [Line(self.view.point(cut.a), self.view.point(cut.b), LAST if cut.kind is CutKind.DOOR else CUT)
                 for cut in self.board.cuts]
        rect = board_rect(self.board, self.view)
        return (*ground, *lines, *arrows, rectangle(rect, HEAVY), *datum_corner(rect[:2], size=5.0), *self.words)

    def _leaf(self, piece: Piece) -> Leaf:
        return self.plan.parts.by_mark[piece.leaf]

    def _text(self, key: str, **values: object) -> str:
        return self.kit.words.text(f"marking.{key}", **values)

    def _put(self, label: Label, centre: Point) -> None:
        self.words += label.drawn(centre)
        self.taken.add(label.box(centre))

    def _part_marks(self, pieces: list[Piece], largest: int) -> int:
        """Marks of leaves of one kind, all in the largest size that every one of them allows, from the size at
        index `largest` on; returns the index of that size."""
        index = next((index for index in range(largest, len(_SIZES))
                      if all(self._place(piece, *_SIZES[index]) for piece in pieces)), None)
        sizes = _SIZES if index is None else _SIZES[index:index + 1]
        for piece in pieces:
            found = next(filter(None, (self._place(piece, *size) for size in sizes)), None)
            self.clear &= found is not None
            if found or (found := self._bare(piece)):
                self._put(*found)
        return largest if index is None else index

    def _place(self, piece: Piece, style: Style, below: Style | None, upright: bool) -> tuple[Label, Point] | None:
        """The mark, the hand below it and the word for a door, where they stand clearest."""
        leaf = self._leaf(piece)
        polygon = _counter_clockwise(self.view.points(piece.outline))
        names = _edge_names(piece, leaf, self.view, polygon)
        lines = [(piece.mark if self.numbered else piece.leaf, style)]
        if below and "mid" in leaf.edges:
            lines.append((self.kit.words.name(leaf.hand), below))
        if leaf.door:
            lines.append((self._text("door"), Style((below or FINE).height, True)))
        label = Label.of(lines, self.lettering, upright)
        named = ("eave", "sill") if "mid" in names else names
        # The mark matters more than the names of the edges.
        for zone in (_ZONE,) if "mid" in names else (_ZONE, _LEAST_ZONE):
            room = inset(polygon, [zone if name in named else _LEAST_ZONE for name in names])
            centre = best_place(room, label, self.taken)
            if centre:
                return label, centre
        return None

    def _bare(self, piece: Piece) -> tuple[Label, Point] | None:
        """The mark alone and small, where it keeps from the edges no more than it must: a piece without a mark is lost."""
        polygon = _counter_clockwise(self.view.points(piece.outline))
        room = inset(polygon, [_LEAST_ZONE] * len(polygon))
        for upright in (False, True):
            label = Label.of([(piece.mark if self.numbered else piece.leaf, FINE_BOLD)], self.lettering, upright)
            if centre := best_place(room, label, self.taken):
                return label, centre
        return None

    def _number(self, cut: Cut) -> None:
        """The circled number on its line, where it keeps clear of lettering and of other lines."""
        a, b = self.view.point(cut.a), self.view.point(cut.b)
        others = [segment for segment in self.taken.segments if segment != (a, b)]
        text = str(cut.number)
        spots = [(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for share in _FRACTIONS]
        for style in (BODY_BOLD, FINE_BOLD):
            radius = max(0.95 * style.height, self.lettering.width(text, style) / 2 + 0.35 * style.height)
            clear = next((spot for spot in spots if self.taken.free(_square(spot, radius), lines=False)
                          and all(_distance(spot, *other) > radius + 0.8 for other in others)), None)
            if clear:
                break
        else:
            self.clear = False
            # A number may lie on another line sooner than on a mark.
            clear = next((spot for spot in spots if self.taken.free(_square(spot, radius), lines=False)), None)
        spot = clear or spots[0]
        self.words += circled(spot, text, self.lettering, radius, style)
        self.taken.add(_square(spot, radius))

    def _waste(self, cut: Cut) -> Drawing:
        """A small arrow on the side of the line where the blade takes its kerf: away from the datum corner."""
        if cut.kind not in _SQUARE:
            return ()
        a, b = self.view.point(cut.a), self.view.point(cut.b)
        right, top = board_rect(self.board, self.view)[2:]
        dx, dy = (0.0, _ARROW) if abs(a[1] - b[1]) < 1e-6 else (_ARROW, 0.0)
        for share in _NEAR_ENDS:
            x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
            box = (x + dx / 4 - dy / 4, y + dy / 4 - dx / 4, x + dx + dy / 4, y + dy + dx / 4)
            if self.taken.free(box, clear=0.6) and x + dx < right and y + dy < top:
                self.taken.add(box)
                return arrow((x, y), (x + dx, y + dy), DIMENSION, 1.6)
        return ()

    def _edge_words(self, piece: Piece) -> None:
        """`mid`, and `eave` or `sill`, along their edges, so that a piece cannot be turned end for end; a leaf
        without a mid edge has the names of all its edges."""
        leaf = self._leaf(piece)
        edges = named_edges(piece, leaf)
        polygon = _counter_clockwise(self.view.points(piece.outline))
        middle = self.view.point(_centre(piece.outline))
        for name in (*_WORDS[leaf.kind], *_splices(edges)) if "mid" in edges else edges:
            if name not in edges:
                continue  # a part has only some of its leaf's edges
            a, b = self.view.points(edges[name])
            upright = abs(a[0] - b[0]) < 1e-6
            label = Label.of([(self._text("edge", name=name), FINE)], self.lettering, upright)
            inward = _inward(a, b, middle)
            depth = 1.0 + (abs(inward[0]) * label.width + abs(inward[1]) * label.height) / 2
            for share in _FRACTIONS:
                centre = (a[0] + share * (b[0] - a[0]) + depth * inward[0],
                          a[1] + share * (b[1] - a[1]) + depth * inward[1])
                if clearance(polygon, label.box(centre)) > 0.5 and self.taken.free(label.box(centre), clear=0.6):
                    self._put(label, centre)
                    break

    def _door_note(self, piece: Piece) -> None:
        """Number of the door trim with a leader to its line, and that it is cut last."""
        leaf = self._leaf(piece)
        cut = next(c for c in self.board.cuts if c.kind is CutKind.DOOR and (piece.leaf, piece.copy) in c.parts())
        a, b = self.view.point(cut.a), self.view.point(cut.b)
        upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        centre = self.view.point(_centre(piece.outline))
        inward = (math.copysign(1.0, centre[0] - middle[0]), 0.0) if upright else (
            0.0, math.copysign(1.0, centre[1] - middle[1]))
        radius = max(3.4, self.lettering.width(str(cut.number), BODY_BOLD) / 2 + 1.3)
        spot = (middle[0] + inward[0] * (radius + 2.5), middle[1] + inward[1] * (radius + 2.5))
        self.words += [Line(middle, spot, LEADER), Circle(middle, 0.6, None, 0.0),
                       *circled(spot, str(cut.number), self.lettering, radius)]
        self.taken.add(_square(spot, radius))
        polygon = inset(_counter_clockwise(self.view.points(piece.outline)), [0.8] * len(piece.outline))
        for key in ("door_trim", "door_trim_short"):
            for label in _notes(self._text(key, trim=bottom_trim(leaf)), math.dist(a, b) - 2.0,
                                1.1 * math.dist(middle, centre), self.kit, upright):
                depth = 2 * radius + 3.7 + (label.width if upright else label.height) / 2
                at = (middle[0] + inward[0] * depth, middle[1] + inward[1] * depth)
                if clearance(polygon, label.box(at)) < 0.0:
                    continue
                self.taken.add(label.box(at))
                if any(self._place(piece, *size) for size in _SIZES):
                    self.words += label.drawn(at)
                    return
                # The part mark matters more than the note: the words beside the board say it too.
                self.taken.boxes.pop()
        self.clear = False

    def _hold(self, blank: HeldBlank) -> None:
        """That the rest is held, its size, and what it can become, in a box."""
        word, size = self._text("hold"), self.kit.form.size(blank.breadth, blank.length)
        ways = self._text("become.any", ways=becoming(self.plan, self.kit, blank))
        used = self._used(blank)
        if used:
            word, ways = used, ""
        polygon = _counter_clockwise(self.view.points(blank.outline))
        room = inset(polygon, [3.0] * len(polygon))
        if not room:
            return
        for (style, small, told), upright in product(_HELD, (False, True)):
            size_style = Style(min(style.height, 5.0))
            wide, tall = (max(p[axis] for p in room) - min(p[axis] for p in room) for axis in (0, 1))
            lines = wrap(ways, 0.85 * (tall if upright else wide), small, self.lettering) if told and ways else []
            label = Label.of([(word, style), (size, size_style), *((line, small) for line in lines)],
                             self.lettering, upright)
            centre = best_place(room, label, self.taken)
            if centre is not None:
                box = label.box(centre)
                self.words.append(rectangle((box[0] - 2, box[1] - 1.5, box[2] + 2, box[3] + 2), None, 1.0))
                self._put(label, centre)
                return

    def _used(self, blank: HeldBlank) -> str:
        """By which sheet a blank is cut for a leaf that was spoiled; empty while it is whole."""
        recut = self.plan.mended.used(blank.mark)
        return self._text("used", leaf=recut.mark, sheet=sheet_number("mending", recut.decision)) if recut else ""

    def _keep(self, blank: HeldBlank) -> None:
        """An offcut large enough for a leaf: to be kept, and for what."""
        polygon = _counter_clockwise(self.view.points(blank.outline))
        ways = self._text("become.any", ways=becoming(self.plan, self.kit, blank))
        used = self._used(blank)
        choices = [[used]] if used else [[self._text("keep"), ways], [self._text("keep")]]
        for lines, upright in product(choices, (False, True)):
            label = Label.of([(line, BODY) for line in lines], self.lettering, upright)
            centre = best_place(inset(polygon, [1.2] * len(polygon)), label, self.taken)
            if centre is not None:
                self._put(label, centre)
                return

    def _offcut(self, offcut: tuple[Point, ...]) -> None:
        polygon = _counter_clockwise(self.view.points(offcut))
        for style, upright in ((BODY, False), (BODY, True), (FINE, False), (FINE, True)):
            label = Label.of([(self._text("offcut"), style)], self.lettering, upright)
            centre = best_place(inset(polygon, [1.2] * len(polygon)), label, self.taken)
            if centre is not None:
                self._put(label, centre)
                return


def _splices(edges: Iterable[str]) -> tuple[str, ...]:
    return tuple(name for name in edges if name.startswith("splice"))


def _notes(text: str, along: float, deep: float, kit: Kit, upright: bool) -> Iterator[Label]:
    """Words at an edge: wrapped to its length, large first, or across it where a word is longer than the edge."""
    for style, room, turned in ((BODY_BOLD, along, upright), (FINE_BOLD, along, upright),
                                (FINE_BOLD, deep, not upright)):
        if max(kit.lettering.width(word, style) for word in text.split()) <= room:
            lines = wrap(text, room, style, kit.lettering)
            if style is FINE_BOLD or len(lines) <= 2:
                yield Label.of([(line, style) for line in lines], kit.lettering, turned)


def _edge_names(piece: Piece, leaf: Leaf, view: View, polygon: tuple[Point, ...]) -> list[str]:
    """The leaf's name of each edge of the drawn polygon."""
    names = {frozenset(view.points(edge)): name for name, edge in named_edges(piece, leaf).items()}
    return [names[frozenset(edge)] for edge in zip(polygon, (*polygon[1:], polygon[0]), strict=True)]


def _counter_clockwise(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return points if polygon_area(points) > 0 else tuple(reversed(points))


def _centre(points: tuple[Point, ...]) -> Point:
    return (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))


def _inward(a: Point, b: Point, middle: Point) -> Point:
    """Unit normal of the edge from a to b that points to the middle of its leaf."""
    length = math.dist(a, b)
    nx, ny = (a[1] - b[1]) / length, (b[0] - a[0]) / length
    side = math.copysign(1.0, (middle[0] - a[0]) * nx + (middle[1] - a[1]) * ny)
    return (side * nx, side * ny)


def _square(centre: Point, half: float) -> Rect:
    return (centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)


def _distance(p: Point, a: Point, b: Point) -> float:
    """From a point to a segment."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)))
    return math.dist(p, (a[0] + share * dx, a[1] + share * dy))
