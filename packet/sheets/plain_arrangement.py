"""General arrangement of leaves without a roof: plan, pictorial views, elevation, key figures."""

from __future__ import annotations

import math
from itertools import product

from packet.assembly.opening_states import standing_plates
from packet.assembly.records import Leaf, overall
from packet.assembly.seam_classes import seam_classes
from packet.assembly.views import beyond, cut, horizontal
from packet.drawing.dimension import linear
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, NUMBER
from packet.drawing.marks import Drawing, Mark, Path, Rect, Text, Viewport
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import Camera, picture
from packet.drawing.table import Column, table
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plates import ABOVE, BEFORE, BEHIND, FRONT, faces, in_room, lettered, shown_open
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 7.6
_FIGURES_WIDTH = 94.0
_BELOW = 18.0  # mm from a view down to its caption, past the dimension between
_DIMENSIONS = 16.0  # mm beside a view for a dimension
_CAPTION = 9.0  # mm under a view for its caption
_LEVEL = 1e-6  # level part of a unit normal below which a leaf lies flat
_MARKS = 9.0  # mm round the plan for leaf marks


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two pages: the plan with the key figures, and the elevation with a view from behind."""
    return _plan_page(plan, kit), _standing_page(plan, kit)


def _plan_page(plan: Plan, kit: Kit) -> Sheet:
    right, left = kit.room.cut_right(_FIGURES_WIDTH, gap=5)
    rows = _figures(plan, kit)
    columns = [Column(right.width * 0.47, style=BODY), Column(right.width * 0.53, "right", BODY_BOLD)]
    figures = table(right.top_left, columns, rows, None, kit.lettering, _ROW)
    below, above = right.cut_bottom(figures.height, gap=4)
    marks, scale, viewport = _plan_view(plan, kit, left)
    marks = (*marks, *in_room(shown_open(plan, BEFORE), kit.lettering, above.inset(1.0)),
             *figures.moved(below.top_left).marks)
    return _sheet(kit, 1, "plan_page", marks, scale, viewport)


def _standing_page(plan: Plan, kit: Kit) -> Sheet:
    left, right = kit.room.columns(7, 5, gap=8)
    marks, scale, viewport = _elevation(plan, kit, left)
    foot, behind = right.cut_bottom(_CAPTION)
    marks = (*marks, *in_room(shown_open(plan, BEHIND), kit.lettering, behind.inset(1.0)),
             *_caption(foot, kit.words.text("arrangement.plain.behind")))
    return _sheet(kit, 2, "standing_page", marks, scale, viewport)


def _plan_view(plan: Plan, kit: Kit, room: Room) -> tuple[Drawing, Scale, Viewport]:
    """Cut at mid height: standing leaves cut, what lies below them seen from above."""
    foot, above = room.cut_bottom(_CAPTION)
    width, depth, height = overall(plan.assembly)
    plane = horizontal(height / 2)
    cuts = cut(plan.assembly.leaves, plane)
    rect = _reach(plan, ABOVE)
    space = above.inset(_DIMENSIONS + _MARKS, _DIMENSIONS + _MARKS, _MARKS, _MARKS)
    scale = pick_scale(kit.system, (width, depth), space.size)
    view = View.centred(scale, rect, space.rect)
    below = beyond(plan.assembly.leaves, plane) if cuts else plan.assembly.leaves
    marks: list[Mark] = []
    if below:
        marks += picture(faces(standing_plates(below)), ABOVE).drawing(view, fills=False, wide=NARROW)
    rings = {mark: view.points(polygon) for mark, polygon in cuts.items()}
    for ring in rings.values():
        marks += [Path(ring, None, 0.85), *hatch(ring, 1.6), Path(ring, VISIBLE)]
    marks += _beside(plan, kit, view, rings)
    if below:
        marks += _on_lying(kit, view, below, marks)
    marks += _dimensions(kit, plan, view, rect, (width, depth), _MARKS)
    key = "plan" if cuts else "above"
    marks += _under(foot, view, rect, _MARKS, kit.words.text(f"arrangement.plain.{key}", scale=scale.title))
    return tuple(marks), scale, Viewport((*view.point(rect[:2]), *view.point(rect[2:])), scale.ratio, "plan")


def _elevation(plan: Plan, kit: Kit, room: Room) -> tuple[Drawing, Scale, Viewport]:
    foot, above = room.cut_bottom(_CAPTION)
    width, _, height = overall(plan.assembly)
    rect = _reach(plan, FRONT)
    space = above.inset(_DIMENSIONS, _DIMENSIONS, 2.0, 2.0)
    scale = pick_scale(kit.system, (width, height), space.size)
    view = View.centred(scale, rect, space.rect)
    shown = shown_open(plan, FRONT)
    marks = (*shown.drawing(view), *lettered(shown, view, kit.lettering),
             *_dimensions(kit, plan, view, rect, (width, height), 0.0),
             *_under(foot, view, rect, 0.0, kit.words.text("arrangement.plain.front", scale=scale.title)))
    return marks, scale, Viewport((*view.point(rect[:2]), *view.point(rect[2:])), scale.ratio, "elevation")


def _dimensions(kit: Kit, plan: Plan, view: View, rect: Rect, sizes: tuple[float, float], off: float) -> Drawing:
    """Size over all below and on the left of a view."""
    left, bottom, right, top = rect
    form = kit.form
    return (*linear(view.point((left, bottom)), view.point((right, bottom)), -8 - off, form.length_unit(sizes[0]),
                    kit.lettering),
            *linear(view.point((left, bottom)), view.point((left, top)), 8 + off, form.length_unit(sizes[1]),
                    kit.lettering))


def _beside(plan: Plan, kit: Kit, view: View, rings: dict[str, tuple[tuple[float, float], ...]]) -> Drawing:
    """The mark of every cut leaf beside it, on the side of its marked face where there is room."""
    import shapely

    reach = _reach(plan, ABOVE)
    (x0, y0), (x1, y2) = view.point(reach[:2]), view.point(reach[2:])
    out = _DIMENSIONS + _MARKS
    # Where the extension lines of the dimensions run.
    taken = [shapely.LineString(ends) for ends in (((x0, y0), (x0, y0 - out)), ((x1, y0), (x1, y0 - out)),
                                                   ((x0, y0), (x0 - out, y0)), ((x0, y2), (x0 - out, y2)))]
    taken += [shapely.Polygon(ring) for ring in rings.values()]
    marks: list[Mark] = []
    for mark, ring in rings.items():
        leaf = plan.assembly.by_mark[mark]
        x, y = sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring)
        level = math.hypot(leaf.open_pose.z[0], leaf.open_pose.z[1])
        away = (leaf.open_pose.z[0] / level, leaf.open_pose.z[1] / level) if level > _LEVEL else (0.0, 1.0)
        thick = max((p[0] - x) * away[0] + (p[1] - y) * away[1] for p in ring)
        for style, along, side in product((NUMBER, BODY_BOLD, FINE_BOLD), (0.0, 0.2, -0.2, 0.35, -0.35), (1.0, -1.0)):
            half = kit.lettering.width(mark, style) / 2
            off = (thick + 1.5 + abs(away[0]) * half + abs(away[1]) * style.height / 2) * side
            run = along * view.length(_breadth(leaf))
            at = (x + away[0] * off - away[1] * run, y + away[1] * off + away[0] * run - style.height / 2)
            text = Text(at, mark, style, "centre")
            box = shapely.Polygon(kit.lettering.box(text)).buffer(0.8)
            if not any(box.intersects(other) for other in taken):
                marks.append(text)
                taken.append(box)
                break
    return tuple(marks)


def _on_lying(kit: Kit, view: View, below: tuple[Leaf, ...], drawn: list[Mark]) -> Drawing:
    """Marks of leaves that lie below the cut, unless another mark stands there."""
    import shapely

    taken = [shapely.Polygon(kit.lettering.box(mark)).buffer(0.8) for mark in drawn if isinstance(mark, Text)]
    texts = lettered(picture(faces(standing_plates(below)), ABOVE), view, kit.lettering)
    return tuple(text for text in texts if isinstance(text, Text)
                 and not any(shapely.Polygon(kit.lettering.box(text)).intersects(box) for box in taken))


def _breadth(leaf: Leaf) -> float:
    xs = [x for x, _ in leaf.outline]
    return max(xs) - min(xs)


def _reach(plan: Plan, camera: Camera) -> Rect:
    points = [camera.project(leaf.open_pose.place(p, depth)) for leaf in plan.assembly.leaves
              for p in leaf.outline for depth in (0.0, leaf.thickness)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _under(foot: Room, view: View, rect: Rect, off: float, text: str) -> Drawing:
    """The caption of a view below the dimension under it, in the foot of its room at the lowest."""
    x, y = view.point(((rect[0] + rect[2]) / 2, rect[1]))
    return (Text((x, max(foot.bottom + 1.5, y - _BELOW - off)), text, BODY_BOLD, "centre"),)


def _caption(room: Room, text: str) -> Drawing:
    return (Text((room.centre[0], room.bottom + 1.5), text, BODY_BOLD, "centre"),)


def _figures(plan: Plan, kit: Kit) -> list[tuple[str, str]]:
    """Name and value of the figures a lead asks for, all from the graph."""
    form, words, assembly = kit.form, kit.words, plan.assembly
    width, depth, height = overall(assembly)
    pack = plan.pack
    rows = [("width", form.length_unit(width)), ("depth", form.length_unit(depth)),
            ("height", form.length_unit(height)), ("leaves", str(len(assembly.leaves))),
            ("board", form.length_unit(assembly.thickness)), ("pack", form.size(pack.width, pack.length)),
            ("pack_thick", form.length_unit(pack.thickness + plan.bulk.most))]
    found = [(words.text(f"arrangement.plain.figures.{name}"), value) for name, value in rows]
    for group in seam_classes(assembly):
        key = "hinge" if group.bonded else "touching"
        value = "turned" if not math.isclose(group.angle_open, 180.0) else "straight"
        found.append((words.text(f"arrangement.plain.figures.{key}", face=group.closing_face,
                                 count=len(group.seams)),
                      words.text(f"arrangement.plain.{value}", angle=group.angle_open, gap=group.gap)))
    return found


def _sheet(kit: Kit, page: int, key: str, marks: Drawing, scale: Scale, viewport: Viewport) -> Sheet:
    return Sheet(
        number=sheet_number("arrangement", page), title=kit.words.text(f"arrangement.plain.{key}.title"),
        station=Station.L.word, kind=kit.words.text("arrangement.kind"), marks=marks,
        subtitle=kit.words.text(f"arrangement.plain.{key}.subtitle"), scale_label=scale.label,
        viewports=(viewport,))
