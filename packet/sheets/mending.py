"""Answers to spoiled parts: one sheet for each decision, with the marking of a blank where a leaf is cut new."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from packet.assembly.mended import edge_moved
from packet.assembly.records import Leaf, LeafKind
from packet.assembly.splicing import datum_edge
from packet.boards.alike import Alike
from packet.boards.marks import tip_trims
from packet.boards.mended import Recut
from packet.description.decided import Decision, Remedy, part_mark
from packet.drawing.dimension import linear
from packet.drawing.flow import steps
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, HEAD, LARGE, NUMBER, TITLE
from packet.drawing.marks import Circle, Drawing, Line, Path, Text, rectangle
from packet.drawing.page import SUBJECT_LENGTH, Sheet
from packet.drawing.pens import CUT, HEAVY, LEADER
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import signature_box
from packet.drawing.view import View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.marking_page import compose
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_AROUND = 16.0
"""mm of paper round the picture for its dimensions."""

_SIGN = 16.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A sheet for each decision that the ledger holds, in their order."""
    recuts = {recut.decision: recut for recut in plan.mended.recuts}
    return tuple(_anew(plan, kit, one, recuts[one.number]) if one.number in recuts else _card(plan, kit, one)
                 for one in plan.description.decided)


def page_of(number: int) -> str:
    """The number of the sheet of a decision."""
    return sheet_number("mending", number)


def _sheet(kit: Kit, one: Decision, title: str, does: str, marks: Drawing, **values: Any) -> Sheet:
    told = kit.words.text("mending.subtitle", told=one.told, does=does)
    subject = " ".join(dict.fromkeys((one.mark, *([one.place] if one.slot else []), *one.trimmed)))
    return Sheet(number=page_of(one.number), title=title, station=Station.C.word, kind=kit.words.text("mending.kind"),
                 marks=marks, subtitle=told, subject=subject if len(subject) <= SUBJECT_LENGTH else one.mark, **values)


def _anew(plan: Plan, kit: Kit, one: Decision, recut: Recut) -> Sheet:
    """The blank as a board of its own: its lines in order, what is left over, what is held."""
    words, limits, blank = kit.words, plan.description.limits, recut.blank
    where = words.text("mending.held" if one.remedy is Remedy.BLANK else "mending.whole", blank=blank.mark, board=blank.board)
    leaf = plan.parts.by_mark[one.leaf]
    spares = (replace(leaf, mark=recut.spare),) if recut.spare else ()
    # The board's own view knows its leaves and blanks by the plan: one in which this blank is all there is.
    alone = replace(plan, boards=(recut.board,),
                    assembly=replace(plan.assembly, leaves=(*plan.assembly.leaves, *spares)))
    lines = ((words.text("mending.lines.fetch"), words.text("mending.lines.fetch_do", where=where,
                                                              along=recut.board.stock.length)),
             (words.text("mending.lines.snap"), words.text("mending.lines.snap_do", limit=limits.mark)),
             (words.text("mending.lines.cut"), words.text("mending.lines.cut_do", spare=recut.spare)),
             (words.text("mending.lines.aside"), words.text("mending.lines.aside_do", mark=one.mark, keeps=one.keeps)))
    page = compose(alone, kit, Alike(one.number, (recut.board,)), lines, (), tip_trims(alone.parts, recut.board))
    does = words.text(f"mending.short.{one.remedy}", where=where)
    return _sheet(kit, one, words.text("mending.blank_title", number=one.number, mark=one.mark), does, page.marks,
                  scale_label=page.scale.label, viewports=page.viewports)


def _card(plan: Plan, kit: Kit, one: Decision) -> Sheet:
    """What to do, step by step, beside a picture of the leaf."""
    words = kit.words
    leaf = plan.parts.by_mark[one.slot or one.leaf]
    values = _values(plan, kit, one, leaf)
    key = "use_gap" if one.remedy is Remedy.USE and one.gap else str(one.remedy)
    does = words.text(f"mending.short.{key}", slot=one.place, source=one.source, edge=one.edge)
    left, right = kit.room.columns(1.15, 1.0, gap=8.0)
    sign, body = left.cut_bottom(_SIGN, 4.0)
    told = words.texts(f"mending.{one.remedy}", **values)
    for style in (LARGE, BODY):
        block = steps(body.top_left, body.width, told, kit.lettering, style, tick=True, gap=3.0)
        if block.bottom >= body.bottom:
            break
    else:
        raise LayoutError(f"sheet {page_of(one.number)}: the steps do not fit {kit.paper.name}; use larger paper")
    picture, label = _picture(plan, kit, one, leaf, right)
    box = signature_box((sign.left, sign.bottom), min(sign.width, 110.0), words.text("mending.lead"), kit.lettering, _SIGN)
    return _sheet(kit, one, words.text("mending.title", number=one.number, mark=one.mark), does,
                  (*block.marks, *box, *picture), scale_label=label)


def _values(plan: Plan, kit: Kit, one: Decision, leaf: Leaf) -> dict[str, Any]:
    ys = [y for _, y in leaf.outline]
    return {
        "mark": one.mark, "slot": one.place, "source": one.source, "edge": one.edge, "amount": one.amount, "gap": one.gap,
        "trimmed": one.trimmed, "keeps": one.keeps, "datum": datum_edge(leaf),
        "door": leaf.door, "roof": leaf.kind is LeafKind.ROOF, "height": max(ys) - min(ys),
        "hours": kit.form.plain(plan.description.repair.glue_hold),
        "length": math.dist(*leaf.edge(one.edge)) if one.edge in leaf.edges else 0.0}


def _picture(plan: Plan, kit: Kit, one: Decision, leaf: Leaf, room: Room) -> tuple[Drawing, str]:
    """The leaf on its printed face with its sizes; what is glued on or comes off is hatched."""
    from shapely import Polygon

    outline = leaf.outline
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    extent = (min(xs), min(ys), max(xs), max(ys))
    clear = room.inset(_AROUND)
    scale = pick_scale(kit.system, (extent[2] - extent[0], extent[3] - extent[1]), clear.size)
    view = View.centred(scale, extent, clear.rect)
    marks: list[Any] = []
    width = one.amount or one.gap
    edge = one.edge if one.edge in leaf.edges else "hip" if one.edge == "corner" and "hip" in leaf.edges else ""
    if width and edge:
        index = leaf.edges.index(edge)
        # A gap or a trim lies outside what the leaf is now; a packer inside.
        other = edge_moved(outline, index, width if one.remedy is Remedy.PACKER else -width)
        a, b = outline[index], outline[(index + 1) % len(outline)]
        c, d = other[(index + 1) % len(outline)], other[index]
        strip = view.points((a, b, c, d))
        marks += [*hatch(strip, 1.2), Path(strip, CUT)]
        # Named near its lower end, or in the middle of a level strip.
        low = sorted(((a, d), (b, c)), key=lambda end: end[0][1] + end[1][1])
        share = 0.5 if abs(a[1] - b[1]) < 1.0 else 0.16
        spot = [sum(p[i] for p in low[0]) / 2 * (1 - share) + sum(p[i] for p in low[1]) / 2 * share for i in (0, 1)]
        middle = view.point((spot[0], spot[1]))
        name = "gap" if one.gap else "strip" if one.remedy is Remedy.PACKER else "trim"
        marks += _named(kit, middle, view.points(outline), kit.words.text(f"mending.picture.{name}", amount=width, gap=width),
                        room, edge, leaf.hand.sign)
    points = view.points(outline)
    marks.append(Path(points, HEAVY))
    left, bottom, right, top = (*view.point(extent[:2]), *view.point(extent[2:]))
    marks += linear((right, bottom), (left, bottom), 7.0, kit.form.length(extent[2] - extent[0]), kit.lettering)
    far = leaf.hand.sign > 0
    side = left if far else right
    marks += linear((side, bottom), (side, top), 7.0 if far else -7.0, kit.form.length(extent[3] - extent[1]), kit.lettering)
    middle_of = Polygon(points).centroid
    roof = leaf.kind is LeafKind.ROOF
    centre = (float(middle_of.x), float(middle_of.y) + (-3.0 if roof else 2.0))
    inside = Polygon(points).buffer(-1.0)
    written = [Text((centre[0], centre[1] + 2.0), part_mark(leaf.mark, one.copy), style, "centre")
               for style in (*(() if roof else (TITLE,)), HEAD, NUMBER, BODY_BOLD)]
    marks.append(next((text for text in written if inside.contains(Polygon(kit.lettering.box(text)))), written[-1]))
    hand = kit.words.name(leaf.hand) if "mid" in leaf.edges else ""
    if hand:
        told = [Text((centre[0], centre[1] - 5.0), hand, style, "centre") for style in (BODY, FINE)]
        marks += [text for text in told if inside.contains(Polygon(kit.lettering.box(text)))][:1]
    return tuple(marks), scale.label


def _named(kit: Kit, at: tuple[float, float], outline: tuple[tuple[float, float], ...], text: str, room: Room,
           edge: str, sign: int) -> Drawing:
    """The strip's name inside the leaf, below its mark, with a line to the strip; of a narrow leaf beside it, away from
    the figure of its height, which stands at its mid edge (`sign` of its hand)."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    tall, high = max(ys) - min(ys), at[1] > (min(ys) + max(ys)) / 2
    middle = ((min(xs) + max(xs)) / 2, min(ys) + (0.8 if high else 0.16) * tall)
    width = kit.lettering.width(text, BODY_BOLD)
    x = min(max(middle[0] - width / 2, room.left + 1.0), room.right - width - 1.0)
    if width + 4.0 > max(xs) - min(xs):
        x = max(xs) + 4.0 if sign > 0 else min(xs) - 4.0 - width
    elif "hip" in edge:
        # A roof leaf is widest at its mid edge.
        x = min(xs) + 3.0 if at[0] > middle[0] else max(xs) - 3.0 - width
    base = (x, middle[1] - BODY_BOLD.height / 2)
    end = x + width + 1.0 if at[0] > x + width else x - 1.0 if at[0] < x else x + width / 2
    height = middle[1] if at[0] > x + width or at[0] < x else middle[1] + BODY_BOLD.height * (1 if at[1] > middle[1] else -1)
    return (rectangle((x - 0.5, base[1] - 0.8, x + width + 0.5, base[1] + BODY_BOLD.height + 0.8), None, 1.0),
            Line((end, height), at, LEADER), Circle(at, 0.7, None, 0.0), Text(base, text, BODY_BOLD))
