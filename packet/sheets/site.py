"""Site plan: anchors, ground sheet, drip points and trench to scale; then how a guy holds on to foam board."""

from __future__ import annotations

from packet.assembly.records import Point
from packet.assembly.views import cut, horizontal
from packet.drawing.flow import bullets, steps
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD
from packet.drawing.marks import Circle, Line, Mark, Path, Text, Viewport, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import CENTRE, FOLD, HIDDEN, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import arrow, circled
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.site_blocks import column, rests_on, sheet
from packet.sheets.wind import wanted
from packet.site.layout import Layout, layout
from packet.site.stance import stance
from packet.site.wind import loads
from packet.work.stations import Station

_EDGE = 9.0
"""mm of paper round the plan for numbers and words."""

_HEIGHT = 0.3
"""Share of the height at which the plan is cut."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The plan and the detail, where wind on it can hurt."""
    if not wanted(plan):
        return ()
    return _plan_page(plan, kit), _guy_page(plan, kit)


def _plan_page(plan: Plan, kit: Kit) -> Sheet:
    right, left = kit.room.cut_right(0.42 * kit.room.width, gap=6.0)
    marks, scale, view = _plan(plan, kit, left)
    own, form = plan.description.site, kit.form
    held = loads(plan)
    done = steps((0.0, 0.0), right.width, kit.words.texts(
        "site.steps", inside=plan.ring is not None, doors=[leaf.mark for leaf in plan.assembly.doors],
        count=len(stance(plan.assembly).base), out=own.stake_out, sheet=own.ground_sheet, trench=own.trench,
        pull=form.force(held.worst.pull), ballast=held.ballast), kit.lettering, gap=1.4)
    keys = ("site.stake_out", *(("site.ground_sheet", "site.trench") if plan.ring is not None else ()))
    words = column(right, (done, rests_on(plan, kit, right.width, *keys)), 3.0)
    made = sheet(kit, "site", "site.plan", Station.X.word, (*marks, *words))
    return Sheet(number=made.number, title=made.title, station=made.station, kind=made.kind, marks=made.marks,
                 subtitle=made.subtitle, scale_label=scale.label, viewports=(Viewport(view, scale.ratio, "site"),))


def _plan(plan: Plan, kit: Kit, room: Room) -> tuple[list[Mark], Scale, tuple[float, float, float, float]]:
    placed = layout(plan)
    points = [*placed.base, *(each.stake for each in placed.anchors), *placed.trench]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    extent = (min(xs), min(ys), max(xs), max(ys))
    space = room.inset(_EDGE)
    scale = pick_scale(kit.system, (extent[2] - extent[0], extent[3] - extent[1]), (space.width, space.height))
    view = View.centred(scale, extent, space.rect)
    marks: list[Mark] = []
    cuts = cut(plan.assembly.leaves, horizontal(_HEIGHT * stance(plan.assembly).height * 1000))
    if placed.sheet:
        marks.append(Path(view.points(placed.sheet), HIDDEN))
    for mark, polygon in cuts.items():
        ring = view.points(polygon)
        marks += [Path(ring, None, 0.5 if plan.assembly.by_mark[mark].door else 0.85), *hatch(ring, 1.4),
                  Path(ring, VISIBLE)]
    if placed.trench:
        marks.append(Path(view.points(placed.trench), CENTRE, closed=False))
    marks += _anchors(kit, view, placed)
    marks += _words(plan, kit, view, placed, room)
    corners = (view.point((extent[0], extent[1])), view.point((extent[2], extent[3])))
    return marks, scale, (*corners[0], *corners[1])


def _anchors(kit: Kit, view: View, placed: Layout) -> list[Mark]:
    """Guys, stakes with their numbers."""
    marks: list[Mark] = []
    for each in placed.anchors:
        foot, stake = view.point(each.foot), view.point(each.stake)
        marks.append(Line(foot, stake, NARROW))
        marks += circled(stake, str(each.number), kit.lettering, 3.6, BODY_BOLD)
    return marks


def _words(plan: Plan, kit: Kit, view: View, placed: Layout, room: Room) -> list[Mark]:
    """Names on the plan: the trench above, the wind and the ground sheet's line below."""
    words = kit.words
    marks: list[Mark] = []
    middle = view.point(_mean(placed.base))
    if placed.trench:
        top = max(view.point(p)[1] for p in placed.trench)
        marks.append(Text((middle[0], top + 2.0), words.text("site.on_plan.trench"), BODY_BOLD, "centre"))
    wind = words.text("site.on_plan.wind")
    marks += arrow((room.left + 1.0, room.bottom + 3.0), (room.left + 21.0, room.bottom + 3.0), VISIBLE, 5.0)
    marks.append(Text((room.left + 24.0, room.bottom + 1.3), wind, BODY_BOLD))
    if placed.sheet:
        beside = room.left + 30.0 + kit.lettering.width(wind, BODY_BOLD)
        marks.append(Text((beside, room.bottom + 1.3), words.text("site.on_plan.sheet"), BODY))
    return marks


def _mean(points: tuple[Point, ...]) -> Point:
    return (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))


def _guy_page(plan: Plan, kit: Kit) -> Sheet:
    """A spreader on both faces, seen from its edge and from outside; what to do beside it."""
    right, left = kit.room.cut_right(0.5 * kit.room.width, gap=7.0)
    edge, front = left.columns(0.52, 0.48, gap=4.0)
    marks: list[Mark] = [*_from_the_edge(kit, edge), *_from_outside(kit, front)]
    told = steps((0.0, 0.0), right.width, kit.words.texts(
        "site.guy.steps", pull=kit.form.force(loads(plan).worst.pull), inside=plan.ring is not None), kit.lettering,
        gap=1.5)
    never = bullets((0.0, 0.0), right.width, kit.words.texts("site.guy.never"), BODY, kit.lettering, 0.8)
    marks += column(right, (told, never), 3.0)
    return sheet(kit, "site", "site.guy", Station.X.word, marks, 2)


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
