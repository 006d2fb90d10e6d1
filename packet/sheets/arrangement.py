"""General arrangement: plan, pictorial view and key figures; then section and front elevation."""

from __future__ import annotations

from packet.assembly.records import LeafKind
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Drawing, Text
from packet.drawing.page import Sheet
from packet.drawing.room import Room
from packet.drawing.table import Column, table
from packet.drawing.view import Scale
from packet.figures import MM2
from packet.plan import Plan
from packet.sheets import plain_arrangement
from packet.sheets.kit import Kit
from packet.sheets.plan_view import Drawn, plan_view
from packet.sheets.plates import BEFORE, BEHIND
from packet.sheets.standing_views import (
    AIR,
    BESIDE,
    CAPTION,
    best_split,
    elevation_scale,
    elevation_width,
    front_elevation,
    ground_level,
    middle_section,
    pictorial,
    section_scale,
    section_width,
)
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 7.6
_FIGURES_WIDTH = 88.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The plan, and the shelter as it stands on one page or two."""
    if not plan.assembly.of_kind(LeafKind.ROOF):
        return plain_arrangement.draw(plan, kit)
    return _plan_page(plan, kit), *_standing_pages(plan, kit)


def _plan_page(plan: Plan, kit: Kit) -> Sheet:
    right, left = kit.room.cut_right(_FIGURES_WIDTH, gap=5)
    drawn = plan_view(plan, kit, left)
    figures = _figures(plan, kit)
    columns = [Column(right.width * 0.43, style=BODY), Column(right.width * 0.57, "right", BODY_BOLD)]
    height = table(right.top_left, columns, figures, None, kit.lettering, _ROW).height
    below, above = right.cut_bottom(height, gap=4)
    marks = (*drawn.marks, *pictorial(plan, above),
             *table(below.top_left, columns, figures, None, kit.lettering, _ROW).marks)
    return _sheet(kit, 1, "plan_page", marks, (drawn,))


def _standing_pages(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Section and elevation on one page, or each beside a picture of the shelter where it is far larger so."""
    split = best_split(plan, kit, kit.room)
    if split:
        left, right = split
        ground = ground_level(plan, left, section_scale(plan, kit, left))
        section, elevation = middle_section(plan, kit, left, ground), front_elevation(plan, kit, right, ground)
        marks = (*section.marks, *elevation.marks, *_caption(plan, kit, left, ground, "section", section.scale),
                 *_caption(plan, kit, right, ground, "elevation", elevation.scale))
        return (_sheet(kit, 2, "standing_page", marks, (section, elevation)),)
    found = []
    for page, (key, draw_view, find_scale, wide, camera) in enumerate((
            ("section", middle_section, section_scale, section_width, BEHIND),
            ("elevation", front_elevation, elevation_scale, elevation_width, BEFORE)), 2):
        scale = find_scale(plan, kit, kit.room.cut_right(BESIDE, gap=2 * AIR)[1])
        room, beside = kit.room.cut_left(wide(plan, scale) + AIR, gap=AIR)
        ground = ground_level(plan, room, scale)
        view = draw_view(plan, kit, room, ground)
        # What is said of the peak runs out over the picture.
        shown = Room(beside.left, ground, beside.right, view.viewport.rect[3])
        marks = (*view.marks, *pictorial(plan, shown, camera), *_caption(plan, kit, room, ground, key, scale))
        found.append(_sheet(kit, page, f"{key}_page", marks, (view,)))
    return tuple(found)


def _caption(plan: Plan, kit: Kit, room: Room, ground: float, key: str, scale: Scale) -> Drawing:
    text = kit.words.text(f"arrangement.captions.{key}", scale=scale.title, door=plan.assembly.doors[0].mark)
    return (Text((room.centre[0], ground - CAPTION), text, BODY_BOLD, "centre"),)


def _figures(plan: Plan, kit: Kit) -> list[tuple[str, str]]:
    """Name and value of the figures a lead asks for."""
    geometry, form, words, doors = plan.geometry, kit.form, kit.words, plan.description.doors
    if doors is None:
        raise LookupError("a roofed ring has doors")
    across = ({"wall_to_corner": form.length_both(geometry.across_flats)} if geometry.walls % 2 else
              {"across_corners": form.length_both(geometry.across_corners),
               "across_flats": form.length_both(geometry.across_flats)})
    values = {
        "walls": words.text("arrangement.walls_of", walls=geometry.walls, side=geometry.side),
        **across,
        "wall_height": form.length_unit(geometry.wall_height),
        "apex": form.length_both(geometry.apex),
        "slope": form.angle(geometry.slope),
        "angles": ", ".join(form.angle(a) for a in (geometry.angle_corner, geometry.angle_eave)),
        "hip": form.angle(geometry.angle_hip),
        "board": form.length_unit(geometry.thickness),
        "floor": form.area(geometry.floor_area * MM2),
        "doors": words.text(f"arrangement.doors.{doors.hand}"),
    }
    return [(words.text(f"arrangement.figures.{name}"), value) for name, value in values.items()]


def _sheet(kit: Kit, page: int, key: str, marks: Drawing, views: tuple[Drawn, ...]) -> Sheet:
    labels = {view.scale.label for view in views}
    return Sheet(
        number=sheet_number("arrangement", page), title=kit.words.text(f"arrangement.{key}.title"),
        station=Station.L.word, kind=kit.words.text("arrangement.kind"), marks=marks,
        subtitle=kit.words.text(f"arrangement.{key}.subtitle"),
        scale_label=labels.pop() if len(labels) == 1 else kit.words.text("arrangement.scales"),
        viewports=tuple(view.viewport for view in views))
