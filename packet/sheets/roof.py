"""Roof attach: a half laid flat, inner face up, its roof leaves above its walls, ready for the eave strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Any

from packet.assembly.records import LeafKind, Point, Seam, SeamKind
from packet.assembly.unfolded import LaidLeaf, unfolded_half
from packet.description.terms import Face
from packet.drawing.flow import Block, bullets, stack, steps
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, Viewport
from packet.drawing.page import Sheet
from packet.drawing.pens import CENTRE, LEADER, VISIBLE, Pen
from packet.drawing.room import Room
from packet.drawing.table import Column, spread, table
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.hold_box import task_of
from packet.sheets.kit import Kit
from packet.tape.strips import Role
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.wording import shared_values

_GAP = 7.0
_ABOVE, _BELOW = 15.0, 9.0  # mm for what is said above the roof and below the sill
_LEAST = 0.45  # mm that such a mark keeps from the middle of the leaf's edges
_UPRIGHT = ((1.2, 0.14), (1.2, 0.1), (1.0, 0.07), (0.8, 0.05), (0.6, 0.04))
"""Where a mark along a roof leaf's mid edge may stand: mm beside it, and from which share of its height; the first is clear
of the strip along the eave."""
_NEVER = Pen(1.0)
_LAYOUTS = ((0.44, True), (0.32, False), (0.28, False))  # share of the width for words, edges in a table


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One page for the halves, which are alike but for their length; none without a roof joined at eaves."""
    if not plan.assembly.bonded(SeamKind.EAVE):
        return ()
    half = plan.assembly.halves[0]
    drawing, scale, viewport, words = min((_page(plan, kit, half, *layout) for layout in _LAYOUTS), key=_worth)
    marks = (*drawing, *words.marks)
    return (Sheet(
        number=sheet_number("roof"), title=kit.words.text("roof.title"), station=Station.R.word,
        kind=kit.words.text("roof.kind"), marks=marks,
        subtitle=kit.words.text("roof.subtitle", half=half, alike=_alike(plan)),
        subject=", ".join(plan.assembly.halves), scale_label=scale.label, viewports=(viewport,)),)


def _alike(plan: Plan) -> bool:
    """Whether all halves have the same number of leaves."""
    return len({sum(leaf.half == half for leaf in plan.assembly.leaves) for half in plan.assembly.halves}) == 1


def _page(plan: Plan, kit: Kit, half: str, share: float, tabled: bool) -> tuple[Drawing, Scale, Viewport, Block]:
    """Picture and words, the words in that share of the width; edges in a table, or as two more bullets."""
    room, picture = kit.room.cut_right(kit.room.width * share, gap=_GAP)
    drawing, scale, viewport = _flat_half(plan, kit, half, picture)
    shared = shared_values(plan, kit.words) | dict(task_of(plan, f"roof:{half}").values)
    told = steps((0.0, 0.0), room.width - 1.5, kit.words.texts("roof.steps", **shared), kit.lettering, gap=1.6)
    if tabled:
        columns = [Column(width) for width in spread(room.width, 5, 7)]
        more = table((0.0, 0.0), columns, _edges(plan, kit, half), kit.words.texts("roof.table"), kit.lettering)
    else:
        later = kit.words.texts("roof.later", eave=sheet_number("recipe.eave"), hips=sheet_number("recipe.hip"))
        more = bullets((0.0, 0.0), room.width - 1.5, later, BODY, kit.lettering, 1.0)
    words = stack(room.top_left, (told, more), 4.0)
    return drawing, scale, viewport, words if words.bottom >= room.bottom else Block((), room.top_left, 0.0, 0.0)


def _worth(page: tuple[Drawing, Scale, Viewport, Block]) -> tuple[bool, float]:
    """Words that fit, then the larger picture; the first layout where two are worth the same."""
    return not page[3].marks, page[1].ratio


def _flat_half(plan: Plan, kit: Kit, half: str, room: Room) -> tuple[Drawing, Scale, Viewport]:
    laid = unfolded_half(plan.assembly, half, Face.INNER)
    points = [p for leaf in laid for p in leaf.outline]
    rect = (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points))
    space = room.inset(1.0, _BELOW, 1.0, _ABOVE)
    scale = pick_scale(kit.system, (rect[2] - rect[0], rect[3] - rect[1]), space.size)
    view = View.centred(scale, rect, space.rect)
    marks: list[Mark] = list(_eave_tape(plan, laid, view))
    marks += [Path(view.points(leaf.outline), VISIBLE) for leaf in laid]
    marks += [*_mid_lines(plan, laid, view), *_never(plan, kit, laid, view)]
    marks += _lettered(laid, view, kit)
    low, high = view.point(rect[:2]), view.point(rect[2:])
    middle = (low[0] + high[0]) / 2
    marks.append(Text((middle, low[1] - 6.0), kit.words.text("roof.sill"), BODY, "centre"))
    wedge = _wedge(plan, laid, view)
    marks += [Circle(wedge, 0.7, None, 0.0), Line(wedge, (middle, high[1] + 6.0), LEADER),
              Text((middle, high[1] + 7.5), kit.words.text("roof.error"), BODY_BOLD, "centre")]
    return tuple(marks), scale, Viewport((*low, *high), scale.ratio, "half")


def _eave_tape(plan: Plan, laid: tuple[LaidLeaf, ...], view: View) -> Drawing:
    """The strip along the eaves that are bonded, as wide as it is."""
    land = next(s.land for s in plan.strips if s.role is Role.FLAT)
    marks: list[Mark] = []
    for seam, (left, y), (right, _) in _eaves(plan, laid):
        if seam.bonded:
            low, high = view.point((left, y - land)), view.point((right, y + land))
            band = ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))
            marks += [Path(band, None, 0.86), *hatch(band, 1.8)]
    return tuple(marks)


def _never(plan: Plan, kit: Kit, laid: tuple[LaidLeaf, ...], view: View) -> Drawing:
    """A bar along a door's eave, and the words that nothing is taped there."""
    marks: list[Mark] = []
    for seam, left, right in _eaves(plan, laid):
        if seam.bonded:
            continue
        a, b = view.point(left), view.point(right)
        marks.append(Line((a[0] + 0.5, a[1]), (b[0] - 0.5, b[1]), _NEVER))
        text, x = kit.words.text("roof.no_tape"), (a[0] + b[0]) / 2
        long = kit.lettering.width(text, FINE_BOLD)
        # In the door leaf, below its eave; upright where the leaf is narrow, beside it where it is short too.
        tall = view.length(plan.geometry.wall_height)
        outward = 1.0 if x > sum(view.point(leaf.centre)[0] for leaf in laid) / len(laid) else -1.0
        if long + 2.5 < b[0] - a[0]:
            marks.append(Text((x, a[1] - 2.0 - FINE_BOLD.height), text, FINE_BOLD, "centre"))
        elif 0.75 * tall > long + 6.0:
            marks.append(Text((x + FINE_BOLD.height / 2, a[1] - 2.0), text, FINE_BOLD, "right", 90.0))
        else:
            edge = (b[0] if outward > 0 else a[0]) + outward * 2.0
            marks.append(Text((edge, a[1] - FINE_BOLD.height / 2), text, FINE_BOLD,
                              "left" if outward > 0 else "right"))
    return tuple(marks)


def _eaves(plan: Plan, laid: tuple[LaidLeaf, ...]) -> Iterator[tuple[Seam, Point, Point]]:
    """Every eave of the half with its ends as laid, left first."""
    by_mark = {leaf.mark: leaf for leaf in laid}
    for seam in plan.assembly.seams:
        if seam.kind is SeamKind.EAVE and seam.leaves[1] in by_mark:
            left, right = sorted(by_mark[seam.leaves[1]].edge("eave"))
            yield seam, left, right


def _mid_lines(plan: Plan, laid: tuple[LaidLeaf, ...], view: View) -> Drawing:
    """The mid seam of every wall and the gore above it: one straight line, set first."""
    by_mark = {leaf.mark: leaf for leaf in laid}
    marks: list[Mark] = []
    for seam in plan.assembly.seams:
        if seam.kind is SeamKind.WALL_MID and seam.leaves[0] in by_mark:
            sill = min(by_mark[seam.leaves[1]].edge("mid"), key=lambda p: p[1])
            roof = plan.assembly.above(plan.assembly.by_mark[seam.leaves[1]]).mark
            tip = max(by_mark[roof].edge("mid"), key=lambda p: p[1])
            a, b = view.point(sill), view.point(tip)
            marks.append(Line((a[0], a[1] - 2.0), (b[0], b[1] + 2.0), CENTRE))
    return tuple(marks)


def _lettered(laid: tuple[LaidLeaf, ...], view: View, kit: Kit) -> Drawing:
    """Every leaf's mark, and the word door, where they stand clear of its edges: one size for all walls and one
    for all roof leaves, upright where they are narrow, those of roof leaves along their mid edges."""
    import shapely

    marks: list[Mark] = []
    for kind, level in ((LeafKind.WALL, 0.25), (LeafKind.ROOF, 0.38)):
        leaves = [(leaf, view.points(leaf.outline)) for leaf in laid if leaf.kind is kind]
        inside = {leaf.mark: shapely.Polygon(ring).buffer(-0.8) for leaf, ring in leaves}

        def stands(text: Text, mark: str, inside: dict[str, Any] = inside) -> bool:
            return bool(inside[mark].contains(shapely.Polygon(kit.lettering.box(text))))

        for style in (NUMBER, BODY_BOLD, FINE_BOLD):
            texts = [Text((_middle(ring), _level(ring, level) - style.height / 2), leaf.mark, style, "centre")
                     for leaf, ring in leaves]
            if all(stands(text, text.string) for text in texts):
                break
        else:
            texts = [Text((_middle(ring) + FINE_BOLD.height / 2, _level(ring, 0.0) + 2.0), leaf.mark, FINE_BOLD, "left",
                          90.0) for leaf, ring in leaves]
            if kind is LeafKind.ROOF:
                inside = {leaf.mark: shapely.Polygon(ring).buffer(-_LEAST) for leaf, ring in leaves}
                for style, (beside, share) in product((BODY_BOLD, FINE_BOLD), _UPRIGHT):
                    texts = [_along_mid(leaf, view, style, beside, share) for leaf, _ in leaves]
                    if all(stands(text, text.string, inside) for text in texts):
                        break
        marks += texts
        for text, (leaf, _) in zip(texts, leaves, strict=False):
            word = Text((text.at[0], text.at[1] - FINE.leading - 0.5), kit.words.text("arrangement.plan.door"), FINE,
                        "centre")
            if leaf.door and not text.angle and stands(word, leaf.mark):
                marks.append(word)
    return tuple(marks)


def _along_mid(leaf: LaidLeaf, view: View, style: Style, beside: float, share: float) -> Text:
    """A roof leaf's mark so many mm beside its mid edge, beginning at that share of its height above the eave."""
    low, high = sorted(view.points(leaf.edge("mid")), key=lambda point: point[1])
    inward = _middle(view.points(leaf.outline)) > low[0]
    return Text((low[0] + (style.height + beside if inward else -beside), low[1] + share * (high[1] - low[1])), leaf.mark,
                style, "left", 90.0)


def _middle(ring: Sequence[Point]) -> float:
    return sum(x for x, _ in ring) / len(ring)


def _level(ring: Sequence[Point], part: float) -> float:
    low, high = min(y for _, y in ring), max(y for _, y in ring)
    return low + part * (high - low)


def _wedge(plan: Plan, laid: tuple[LaidLeaf, ...], view: View) -> tuple[float, float]:
    """A point in the wedge between two gores, above the corner nearest the middle of the half, on paper."""
    by_mark = {leaf.mark: leaf for leaf in laid}
    hips = [seam for seam in plan.assembly.seams
            if seam.kind is SeamKind.HIP and all(mark in by_mark for mark in seam.leaves)]
    centre = sum(leaf.centre[0] for leaf in laid) / len(laid)

    def top(mark: str) -> tuple[float, float]:
        return max(by_mark[mark].edge("hip"), key=lambda p: p[1])

    hip = min(hips, key=lambda seam: abs((top(seam.leaves[0])[0] + top(seam.leaves[1])[0]) / 2 - centre))
    foot = min(by_mark[hip.leaves[0]].edge("hip"), key=lambda p: p[1])
    a, b = (top(mark) for mark in hip.leaves)
    return view.point((foot[0] + 0.25 * ((a[0] + b[0]) / 2 - foot[0]), foot[1] + 0.25 * ((a[1] + b[1]) / 2 - foot[1])))


def _edges(plan: Plan, kit: Kit, half: str) -> list[tuple[str, str]]:
    """Which edges of the half are taped, when, and which never."""
    eaves = [seam for seam in plan.assembly.seams
             if seam.kind is SeamKind.EAVE and plan.assembly.by_mark[seam.leaves[0]].half == half]
    bonded, free = ([seam.mark for seam in eaves if seam.bonded is wanted] for wanted in (True, False))
    corner = next(seam.mark for seam in plan.assembly.seams if seam.kind is SeamKind.CORNER and not seam.bonded
                  and any(plan.assembly.by_mark[mark].half == half for mark in seam.leaves))
    values = {"first": bonded[0], "last": bonded[-1], "free": free, "corner": corner,
              "eave": sheet_number("recipe.eave"), "hips": sheet_number("recipe.hip")}
    return [(kit.words.text(f"roof.edges.{key}.edge", **values), kit.words.text(f"roof.edges.{key}.tape", **values))
            for key in ("eave", "outer", "door", "hip")]
