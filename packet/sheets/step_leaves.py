"""Small pictures of the project's own leaves and boards, for the steps of the checklist: seen on the face that is up,
with the texture of that face."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from packet.assembly.records import Leaf, LeafKind, Point, Seam, SeamKind
from packet.assembly.unfolded import LaidLeaf, laid_flat, laid_pair
from packet.boards.records import Board
from packet.description.terms import Face
from packet.drawing.hatch import hatch
from packet.drawing.lettering import FINE_BOLD
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, rectangle
from packet.drawing.pens import CENTRE, HEAVY, HIDDEN, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import FaceSide, arrow, datum_corner, face_texture, terminator
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plates import fitted
from packet.sheets.step_sections import STRONG, TAPE, centred, word

STRIP = 0.35
"""Grey of a strip."""
_LEAST = 1.6
"""mm of paper that a strip is broad at least."""
_TEXTURE = 2.0
_UNDER = FINE_BOLD.height + 1.2
"""mm that a word under a picture takes."""


@dataclass(frozen=True, slots=True)
class Scene:
    plan: Plan
    kit: Kit


def over(points: Iterable[Point], room: Room) -> View:
    """The points as large as the room takes, in its middle."""
    xs, ys = zip(*points, strict=True)
    bounds = (min(xs), min(ys), max(xs), max(ys))
    return View.centred(Scale(fitted(bounds, room), ""), bounds, room.rect)


def hinge_flat(scene: Scene, seam: Seam, face: Face, room: Room) -> Drawing:
    """Both leaves of a seam flat, the strip along it, the face that is up as texture and word."""
    first, second, line = laid_pair(scene.plan.assembly, seam, face)
    below, above = room.cut_bottom(_UNDER)
    view = over((*first, *second), above)
    a, b = (view.point(p) for p in line)
    marks: list[Mark] = []
    for outline in (first, second):
        marks += _leaf(view.points(outline), face)
    marks.append(_strip(a, b, max(_LEAST, view.length(2 * scene.plan.description.tape.land))))
    marks.append(centred(word(scene.kit, face), room.centre[0], below.bottom + FINE_BOLD.height / 2))
    return tuple(marks)


def _leaf(ring: Sequence[Point], face: Face | None) -> Drawing:
    marks: Drawing = (Path(tuple(ring), None, 1.0),)
    if face is not None:
        marks += face_texture(FaceSide(face.upper()), ring, _TEXTURE)
    return (*marks, Path(tuple(ring), VISIBLE))


def _strip(a: Point, b: Point, breadth: float, grey: float = STRIP) -> Path:
    length = math.dist(a, b)
    x, y = -(b[1] - a[1]) / length * breadth / 2, (b[0] - a[0]) / length * breadth / 2
    return Path(((a[0] + x, a[1] + y), (b[0] + x, b[1] + y), (b[0] - x, b[1] - y), (a[0] - x, a[1] - y)), NARROW, grey)


# --- leaves ------------------------------------------------------------------------------------


def gore_on_wall(scene: Scene, room: Room) -> Drawing:
    """A wall and its gore flat, inner face up: mid lines in one line, the strip along the eave."""
    assembly = scene.plan.assembly
    barred = {door.mark for door in assembly.doors}
    mids = assembly.bonded(SeamKind.WALL_MID)
    wall = next((seam for seam in mids if not barred & set(seam.leaves)), mids[0])
    marks = (*wall.leaves, *(assembly.above(assembly.by_mark[mark]).mark for mark in wall.leaves))
    laid = laid_flat(assembly, marks, Face.INNER)
    below, above = room.cut_bottom(_UNDER)
    view = over([p for leaf in laid for p in leaf.outline], above)
    drawn: list[Mark] = []
    for leaf in laid:
        drawn += _leaf(view.points(leaf.outline), Face.INNER)
    breadth = max(_LEAST, view.length(2 * scene.plan.description.tape.land))
    for leaf in laid:
        if leaf.kind is LeafKind.ROOF:
            a, b = (view.point(p) for p in leaf.edge("eave"))
            drawn.append(_strip(a, b, breadth))
    mids_at = [view.point(p) for leaf in laid for p in leaf.edge("mid")]
    low, high = min(mids_at, key=lambda p: p[1]), max(mids_at, key=lambda p: p[1])
    drawn += [Line((low[0], low[1] - 0.5), (high[0], high[1] + 1.0), CENTRE),
              centred(word(scene.kit, Face.INNER), room.centre[0], below.bottom + FINE_BOLD.height / 2)]
    return tuple(drawn)


def above_door(scene: Scene, roof: str, door: str, room: Room) -> Drawing:
    """The roof leaf over a door: its eave edge sealed, no tape from it to the door."""
    assembly = scene.plan.assembly
    laid = laid_flat(assembly, (door, roof), Face.OUTER, band=0.16 * room.height * _tall(assembly.by_mark[door]) / room.height)
    view = over([p for leaf in laid for p in leaf.finished], room)
    marks: list[Mark] = []
    for leaf in laid:
        marks += _leaf(view.points(leaf.finished), Face.OUTER)
    roof_leaf = next(leaf for leaf in laid if leaf.mark == roof)
    a, b = (view.point(p) for p in roof_leaf.edge("eave"))
    x, gap = (a[0] + b[0]) / 2, _gap(laid, view)
    marks.append(Line(a, b, TAPE))
    y = a[1] - gap / 2
    # A strip across the gap, crossed out.
    marks += [rectangle((x - 1.5, y - gap / 2 - 1.5, x + 1.5, y + gap / 2 + 1.5), NARROW, 1.0),
              Line((x - 3.0, y - 3.0), (x + 3.0, y + 3.0), TAPE), Line((x - 3.0, y + 3.0), (x + 3.0, y - 3.0), TAPE)]
    return tuple(marks)


def _tall(leaf: Leaf) -> float:
    ys = [y for _, y in leaf.hinged]
    return max(ys) - min(ys)


def _gap(laid: Iterable[LaidLeaf], view: View) -> float:
    roof, wall = (next(leaf for leaf in laid if leaf.kind is kind) for kind in (LeafKind.ROOF, LeafKind.WALL))
    return view.length(min(y for _, y in roof.outline) - max(y for _, y in wall.outline))


def latched(scene: Scene, mark: str, room: Room) -> Drawing:
    """A door or a jamb on its marked face: the hole from the top, what is cut off below, the edges that are sealed."""
    leaf = scene.plan.assembly.by_mark[mark]
    high = max(y for _, y in leaf.hinged)
    told = [scene.kit.form.length(high - hole.y) for hole in leaf.holes]
    beside = 4.0 + max((scene.kit.lettering.width(text, FINE_BOLD) for text in told), default=0.0)
    view = over(leaf.hinged, room.inset(beside, 0.0))
    ring = view.points(leaf.outline)
    marks: list[Mark] = [*_leaf(ring, leaf.marked_face)]
    if leaf.outline != leaf.hinged:
        low, cut = min(y for _, y in leaf.hinged), min(y for _, y in leaf.outline)
        xs = [x for x, _ in leaf.hinged]
        (left, bottom), (right, top) = view.point((min(xs), low)), view.point((max(xs), cut))
        marks.append(rectangle((left, min(bottom, top - 1.2), right, top), VISIBLE, 0.0))
    high = max(y for _, y in ring)
    for hole, text in zip(leaf.holes, told, strict=True):
        x, y = view.point((hole.x, hole.y))
        marks += [Circle((x, y), max(1.0, view.length(hole.diameter / 2)), VISIBLE, 1.0)]
        side = max(p[0] for p in ring) + 2.5
        marks += [Line((x, y), (side + 1.0, y), NARROW), Line((max(p[0] for p in ring), high), (side + 1.0, high), NARROW),
                  *arrow((side, high), (side, y), NARROW, 2.0),
                  Text((side + 1.2, (y + high) / 2 - FINE_BOLD.height / 2), text, FINE_BOLD)]
    return tuple(marks)


def measured(scene: Scene, marks: Sequence[str], room: Room) -> Drawing:
    """The first leaves of their type with their diagonals, and the mid edge of a roof leaf drawn strongly."""
    leaves = [scene.plan.cut.by_mark[mark] for mark in marks][:2]
    drawn: list[Mark] = []
    for leaf, place in zip(leaves, room.columns(*[1] * len(leaves), gap=3.0), strict=True):
        view = over(leaf.outline, place.inset(0.0, _UNDER, 0.0, 0.0))
        ring = view.points(leaf.outline)
        drawn += _leaf(ring, None)
        if len(ring) == 4 and leaf.kind is LeafKind.WALL:
            drawn += [Line(ring[0], ring[2], HIDDEN), Line(ring[1], ring[3], HIDDEN)]
        if leaf.kind is LeafKind.ROOF and "mid" in leaf.edges:
            a, b = (view.point(p) for p in leaf.edge("mid"))
            drawn.append(Line(a, b, TAPE))
        drawn.append(centred(leaf.mark, place.centre[0], place.bottom + FINE_BOLD.height / 2))
    return tuple(drawn)


def labelled(scene: Scene, marks: Sequence[str], room: Room) -> Drawing:
    """A wall and a roof leaf with the arrow up that is written on each, on the printed face."""
    leaves = [scene.plan.assembly.by_mark[mark] for mark in marks]
    walls = [leaf.mark for leaf in leaves if leaf.kind is LeafKind.WALL][:1]
    return in_row(scene, (*walls, *[leaf.mark for leaf in leaves if leaf.kind is LeafKind.ROOF][:1]), room, 2.0)


def in_row(scene: Scene, marks: Sequence[str], room: Room, gap: float) -> Drawing:
    """Leaves side by side, upright, with the arrow up and their marks."""
    from shapely import Polygon, box

    drawn: list[Mark] = []
    for mark, place in zip(marks, room.columns(*[1] * len(marks), gap=gap), strict=True):
        leaf = scene.plan.piece(mark)
        view = over(leaf.outline, place.inset(0.0, _UNDER, 0.0, 0.0))
        ring = view.points(leaf.outline)
        drawn += _leaf(ring, leaf.marked_face)
        low, high = min(y for _, y in ring), max(y for _, y in ring)
        x, y = sum(p[0] for p in ring) / len(ring), low + 0.3 * (high - low)
        ground = (x - 1.6, y - 2.8, x + 1.6, y + 3.4)
        if Polygon(ring).contains(box(*ground)):
            drawn.append(rectangle(ground, None, 1.0))
        drawn += [*arrow((x, y - 2.4), (x, y + 3.0), VISIBLE, 3.0),
                  centred(leaf.mark, place.centre[0], place.bottom + FINE_BOLD.height / 2)]
    return tuple(drawn)


def exchanged(scene: Scene, marks: tuple[str, str], room: Room) -> Drawing:
    """Two leaves that take each other's place."""
    x, y = room.centre
    return (*in_row(scene, marks, room, 9.0), *arrow((x - 3.6, y + 1.5), (x + 3.6, y + 1.5), VISIBLE, 2.6),
            *arrow((x + 3.6, y - 1.5), (x - 3.6, y - 1.5), VISIBLE, 2.6))


def opened_up(scene: Scene, mark: str, room: Room) -> Drawing:
    """A leaf with its openings black."""
    leaf = scene.plan.assembly.by_mark[mark]
    view = over(leaf.outline, room)
    marks: list[Mark] = [*_leaf(view.points(leaf.outline), leaf.marked_face)]
    for each in leaf.openings:
        if each.round:
            marks.append(Circle(view.point((each.x, each.y)), view.length(each.width / 2), VISIBLE, 0.0))
        else:
            low, high = ((each.x + sign * each.width / 2, each.y + sign * each.height / 2) for sign in (-1, 1))
            marks.append(rectangle((*view.point(low), *view.point(high)), VISIBLE, 0.0))
    return tuple(marks)


def bare_edges(scene: Scene, edges: Sequence[tuple[str, Sequence[str]]], room: Room) -> Drawing:
    """The first leaf that has bare edges, those drawn strongly."""
    mark, named = edges[0]
    leaf = scene.plan.piece(mark)
    view = over(leaf.outline, room.inset(1.0, _UNDER, 1.0, 1.0))
    strong = [leaf.edge(name) for name in named if name in leaf.edges]
    return (*_leaf(view.points(leaf.outline), leaf.marked_face),
            *(Line(view.point(a), view.point(b), STRONG) for a, b in strong),
            centred(mark, room.centre[0], room.bottom + FINE_BOLD.height / 2))


# --- boards ------------------------------------------------------------------------------------


def board_read(scene: Scene, room: Room) -> Drawing:
    """A board with what is read on it: length, breadth, both diagonals, the thickness at four corners."""
    stock = scene.plan.nest.stock
    view = over(((0.0, 0.0), (stock.length, stock.breadth)), room.inset(4.0, 4.0))
    (left, bottom), (right, top) = view.point((0.0, 0.0)), view.point((stock.length, stock.breadth))
    corners = ((left, bottom), (left, top), (right, top), (right, bottom))
    marks: list[Mark] = [rectangle((left, bottom, right, top), VISIBLE, 1.0), Line(corners[0], corners[2], HIDDEN),
                         Line(corners[1], corners[3], HIDDEN)]
    x, y = (left + right) / 2, (bottom + top) / 2
    for a, b in (((left, bottom - 2.4), (right, bottom - 2.4)), ((left - 2.4, bottom), (left - 2.4, top))):
        marks += [Line(a, b, NARROW), terminator(a, (a[0] - b[0], a[1] - b[1]), 2.4)[0],
                  terminator(b, (b[0] - a[0], b[1] - a[1]), 2.4)[0]]
    for cx, cy in corners:
        marks.append(Circle((cx + math.copysign(1.6, x - cx), cy + math.copysign(1.6, y - cy)), 0.9, None, 0.0))
    return tuple(marks)


def board_marked(scene: Scene, board: Board, room: Room) -> Drawing:
    """The board's lines, its datum corner, and the way all is measured from there."""
    view = over(((0.0, 0.0), (board.stock.length, board.stock.breadth)), room.inset(4.0, 4.5, 0.5, 0.5))
    low, high = view.point((0.0, 0.0)), view.point((board.stock.length, board.stock.breadth))
    ring = ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))
    marks: list[Mark] = [*_leaf(ring, scene.plan.assembly.leaves[0].marked_face)]
    marks += [Line(view.point(cut.a), view.point(cut.b), VISIBLE) for cut in board.cuts]
    marks += [*datum_corner(low, size=3.4), *arrow((low[0] + 2.0, low[1] - 2.2), (high[0], low[1] - 2.2), NARROW, 2.6),
              *arrow((low[0] - 2.2, low[1] + 2.0), (low[0] - 2.2, high[1]), NARROW, 2.6)]
    return tuple(marks)


def board_held(scene: Scene, room: Room) -> Drawing:
    """The first board of which a part is held, that part hatched."""
    board = next((board for board in scene.plan.boards if board.held), None)
    if board is None:
        return ()
    view = over(((0.0, 0.0), (board.stock.length, board.stock.breadth)), room.inset(0.5, _UNDER, 0.5, 0.5))
    (left, bottom), (right, top) = view.point((0.0, 0.0)), view.point((board.stock.length, board.stock.breadth))
    marks: list[Mark] = [rectangle((left, bottom, right, top), VISIBLE, 1.0)]
    marks += [Path(view.points(piece.outline), NARROW) for piece in board.pieces]
    for outline in board.held:
        ring = view.points(outline)
        marks += [*hatch(ring, 1.6), Path(ring, HEAVY)]
    marks.append(centred(board.mark, (left + right) / 2, room.bottom + FINE_BOLD.height / 2))
    return tuple(marks)


def rule_on_bar(scene: Scene, room: Room) -> Drawing:
    """A check bar and a rule laid against it, mark on mark."""
    left, right, y = room.left + 2.5, room.right - 2.5, room.centre[1]
    parts = [left + (right - left) * index / 6 for index in range(7)]
    marks: list[Mark] = [rectangle((a, y, b, y + 2.0), NARROW, 0.0 if index % 2 else 1.0)
                         for index, (a, b) in enumerate(pairwise(parts))]
    marks.append(rectangle((left - 2.5, y - 6.5, right + 2.5, y - 0.4), VISIBLE, 1.0))
    marks += [Line((x, y - 0.4), (x, y - 3.0), NARROW) for x in parts]
    marks += [Text((parts[index], y - 5.9), str(index), FINE_BOLD, "centre") for index in (0, 2, 4, 6)]
    return tuple(marks)
