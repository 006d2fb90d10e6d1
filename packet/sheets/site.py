"""Site plan: anchors, ground sheet, drip points and trench to scale; each anchor's load; a guy on foam board."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from packet.assembly.records import Point
from packet.assembly.views import cut, horizontal
from packet.description.terms import Compass
from packet.drawing.flow import bullets, paragraph, steps
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, NUMBER
from packet.drawing.marks import Circle, Line, Mark, Path, Rect, Text, Viewport, bounds, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import CENTRE, FOLD, HIDDEN, NARROW, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import arrow, circled
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.placing import Taken
from packet.sheets.site_blocks import column, rests_on, roomy, sheet
from packet.sheets.wind import wanted
from packet.site.anchors import AnchorLoad, anchor_loads
from packet.site.layout import Layout, door_ways, layout
from packet.site.stance import stance
from packet.site.wind import loads
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_EDGE = 5.0
"""mm of paper round the plan for the numbers of the stakes."""

_SIDE, _LEGEND = 22.0, 9.0
"""mm of paper beside the plan for the wind and north, and below it for what its lines mean."""

_ROWS = (14.0, 10.5, 7.5)
"""mm, a row of the anchors' loads: few stand well apart."""

_FEW = 10
"""Anchors whose loads fit one page in large figures."""

_OUT = (-6.5, -5.5, -8.0, 6.5, 8.0, 10.0)
"""mm of paper from a door's wall out to its mark, the likeliest place first."""

_STAKE, _DROP = 3.6, 1.3
"""mm of paper, radii of what is drawn at a stake and under a corner of the eave."""

_HEIGHT = 0.3
"""Share of the height at which the plan is cut."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The plan, the loads and the detail, where wind on it can hurt."""
    if not wanted(plan):
        return ()
    loaded = _loads_pages(plan, kit)
    return _plan_page(plan, kit), *loaded, _guy_page(plan, kit, 2 + len(loaded))


def _plan_page(plan: Plan, kit: Kit) -> Sheet:
    right, left = kit.room.cut_right(0.47 * kit.room.width, gap=6.0)
    placed = layout(plan)
    marks, scale, rect, view = _plan(plan, kit, left, placed)
    marks += _door_marks(plan, kit, view, placed)
    own, form = plan.description.site, kit.form
    held = loads(plan)
    told = kit.words.texts(
        "site.steps", inside=plan.ring is not None, doors=[leaf.mark for leaf in plan.assembly.doors],
        faces=_faces(plan, kit, placed), wind=_point(kit, own.wind_from), hill=_point(kit, own.uphill),
        count=len(stance(plan.assembly).base), out=own.stake_out, sheet=own.ground_sheet, trench=own.trench,
        pull=form.force(held.worst.pull), ballast=held.ballast)
    keys = ("site.stake_out", *(("site.ground_sheet", "site.trench") if plan.ring is not None else ()),
            *(key for key, given in (("site.wind_from", own.wind_from), ("site.uphill", own.uphill)) if given))
    words = roomy(lambda style: column(right, (
        steps((0.0, 0.0), right.width, told, kit.lettering, style, gap=1.4),
        rests_on(plan, kit, right.width, *keys, style=style)), 3.0))
    made = sheet(kit, "site", "site.plan", Station.X.word, (*marks, *words))
    return replace(made, scale_label=scale.label, viewports=(Viewport(rect, scale.ratio, "site"),))


def _point(kit: Kit, point: Compass | None) -> str:
    return kit.words.text(f"site.compass.{point}") if point is not None else ""


def _faces(plan: Plan, kit: Kit, placed: Layout) -> list[tuple[str, str]]:
    """Each door with the point of the compass it looks to, where the plan is turned to the wind."""
    if plan.description.site.wind_from is None:
        return []
    return [(door.mark, _point(kit, min(Compass, key=lambda point: abs(
        (way + placed.turn - point.bearing + 180) % 360 - 180)))) for door, way in door_ways(plan)]


def _plan(plan: Plan, kit: Kit, room: Room, placed: Layout) -> tuple[list[Mark], Scale, Rect, View]:
    """The plan in a room, its scale, the rectangle that is to scale, and where points of it lie."""
    points = [*placed.base, *(each.stake for each in placed.anchors), *placed.trench]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    extent = (min(xs), min(ys), max(xs), max(ys))
    below, above = room.cut_bottom(_LEGEND, gap=1.0)
    beside, middle = above.cut_left(_SIDE, gap=2.0)
    bearings = _bearings(kit, beside, placed)
    scale, view = _largest(kit, points, extent, above.inset(_EDGE), middle.inset(_EDGE), bounds(bearings, kit.lettering))
    marks: list[Mark] = []
    cuts = cut(plan.assembly.leaves, horizontal(_HEIGHT * stance(plan.assembly).height * 1000))
    if placed.sheet:
        marks.append(Path(view.points(placed.sheet), HIDDEN))
    for mark, polygon in cuts.items():
        ring = view.points(tuple(placed.turned(point) for point in polygon))
        marks += [Path(ring, None, 0.5 if plan.assembly.by_mark[mark].door else 0.85), *hatch(ring, 1.4),
                  Path(ring, VISIBLE)]
    if placed.trench:
        marks.append(Path(view.points(placed.trench), CENTRE, closed=False))
    marks += _anchors(kit, view, placed)
    for drip in placed.drips:
        marks += _drop(view.point(drip))
    marks += bearings
    marks += _legend(kit, below, placed)
    corners = (view.point((extent[0], extent[1])), view.point((extent[2], extent[3])))
    return marks, scale, (*corners[0], *corners[1]), view


def _largest(kit: Kit, points: Sequence[Point], extent: Rect, whole: Room, middle: Room, kept: Rect) -> tuple[Scale, View]:
    """The plan in the whole room where that allows a larger scale and nothing of it comes near the words in their corner,
    else beside them."""
    from shapely import MultiPoint, box

    size = (extent[2] - extent[0], extent[3] - extent[1])
    scale = pick_scale(kit.system, size, whole.size)
    near = box(*Room(*kept).inset(-_EDGE).rect)
    for place in (whole, Room(whole.right - size[0] / scale.ratio, whole.bottom, whole.right, whole.top)):
        view = View.centred(scale, extent, place.rect)
        if not MultiPoint(view.points(points)).convex_hull.intersects(near):
            return scale, view
    scale = pick_scale(kit.system, size, middle.size)
    return scale, View.centred(scale, extent, middle.rect)


def _door_marks(plan: Plan, kit: Kit, view: View, placed: Layout) -> list[Mark]:
    """Marks of the doors, inside of them or outside, wherever they touch nothing; none where there is no such place."""
    taken = _taken(plan, view, placed)
    found: list[Mark] = []
    for door, way in door_ways(plan):
        xs, ys = zip(*(door.open_pose.place(point)[:2] for point in door.hinged), strict=True)
        x, y = view.point(placed.turned((sum(xs) / len(xs), sum(ys) / len(ys))))
        angle, half = math.radians(way + placed.turn), kit.lettering.width(door.mark, BODY_BOLD) / 2
        for off in _OUT:
            at = (x + off * math.cos(angle), y + off * math.sin(angle) - BODY.height / 2)
            box = (at[0] - half, at[1], at[0] + half, at[1] + BODY.height)
            if taken.free(box):
                taken.add(box)
                found.append(Text(at, door.mark, BODY_BOLD, "centre"))
                break
    return found


def _taken(plan: Plan, view: View, placed: Layout) -> Taken:
    """What stands on the plan already."""
    spots = [(view.point(each.stake), _STAKE) for each in placed.anchors] + [(view.point(drip), _DROP) for drip in placed.drips]
    thick = view.length(plan.assembly.thickness)
    outer = placed.drips or placed.base
    lines = [*((view.point(each.foot), view.point(each.stake)) for each in placed.anchors),
             *pairwise(view.points(placed.trench))]
    for ring in (placed.sheet, placed.base, outer):
        points = view.points(ring)
        lines += zip(points, (*points[1:], *points[:1]), strict=True)
    return Taken([(x - r - thick, y - r - thick, x + r + thick, y + r + thick) for (x, y), r in spots], lines)


def _anchors(kit: Kit, view: View, placed: Layout) -> list[Mark]:
    """Guys, stakes with their numbers."""
    marks: list[Mark] = []
    for each in placed.anchors:
        foot, stake = view.point(each.foot), view.point(each.stake)
        marks.append(Line(foot, stake, NARROW))
        marks += circled(stake, str(each.number), kit.lettering, _STAKE, BODY_BOLD)
    return marks


def _drop(at: Point) -> list[Mark]:
    """Where rain comes down."""
    return [Circle(at, _DROP, VISIBLE, 1.0), Circle(at, 0.5, None, 0.0)]


def _bearings(kit: Kit, room: Room, placed: Layout) -> list[Mark]:
    """North, where it is known, and the way of the usual wind."""
    words, x = kit.words, room.left + room.width / 2
    marks: list[Mark] = []
    top = room.top - 1.0
    if placed.north:
        marks.append(Text((x, top - NUMBER.height), words.text("site.compass.n"), NUMBER, "centre"))
        marks += arrow((x, top - NUMBER.height - 22.0), (x, top - NUMBER.height - 2.5), VISIBLE, 5.0)
        top -= NUMBER.height + 30.0
    if placed.wind is not None:
        way, middle = placed.wind, (x, top - 9.0)
        marks += arrow((middle[0] - 9.0 * way[0], middle[1] - 9.0 * way[1]),
                       (middle[0] + 9.0 * way[0], middle[1] + 9.0 * way[1]), VISIBLE, 5.0)
        said = paragraph((room.left, top - 20.0), room.width, f"**{words.text('site.on_plan.wind')}**", BODY, kit.lettering,
                         align="centre")
        marks += said.marks
    return marks


def _legend(kit: Kit, room: Room, placed: Layout) -> list[Mark]:
    """What the lines and drops on the plan mean."""
    marks: list[Mark] = []
    x, y = room.left, room.bottom + 1.5
    shown: list[tuple[str, bool]] = [("sheet", bool(placed.sheet)), ("trench", bool(placed.trench)),
                                     ("drip", bool(placed.drips))]
    for key, there in shown:
        if not there:
            continue
        if key == "drip":
            marks += _drop((x + 2.0, y + BODY.height / 2))
            x += 6.0
        else:
            marks.append(Line((x, y + BODY.height / 2), (x + 12.0, y + BODY.height / 2), HIDDEN if key == "sheet" else CENTRE))
            x += 14.0
        said = kit.words.text(f"site.on_plan.{key}")
        marks.append(Text((x, y), said, BODY))
        x += kit.lettering.width(said, BODY) + 6.0
    return marks


def _loads_pages(plan: Plan, kit: Kit) -> list[Sheet]:
    """A small plan with the anchors' numbers, and what each of them must hold."""
    right, left = kit.room.cut_right(0.58 * kit.room.width, gap=5.0)
    # Anchors and wind alone: what else the ground needs stands on the page before.
    placed, words, form = replace(layout(plan), sheet=(), trench=(), drips=()), kit.words, kit.form
    marks, scale, rect, _ = _plan(plan, kit, left, placed)
    loaded = anchor_loads(plan)
    figures = NUMBER if len(loaded) <= _FEW else BODY_BOLD  # so that all of twelve corners are seen at once
    number, at, *forces, way = spread(right.width, 13, 29, 30, 31, 33, 22)
    columns = [Column(number, "centre"), Column(at), *(Column(each, "right", figures) for each in forces),
               Column(way, "centre")]
    header = words.texts("site.loads.header")

    def row(load: AnchorLoad) -> list[Cell]:
        angle = math.radians(load.direction + placed.turn)
        way = (3.0 * math.cos(angle), 3.0 * math.sin(angle))
        return [circled((0.0, 0.0), str(load.number), kit.lettering, 3.0, FINE_BOLD), " ".join(load.leaves),
                form.force(load.hold_down), form.force(load.shear), f"**{form.force(load.pull)}**",
                arrow((-way[0], -way[1]), way, VISIBLE, 4.0)]

    rows = [row(load) for load in loaded]
    said = bullets((0.0, 0.0), right.width, words.texts(
        "site.loads.lines", doors=bool(plan.assembly.doors), speed=form.speed(plan.description.wind.speed),
        wind=sheet_number("wind", 2), load=kit.form.plain(plan.description.wind.load_factor),
        weight=kit.form.plain(plan.description.wind.weight_factor)), BODY, kit.lettering, 1.0)
    free = right.height - said.height - 4.0
    high = next((high for high in _ROWS if fit(columns, rows, header, free, kit.lettering, high) == len(rows)), _ROWS[-1])
    pages: list[Sheet] = []
    while rows:
        count = fit(columns, rows, header, free, kit.lettering, high)
        if not count:
            raise LayoutError(f"the loads of the anchors do not fit {kit.paper.name}; use larger paper")
        block = table((0.0, 0.0), columns, rows[:count], header, kit.lettering, high)
        rows = rows[count:]
        made = sheet(kit, "site", "site.loads", Station.X.word, (*marks, *column(right, (block, said))), len(pages) + 2)
        pages.append(replace(made, scale_label=scale.label, viewports=(Viewport(rect, scale.ratio, "site"),)))
    return pages


def _guy_page(plan: Plan, kit: Kit, page: int) -> Sheet:
    """A spreader on both faces, seen from its edge and from outside; what to do beside it."""
    right, left = kit.room.cut_right(0.5 * kit.room.width, gap=7.0)
    edge, front = left.columns(0.52, 0.48, gap=4.0)
    marks: list[Mark] = [*_from_the_edge(kit, edge), *_from_outside(kit, front)]
    told = steps((0.0, 0.0), right.width, kit.words.texts(
        "site.guy.steps", pull=kit.form.force(loads(plan).worst.pull), inside=plan.ring is not None), kit.lettering,
        gap=1.5)
    never = bullets((0.0, 0.0), right.width, kit.words.texts("site.guy.never"), BODY, kit.lettering, 0.8)
    marks += column(right, (told, never), 3.0)
    return sheet(kit, "site", "site.guy", Station.X.word, marks, page)


def _from_the_edge(kit: Kit, room: Room) -> list[Mark]:
    """The section: board, battens on both faces, toggle inside, line out to the stake. Not to scale."""
    words = kit.words
    foot = room.bottom + 16.0
    top = room.top - 10.0
    x = room.left + 0.30 * room.width
    thick, high = 9.0, top - foot
    at = foot + 0.62 * high
    board = ((x, foot), (x + thick, foot), (x + thick, top), (x, top))
    marks: list[Mark] = [Path(board, None, 1.0), *hatch(board, 2.2), Path(board, VISIBLE)]
    half = 15.0
    for left in (x - 3.5, x + thick):
        marks.append(rectangle((left, at - half, left + 3.5, at + half), VISIBLE, 0.55))
    # The toggle lies across the inner batten; the line runs through all and down to the stake.
    marks.append(Circle((x - 6.5, at), 2.6, VISIBLE, 1.0))
    stake = (room.right - 3.0, foot)
    out = (x + thick + 3.5, at)
    marks += [Line((x - 3.9, at), out, VISIBLE), Line(out, stake, VISIBLE),
              Line((stake[0] - 2.0, foot + 5.0), (stake[0] + 1.0, foot - 9.0), VISIBLE),
              Line((room.left, foot), (room.right, foot), VISIBLE)]
    marks += [Text((room.left, room.top - 4.0), words.text("site.guy.edge"), BODY_BOLD),
              Text((room.left, at + half + 3.0), words.text("site.guy.inner"), FINE_BOLD),
              Text((x + thick + 2.5, at + half + 3.0), words.text("site.guy.outer"), FINE_BOLD),
              Text((room.right, room.bottom + 1.0), words.text("site.guy.stake"), FINE_BOLD, "right"),
              Text((room.left, at - half - 6.0), words.text("site.guy.toggle"), FINE_BOLD)]
    return marks


def _from_outside(kit: Kit, room: Room) -> list[Mark]:
    """The outer batten on its patch of tape, seen from outside. Not to scale."""
    words = kit.words
    centre = room.centre
    wide, tall = min(26.0, room.width / 2 - 3.0), 30.0
    patch = (centre[0] - wide, centre[1] - tall, centre[0] + wide, centre[1] + tall)
    marks: list[Mark] = [rectangle(patch, FOLD), rectangle(
        (centre[0] - 5.0, centre[1] - 19.0, centre[0] + 5.0, centre[1] + 19.0), VISIBLE, 0.55),
        Circle(centre, 1.8, VISIBLE, 1.0),
        Text((room.left, room.top - 4.0), words.text("site.guy.front"), BODY_BOLD),
        Text((centre[0], patch[3] + 2.5), words.text("site.guy.patch"), FINE_BOLD, "centre"),
        Text((centre[0], patch[1] - 5.5), words.text("site.guy.batten"), FINE_BOLD, "centre")]
    return marks
