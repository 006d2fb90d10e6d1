"""A small picture for each word of the trade: on the open shelter, on a hinge cut across, or the thing itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from packet.assembly.opening_states import Plate, pack_plates
from packet.assembly.records import Leaf, LeafKind, Point, Point3, Seam, SeamKind, polygon_area
from packet.description.terms import Face
from packet.drawing.lettering import FINE_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Path, Text, rectangle
from packet.drawing.pens import HEAVY, LAST, NARROW, VISIBLE, Pen
from packet.drawing.room import Room
from packet.drawing.solid import Camera, Picture, picture
from packet.drawing.symbols import signature_box
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plates import ABOVE, BEFORE, LYING, faces, fitted, in_room, shown_open
from packet.tape.hinge_law import wrap_width
from packet.tape.section import Section, hinge_section, stretch

ROUND = tuple(Camera(azimuth, 24.0) for azimuth in (-66.0, -114.0, 114.0, 66.0))  # where a jamb is looked for
DARK = 0.45  # grey of the leaves meant
STRONG = Pen(1.4)
REACH = 3.2  # lands of board drawn on either side of a hinge
HALF_SHUT = 70.0  # degrees, the hinge that shows its faces


@dataclass(frozen=True, slots=True)
class Seen:
    """What all pictures are made from: the open shelter is drawn once."""

    plan: Plan
    kit: Kit
    shown: Picture


Drawn = Callable[[Seen, Room], Drawing]


def seen(plan: Plan, kit: Kit) -> Seen:
    return Seen(plan, kit, shown_open(plan, BEFORE))


def picture_of(seen: Seen, name: str, room: Room) -> Drawing:
    """The picture of that name in the middle of a room. Raises KeyError for a name without one."""
    return _PICTURES[name](seen, room)


# --- on the open shelter -----------------------------------------------------------------------


def _leaves_dark(seen: Seen, room: Room, marks: Iterable[str]) -> Drawing:
    shown, wanted = seen.shown, set(marks)
    view = View.centred(Scale(fitted(shown.bounds, room), ""), shown.bounds, room.rect)
    dark = [Path(view.points(region.points), None, DARK) for region in shown.visible(wanted)]
    return (*shown.drawing(view, wide=NARROW), *dark,
            *(Line(view.point(s.a), view.point(s.b), NARROW) for s in shown.segments if not s.hidden))


def _edges_strong(seen: Seen, room: Room, edges: Iterable[tuple[Point3, Point3]]) -> Drawing:
    shown = seen.shown
    view = View.centred(Scale(fitted(shown.bounds, room), ""), shown.bounds, room.rect)
    strong = [Line(view.point(BEFORE.project(a)), view.point(BEFORE.project(b)), STRONG) for a, b in edges]
    return (*shown.drawing(view, wide=NARROW), *strong)


def _nearness(point: Point3) -> float:
    """How far towards the viewer a point lies, mm."""
    _, _, towards = BEFORE.axes()
    return sum(a * b for a, b in zip(point, towards, strict=True))


def _outer(leaf: Leaf, edge: Sequence[Point]) -> tuple[Point3, Point3]:
    """An edge of a leaf on the face that is seen from outside."""
    depth = leaf.depth(Face.OUTER)
    return leaf.open_pose.place(edge[0], depth), leaf.open_pose.place(edge[1], depth)


def _edge_of(plan: Plan, seam: Seam) -> tuple[Point3, Point3]:
    return _outer(plan.assembly.by_mark[seam.leaves[0]], seam.edge_a)


def _middle(edge: tuple[Point3, Point3]) -> Point3:
    a, b = edge
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2


def _nearest(plan: Plan, seams: Iterable[Seam]) -> Seam:
    return max(seams, key=lambda seam: (round(_nearness(_middle(_edge_of(plan, seam))), 3), seam.mark))


def _kind(*kinds: SeamKind) -> Drawn:
    def draw(seen: Seen, room: Room) -> Drawing:
        seam = _nearest(seen.plan, seen.plan.assembly.bonded(*kinds))
        return _edges_strong(seen, room, [_edge_of(seen.plan, seam)])

    return draw


def _removable(seen: Seen, room: Room) -> Drawing:
    return _edges_strong(seen, room, [_edge_of(seen.plan, seam) for seam in seen.plan.assembly.seams if seam.removable])


def _side(plan: Plan) -> tuple[Leaf, ...]:
    """The leaves of the wall nearest to the viewer; without walls of two leaves, the nearest leaf."""
    assembly = plan.assembly
    mids = assembly.bonded(SeamKind.WALL_MID)
    if mids:
        return tuple(assembly.by_mark[mark] for mark in _nearest(plan, mids).leaves)
    return (max(assembly.leaves, key=lambda leaf: _nearness(_centre(leaf))),)


def _centre(leaf: Leaf) -> Point3:
    xs, ys = zip(*leaf.outline, strict=True)
    return leaf.open_pose.place((sum(xs) / len(xs), sum(ys) / len(ys)))


def _leaf(seen: Seen, room: Room) -> Drawing:
    return _leaves_dark(seen, room, [_side(seen.plan)[0].mark])


def _wall(seen: Seen, room: Room) -> Drawing:
    return _leaves_dark(seen, room, [leaf.mark for leaf in _side(seen.plan)])


def _gore(seen: Seen, room: Room) -> Drawing:
    return _leaves_dark(seen, room, [seen.plan.assembly.above(leaf).mark for leaf in _side(seen.plan)])


def _jamb(seen: Seen, room: Room) -> Drawing:
    """From where most of a jamb shows."""
    jambs = {seen.plan.assembly.jamb_of(door).mark for door in seen.plan.assembly.doors}
    views = [shown_open(seen.plan, camera) for camera in ROUND]
    best = max(views, key=lambda shown: max(_shows(shown, mark) for mark in jambs))
    return _leaves_dark(replace(seen, shown=best), room, jambs)


def _shows(shown: Picture, mark: str) -> float:
    """How much of a leaf shows, mm2 of the picture plane."""
    return sum(abs(polygon_area(region.points)) for region in shown.visible([mark]))


def _half(seen: Seen, room: Room) -> Drawing:
    """From above, where both halves show."""
    assembly = seen.plan.assembly
    half = [leaf.mark for leaf in assembly.leaves if leaf.half == assembly.halves[0]]
    return _leaves_dark(replace(seen, shown=shown_open(seen.plan, ABOVE)), room, half)


def _level_edges(seen: Seen, room: Room, *, high: bool) -> Drawing:
    """The lowest, or the highest, edges of the leaves nearest to the viewer."""
    found = []
    for leaf in _side(seen.plan):
        edges = [_outer(leaf, leaf.edge(name)) for name in leaf.edges]
        pick = max if high else min
        found.append(pick(edges, key=lambda edge: _middle(edge)[2]))
    return _edges_strong(seen, room, found)


# --- on a hinge cut across ---------------------------------------------------------------------


def _section(section: Section, room: Room, strong: Sequence[Sequence[Point]],
             pen: Pen = STRONG) -> Drawing:
    """A hinge cut across, with some lines drawn strongly."""
    points = [point for board in section.boards for point in board]
    xs, ys = zip(*points, strict=True)
    bounds = (min(xs), min(ys), max(xs), max(ys))
    clear = room.inset(3.0)
    view = View.centred(Scale(fitted(bounds, clear), ""), bounds, clear.rect)
    return (*(Path(view.points(board), VISIBLE, 0.9) for board in section.boards),
            *(Path(view.points(line), pen, closed=False) for line in strong))


def _sizes(plan: Plan) -> tuple[float, float]:
    """Thickness and land, drawn in proportion; a thin board is drawn thick enough to see."""
    land = plan.description.tape.land
    return max(plan.assembly.thickness, 0.4 * land), land


def _turned(plan: Plan, angle: float, degrees: float) -> tuple[Section, float, float]:
    thick, land = _sizes(plan)
    return hinge_section(thick, angle, REACH * land).rotated(degrees), thick, land


def _closing(seen: Seen, room: Room) -> Drawing:
    section, *_ = _turned(seen.plan, HALF_SHUT, 0.0)
    return _section(section, room, [section.closing_path])


def _opening(seen: Seen, room: Room) -> Drawing:
    section, *_ = _turned(seen.plan, HALF_SHUT, 0.0)
    first, second = section.opening_path[:2], section.opening_path[3:]
    return _section(section, room, [first, second])


def _flat(seen: Seen, room: Room) -> Drawing:
    section, _, land = _turned(seen.plan, 180.0, 180.0)
    return _section(section, room, [stretch(section.closing_path, -land, land)])


def _wrap(seen: Seen, room: Room) -> Drawing:
    section, thick, land = _turned(seen.plan, 0.0, -90.0)
    half = wrap_width(land, thick) / 2
    return _section(section, room, [stretch(section.opening_path, -half, half)])


def _splice(seen: Seen, room: Room) -> Drawing:
    section, thick, land = _turned(seen.plan, 180.0, 180.0)
    strip = stretch(section.closing_path, -land, land)
    return _section(section, room, [strip, [(x, y - thick) for x, y in strip]])


def _land(seen: Seen, room: Room) -> Drawing:
    section, _, land = _turned(seen.plan, 180.0, 180.0)
    return _section(section, room, [stretch(section.closing_path, 0.0, land)])


# --- the thing itself --------------------------------------------------------------------------


def _board(seen: Seen, room: Room) -> Drawing:
    stock = seen.plan.nest.stock
    outline = ((0.0, 0.0, 0.0), (stock.length, 0.0, 0.0), (stock.length, stock.breadth, 0.0), (0.0, stock.breadth, 0.0))
    shown = picture(faces([Plate("board", outline, (0.0, 0.0, 1.0), stock.thickness)]), LYING)
    return in_room(shown, None, room)


def _pack(seen: Seen, room: Room) -> Drawing:
    return in_room(picture(faces(pack_plates(seen.plan.assembly, seen.plan.pack)), LYING), None, room, fine=True)


def _hands(seen: Seen, room: Room) -> Drawing:
    """Two roof leaves on their eaves as they are marked; the mid edge of each is strong."""
    leaves = seen.plan.assembly.of_kind(LeafKind.ROOF)
    marks: list[Mark] = []
    pair = [next(leaf for leaf in leaves if leaf.hand.sign == sign) for sign in (1, -1)]
    for leaf, place in zip(pair, room.columns(1, 1, gap=4.0), strict=True):
        above, below = place.cut_bottom(5.0)[1], place.cut_bottom(5.0)[0]
        xs, ys = zip(*leaf.outline, strict=True)
        bounds = (min(xs), min(ys), max(xs), max(ys))
        view = View.centred(Scale(fitted(bounds, above.inset(1.5)), ""), bounds, above.rect)
        marks += [Path(view.points(leaf.outline), VISIBLE, 0.9),
                  Path(view.points(leaf.edge("mid")), STRONG, closed=False),
                  Text((place.centre[0], below.bottom + 0.8), seen.kit.words.name(leaf.hand), FINE_BOLD, "centre")]
    return tuple(marks)


def _relief(seen: Seen, room: Room) -> Drawing:
    """A strip across the joint of two boards, slit where they meet."""
    clear = room.inset(0.12 * room.width, 0.06 * room.height)
    x, (low, high) = clear.centre[0], (clear.bottom + 0.25 * clear.height, clear.bottom + 0.6 * clear.height)
    strip = rectangle((clear.left, low, clear.right, high), NARROW, 0.7)
    return (rectangle(clear.rect, VISIBLE, 1.0), Line((x, clear.bottom), (x, clear.top), NARROW), strip,
            Line((x, low), (x, high), HEAVY), Line((x, high), (x, high + 4.0), LAST))


def _hold(seen: Seen, room: Room) -> Drawing:
    x, y = room.centre
    return signature_box((x - 26.0, y - 8.0), 52.0, seen.kit.words.text("checklist.hold.sign"), seen.kit.lettering, 16.0)


_PICTURES: dict[str, Drawn] = {
    "board": _board, "leaf": _leaf, "seam": _kind(SeamKind.SEAM), "wall": _wall, "gore": _gore,
    "mid": _kind(SeamKind.WALL_MID), "corner": _kind(SeamKind.CORNER), "hip": _kind(SeamKind.HIP),
    "eave": _kind(SeamKind.EAVE), "sill": lambda seen, room: _level_edges(seen, room, high=False),
    "head": lambda seen, room: _level_edges(seen, room, high=True), "jamb": _jamb, "closing": _closing,
    "opening": _opening, "flat": _flat, "wrap": _wrap, "splice": _splice, "land": _land, "hands": _hands, "half": _half,
    "releasable": _removable, "pack": _pack, "relief": _relief, "hold": _hold}
