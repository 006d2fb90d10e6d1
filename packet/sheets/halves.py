"""Half assembly: the strip of leaves of each half lying open as it is built, hinges numbered in order of work."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from packet.assembly.records import Hand, Leaf, LeafKind, Point, Seam, SeamKind
from packet.assembly.unfolded import LaidLeaf, laid_flat
from packet.drawing.flow import paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Drawing, Line, Mark, Path, Rect, Text, Viewport
from packet.drawing.page import Sheet
from packet.drawing.pens import LEADER, NARROW, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.solid import Camera
from packet.drawing.symbols import circled
from packet.drawing.table import Column, spread, table
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plates import BEFORE, BEHIND, in_room, shown_open
from packet.work.hinging import hinge_classes, in_half
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

if TYPE_CHECKING:
    from shapely import Polygon

_RADIUS = 2.9  # mm, a circle with two figures
_APART = 6.6  # mm between the centres of two circles
_ALONG = (0.5, 0.36, 0.64, 0.25, 0.75)  # where on an edge a number may stand
_BESIDE = (0.0, 7.0, -7.0, 14.0, -14.0)  # mm off the edge, at the end of a leader
_LEVELS = (0.5, 0.62, 0.38, 0.72, 0.26, 0.16)  # where in a leaf its mark may stand
_LARGER = 2.0  # the leaves have a page alone where that shows them so many times larger
_OVERLAP = 1.0  # mm2 of one leaf over another from which a strip cannot lie flat in one plane

_Order = list[tuple[str, str, tuple[Seam, ...]]]
"""Kind, sheet of the recipe and seams of each class, in the order of the work."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A page for every half, or for the whole where there are no halves; two where its leaves need a page alone."""
    sheets: list[Sheet] = []
    for half in plan.assembly.halves:
        sheets += _pages(plan, kit, half, len(sheets) + 1)
    return tuple(sheets)


def _pages(plan: Plan, kit: Kit, half: str, number: int) -> list[Sheet]:
    order = _order(plan, half)
    numbers = {seam.mark: str(n) for n, seam in enumerate((s for _, _, seams in order for s in seams), 1)}
    widths = spread(kit.room.width, 18, 130, 26, 26, 18)
    columns = [Column(widths[0], "centre", BODY_BOLD), Column(widths[1]),
               *(Column(width, "centre", BODY_BOLD) for width in widths[2:])]
    listed = table((0.0, 0.0), columns, _rows(plan, kit, half, order, numbers), kit.words.texts("halves.header"),
                   kit.lettering)
    hands = _hands(plan, half)
    said = [kit.words.text("halves.hands", hands=hands)] if hands else []
    if any(leaf.splices for leaf in plan.assembly.leaves if leaf.half == half):
        said.append(kit.words.text("halves.splices", sheet=sheet_number("splice")))
    if said:
        lines = [paragraph((0.0, 0.0), kit.room.width, line, BODY, kit.lettering) for line in said]
        listed = stack((0.0, 0.0), (*lines, listed), 2.5)
    foot, above = kit.room.cut_bottom(listed.height, gap=5.0)
    rows = listed.moved(foot.top_left).marks
    both = _page_in(plan, kit, half, number, above, numbers, rows)
    if both is not None and not both.viewports:
        return [both]
    if both is not None and both.viewports[0].ratio < _LARGER * _fitting(_laid(plan, half), kit.room, kit)[1].ratio:
        return [both]
    alone = _page(plan, kit, half, number, kit.room, numbers, ())
    view = in_room(shown_open(plan, _towards(plan, half)), kit.lettering, above.inset(1.0))
    return [alone, replace(alone, number=sheet_number("halves", number + 1), viewports=(), scale_label="",
                           marks=(*view, *rows))]


def _page_in(
    plan: Plan, kit: Kit, half: str, number: int, above: Room, numbers: dict[str, str], below: Drawing
) -> Sheet | None:
    """The leaves above the list of hinges; None where they do not fit there."""
    try:
        return _page(plan, kit, half, number, above, numbers, below)
    except LayoutError:
        return None


def _laid(plan: Plan, half: str) -> tuple[LaidLeaf, ...]:
    """The leaves of a half side by side, marked face up."""
    leaves = [leaf for leaf in plan.assembly.leaves if leaf.half == half]
    return laid_flat(plan.assembly, tuple(leaf.mark for leaf in leaves), leaves[0].marked_face)


def _page(
    plan: Plan, kit: Kit, half: str, number: int, above: Room, numbers: dict[str, str], below: Drawing
) -> Sheet:
    halved = len(plan.assembly.halves) > 1
    marks: list[Mark] = list(below)
    face = next(leaf.marked_face for leaf in plan.assembly.leaves if leaf.half == half)
    laid = _laid(plan, half)
    flat = _flat(laid)
    scale: Scale | None = None
    views: tuple[Viewport, ...] = ()
    if flat:
        drawing, scale, viewport = _laid_out(plan, kit, laid, numbers, above)
        marks += drawing
        views = (viewport,)
    else:
        marks += in_room(shown_open(plan, _towards(plan, half)), kit.lettering, above.inset(1.0))
    return Sheet(
        number=sheet_number("halves", number), title=kit.words.text("halves.title", half=half if halved else ""),
        subtitle=kit.words.text("halves.subtitle", flat=flat, face=str(face), limit=plan.description.limits.mark),
        station=Station.H.word,
        kind=kit.words.text("halves.kind"), subject=half if halved else "", marks=tuple(marks),
        scale_label=scale.label if scale else "", viewports=views)


def _towards(plan: Plan, half: str) -> Camera:
    """From where the half stands before the rest when all is open."""
    def middle(halves: tuple[str, ...]) -> Point:
        points = [leaf.open_pose.place(point) for leaf in plan.assembly.leaves if leaf.half in halves for point in leaf.outline]
        return (sum(x for x, _, _ in points) / len(points), sum(y for _, y, _ in points) / len(points))

    own, whole = middle((half,)), middle(plan.assembly.halves)
    dx, dy = own[0] - whole[0], own[1] - whole[1]
    azimuth = math.radians(BEFORE.azimuth)
    return BEFORE if dx * math.cos(azimuth) + dy * math.sin(azimuth) >= -1e-6 else BEHIND


def _hands(plan: Plan, half: str) -> list[tuple[Hand, list[str]]]:
    """The roof leaves of a half by their hand; a small leaf has no room for it."""
    leaves = [leaf for leaf in plan.assembly.of_kind(LeafKind.ROOF) if leaf.half == half]
    return [(hand, marks) for hand in Hand if (marks := [leaf.mark for leaf in leaves if leaf.hand is hand])]


def _order(plan: Plan, half: str) -> _Order:
    """The hinges of the table class by class, then the eaves."""
    inside = {seam.mark for seam in in_half(plan, half)}
    found = [(str(each.seams[0].kind), each.sheet, tuple(s for s in each.seams if s.mark in inside))
             for each in hinge_classes(plan)]
    found.append((str(SeamKind.EAVE), sheet_number("recipe.eave"), in_half(plan, half, SeamKind.EAVE)))
    return [each for each in found if each[2]]


def _rows(plan: Plan, kit: Kit, half: str, order: _Order, numbers: dict[str, str]) -> list[list[str]]:
    words = kit.words
    rows = []
    for kind, sheet, seams in order:
        # A class may close on either face: a row for each.
        for closing in dict.fromkeys(seam.closing_face for seam in seams):
            own = [seam for seam in seams if seam.closing_face is closing]
            rows.append([_span([int(numbers[seam.mark]) for seam in own]),
                         words.text("halves.row", kind=words.text(f"halves.kinds.{kind}"), seams=[s.mark for s in own]),
                         words.text("halves.face", face=str(closing)), words.text("halves.face", face=str(closing.other)),
                         sheet])
    hips = in_half(plan, half, SeamKind.HIP)
    if hips:
        rows.append([words.text("halves.later"),
                     words.text("halves.row", kind=words.text("halves.kinds.hip"), seams=[s.mark for s in hips]),
                     words.text("halves.face", face=str(hips[0].closing_face)),
                     words.text("halves.face", face=str(hips[0].opening_face)), sheet_number("recipe.hip")])
    return rows


def _span(numbers: list[int]) -> str:
    """`1-3` for a run, `1, 3` otherwise."""
    if len(numbers) > 1 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]}-{numbers[-1]}"
    return ", ".join(map(str, numbers))


def _flat(laid: tuple[LaidLeaf, ...]) -> bool:
    """Whether the leaves, laid edge to edge, lie beside one another."""
    import shapely

    shapes = [shapely.Polygon(leaf.outline) for leaf in laid]
    return all(a.intersection(b, grid_size=1e-3).area < _OVERLAP for a, b in itertools.combinations(shapes, 2))


def _laid_out(
    plan: Plan, kit: Kit, laid: tuple[LaidLeaf, ...], numbers: dict[str, str], room: Room
) -> tuple[Drawing, Scale, Viewport]:
    import shapely

    rect, scale = _fitting(laid, room, kit)
    view = View.centred(scale, rect, room.inset(_RADIUS + 1.0).rect)
    marks: list[Mark] = [Path(view.points(leaf.outline), VISIBLE) for leaf in laid]
    lines = {leaf.mark: _splices(plan.assembly.by_mark[leaf.mark], leaf, view) for leaf in laid}
    marks += [Line(a, b, NARROW) for found in lines.values() for a, b in found]
    taken: list[Point] = []
    by_mark = {leaf.mark: leaf for leaf in laid}
    for seam in plan.assembly.seams:
        if seam.mark in numbers:
            for a, b in _edges(plan, seam, by_mark):
                here, spot = _spot(view.point(a), view.point(b), taken)
                taken.append(spot)
                marks += [Line(here, spot, LEADER), *circled(spot, numbers[seam.mark], kit.lettering, _RADIUS, FINE_BOLD)]
    reach = _RADIUS + 0.4
    discs = [((x - reach, y - reach, x + reach, y + reach), shapely.Point(x, y).buffer(reach)) for x, y in taken]
    for leaf in laid:
        marks += _named(plan.assembly.by_mark[leaf.mark], view.points(leaf.finished), discs, lines[leaf.mark], kit)
    return tuple(marks), scale, Viewport((*view.point(rect[:2]), *view.point(rect[2:])), scale.ratio, "half")


def _fitting(laid: tuple[LaidLeaf, ...], room: Room, kit: Kit) -> tuple[Rect, Scale]:
    """The leaves' bounds, and the largest scale at which the room takes them and the numbers beside them."""
    points = [p for leaf in laid for p in leaf.outline]
    rect = (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points))
    return rect, pick_scale(kit.system, (rect[2] - rect[0], rect[3] - rect[1]), room.inset(_RADIUS + 1.0).size)


def _edges(plan: Plan, seam: Seam, laid: dict[str, LaidLeaf]) -> list[tuple[Point, Point]]:
    """The seam where it lies on the table: one line, or both edges where it is closed by folding."""
    found: list[tuple[Point, Point]] = []
    for mark, edge in zip(seam.leaves, (seam.edge_a, seam.edge_b), strict=True):
        leaf = plan.assembly.by_mark[mark]
        off = {name: math.dist(_middle(*leaf.edge(name)), _middle(*edge)) for name in leaf.edges}
        found.append(laid[mark].edge(min(off, key=off.__getitem__)))
    return found[:1] if math.dist(_middle(*found[0]), _middle(*found[1])) < 1.0 else found


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _spot(a: Point, b: Point, taken: list[Point]) -> tuple[Point, Point]:
    """A place on an edge and beside it, for a number that keeps clear of those that stand: on the edge if it can.

    Raises LayoutError where there is none.
    """
    long = math.dist(a, b)
    square = ((a[1] - b[1]) / long, (b[0] - a[0]) / long)
    for off in _BESIDE:
        for part in _ALONG:
            here = (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))
            spot = (here[0] + off * square[0], here[1] + off * square[1])
            if all(math.dist(spot, other) > _APART for other in taken):
                return here, spot
    raise LayoutError("the hinges of a half lie too close for their numbers at this scale")


def _splices(leaf: Leaf, laid: LaidLeaf, view: View) -> list[tuple[Point, Point]]:
    """Where the leaf's splices lie on paper: each of their ends is on an edge."""
    def place(point: Point) -> Point:
        for name in leaf.edges:
            a, b = leaf.edge(name)
            share = math.dist(a, point) / math.dist(a, b)
            if math.dist((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])), point) < 1e-3:
                (ax, ay), (bx, by) = laid.edge(name)
                return view.point((ax + share * (bx - ax), ay + share * (by - ay)))
        raise LookupError(f"a splice of leaf {leaf.mark} does not end on its edges")

    return [(place(splice.a), place(splice.b)) for splice in leaf.splices]


def _named(leaf: Leaf, ring: tuple[Point, ...], discs: list[tuple[Rect, Polygon]], joints: list[tuple[Point, Point]],
           kit: Kit) -> Drawing:
    """The leaf's mark, and below it its hand and whether it is a door, as large as stands clear of edges, splices and
    numbers."""
    import shapely

    outline = shapely.Polygon(ring)
    left, bottom, right, top = outline.bounds
    near = [disc for box, disc in discs if box[0] < right and box[2] > left and box[1] < top and box[3] > bottom]
    clear = outline.buffer(-0.7).difference(
        shapely.union_all([*near, *(shapely.LineString(line).buffer(0.5) for line in joints)]))
    shapely.prepare(clear)
    low, high = min(y for _, y in ring), max(y for _, y in ring)
    words = [kit.words.text(f"halves.hand.{leaf.hand}")] if len(ring) == 4 and leaf.mark.endswith("R") else []
    words += [kit.words.text("halves.door")] if leaf.door else []
    for lines in (words, []) if words else ([],):
        for style in (NUMBER, BODY_BOLD, FINE_BOLD):
            for part in _LEVELS:
                texts = _column(leaf.mark, style, lines, low + part * (high - low), outline)
                if all(clear.contains(shapely.Polygon(kit.lettering.box(text))) for text in texts):
                    return texts
    return ()


def _column(mark: str, style: Style, lines: list[str], level: float, outline: object) -> tuple[Text, ...]:
    """The mark at a level, in the middle of the leaf there, and lines below it."""
    import shapely

    across = shapely.intersection(outline, shapely.LineString([(-1e4, level), (1e4, level)]))
    x = across.centroid.x if not across.is_empty else 0.0
    texts = [Text((x, level - style.height / 2), mark, style, "centre")]
    for number, line in enumerate(lines, 1):
        texts.append(Text((x, level - style.height / 2 - number * FINE.leading - 0.6), line, FINE, "centre"))
    return tuple(texts)
