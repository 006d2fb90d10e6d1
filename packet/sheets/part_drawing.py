"""A leaf or a board at full size: outline, cuts, holes, names and figures, so often that every tile has some.

Model mm in the part's own frame; the lettering is as large as on any page.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from packet.assembly.records import Leaf, Point, polygon_area
from packet.boards.marks import TRIMS, edge_stations
from packet.boards.records import Board, Cut
from packet.drawing.dimension import readable
from packet.drawing.lettering import HEAD, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Rect, Text, rectangle
from packet.drawing.pens import CUT, HEAVY, LAST, NARROW
from packet.drawing.symbols import centre_cross, circled
from packet.plan import Plan
from packet.sheets.kit import Kit

EVERY = 150.0
"""mm between repetitions of a name: less than a tile, so that each has one."""
ASIDE = 4.0
"""mm between a line and the lettering along it."""
SAME = 0.01
"""mm within which two outlines are one."""


@dataclass(frozen=True, slots=True)
class PartDrawing:
    """`subject` is for the title block, `outline` the part's own area, `frame` the rectangle that holds all of it."""

    subject: str
    marks: Drawing
    outline: tuple[Point, ...]
    frame: Rect


def part_named(plan: Plan, kit: Kit, name: str) -> PartDrawing:
    """The drawing of a leaf (`A3`) or a board (`board 4`). Raises LookupError for a mark that is neither."""
    leaf = plan.assembly.by_mark.get(name) or plan.parts.by_mark.get(name)
    if leaf is not None:
        return leaf_drawing(plan, kit, leaf)
    board = next((b for b in plan.boards if name == f"board {b.mark}"), None)
    if board is None:
        raise LookupError(f"no leaf or board is called {name!r}")
    return board_drawing(plan, kit, board)


def leaf_drawing(plan: Plan, kit: Kit, leaf: Leaf) -> PartDrawing:
    """A leaf seen on its marked face, as it is cut and as it ends."""
    marks: list[Mark] = []
    for outline in (leaf.rough, leaf.hinged):
        if not _same(outline, leaf.outline):
            marks.append(Path(outline, LAST))
    marks.append(Path(leaf.outline, CUT))
    for name, (a, b) in zip(leaf.edges, _sides(leaf.outline), strict=True):
        text = kit.words.text("full_size.edge", name=name, length=math.dist(a, b))
        marks += _along(a, b, text, kit, polygon_area(leaf.outline) > 0)
    for splice in leaf.splices:
        said = kit.words.text("full_size.splice", parts=splice.parts)
        marks += [Line(splice.a, splice.b, CUT), *_along(splice.a, splice.b, said, kit, inside_left=True)]
    for hole in leaf.holes:
        said = kit.words.text("full_size.hole", size=hole.diameter, across=abs(hole.x), up=hole.y, purpose=hole.purpose)
        marks += [Circle((hole.x, hole.y), hole.diameter / 2, CUT), *centre_cross((hole.x, hole.y), hole.diameter / 2 + 6.0),
                  Text((hole.x + hole.diameter / 2 + 3.0, hole.y + 2.0), said, NUMBER)]
    for o in leaf.openings:
        box = (o.x - o.width / 2, o.y - o.height / 2, o.x + o.width / 2, o.y + o.height / 2)
        said = kit.words.text("full_size.hole", size=o.width, across=abs(o.x), up=o.y, purpose=o.kind)
        marks += [Circle((o.x, o.y), o.width / 2, CUT) if o.round else rectangle(box, CUT), *centre_cross((o.x, o.y), 10.0),
                  Text((o.x + 3.0, o.y + 2.0), said, NUMBER)]
    said = kit.words.text("full_size.leaf", mark=leaf.mark, face=leaf.marked_face, hand=leaf.hand)
    marks += _named(leaf.outline, said, HEAD, kit)
    return PartDrawing(leaf.mark, tuple(marks), leaf.rough, _frame((*leaf.rough, *leaf.outline)))


def board_drawing(plan: Plan, kit: Kit, board: Board) -> PartDrawing:
    """A board seen on its printed face, with every line that is snapped on it."""
    stock = board.stock
    corners = ((0.0, 0.0), (stock.length, 0.0), (stock.length, stock.breadth), (0.0, stock.breadth))
    marks: list[Mark] = []
    for piece in board.pieces:
        leaf = plan.parts.by_mark[piece.leaf]
        said = kit.words.text("full_size.leaf", mark=leaf.mark, face=leaf.marked_face, hand=leaf.hand)
        marks += [Path(piece.outline, NARROW), *_named(piece.outline, said, NUMBER, kit)]
    for key, areas in (("held", board.held), ("offcut", board.offcuts)):
        for area in areas:
            marks += _named(area, kit.words.text(f"full_size.{key}"), NUMBER, kit)
    for cut in board.cuts:
        marks += _cut(cut, kit)
    marks.append(Path(corners, HEAVY))
    stations = edge_stations(board)
    for x in stations.bottom[1:-1]:
        marks.append(Text((x - 1.5, ASIDE), kit.form.length(x), NUMBER, "left", 90.0))
        marks.append(Text((x - 1.5, stock.breadth - ASIDE), kit.form.length(x), NUMBER, "right", 90.0))
    for y in stations.left[1:-1]:
        marks.append(Text((ASIDE, y + 1.5), kit.form.length(y), NUMBER))
    for y in stations.right[1:-1]:
        marks.append(Text((stock.length - ASIDE, y + 1.5), kit.form.length(y), NUMBER, "right"))
    return PartDrawing(kit.words.text("full_size.board", mark=board.mark), tuple(marks), corners, _frame(corners))


def _cut(cut: Cut, kit: Kit) -> Iterator[Mark]:
    """The line of a cut with its number, repeated."""
    yield Line(cut.a, cut.b, LAST if cut.kind in TRIMS else CUT)
    count = max(1, round(cut.length / EVERY))
    for i in range(count):
        share = (i + 0.5) / count
        yield from circled((cut.a[0] + (cut.b[0] - cut.a[0]) * share, cut.a[1] + (cut.b[1] - cut.a[1]) * share),
                           str(cut.number), kit.lettering, style=NUMBER)


def _along(a: Point, b: Point, text: str, kit: Kit, inside_left: bool) -> Iterator[Mark]:
    """Lettering along an edge, on the side of the part, as often as it has room."""
    length = math.dist(a, b)
    if kit.lettering.width(text, NUMBER) > length:
        return
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    nx, ny = (-uy, ux) if inside_left else (uy, -ux)
    angle = readable(math.degrees(math.atan2(uy, ux)))
    up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    off = ASIDE + (0.0 if up[0] * nx + up[1] * ny > 0 else NUMBER.height)
    count = max(1, int(length / max(EVERY, kit.lettering.width(text, NUMBER) + 20.0)))
    for i in range(count):
        run = length * (i + 0.5) / count
        yield Text((a[0] + ux * run + nx * off, a[1] + uy * run + ny * off), text, NUMBER, "centre", angle)


def _named(area: tuple[Point, ...], text: str, style: Style, kit: Kit) -> Iterator[Mark]:
    """A name all over an area, wherever it stands clear of the edges and their lettering."""
    from shapely import Polygon, box

    clear = Polygon(area).buffer(-3 * ASIDE - NUMBER.height)
    if clear.is_empty:
        clear = Polygon(area).buffer(-ASIDE)
    if clear.is_empty:
        return
    wide = kit.lettering.width(text, style) / 2
    left, bottom, right, top = clear.bounds
    columns, rows = (max(1, round((high - low) / EVERY)) for low, high in ((left, right), (bottom, top)))
    for i in range(columns):
        for j in range(rows):
            x, y = left + (right - left) * (i + 0.5) / columns, bottom + (top - bottom) * (j + 0.5) / rows
            if clear.contains(box(x - wide, y - style.height / 2, x + wide, y + style.height / 2)):
                yield Text((x, y - style.height / 2), text, style, "centre")


def _sides(outline: tuple[Point, ...]) -> Iterator[tuple[Point, Point]]:
    return zip(outline, (*outline[1:], outline[0]), strict=True)


def _same(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    return len(a) == len(b) and all(math.dist(p, q) <= SAME for p, q in zip(a, b, strict=True))


def _frame(points: Iterable[Point]) -> Rect:
    found = tuple(points)
    xs, ys = [x for x, _ in found], [y for _, y in found]
    return (min(xs), min(ys), max(xs), max(ys))
