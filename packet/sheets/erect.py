"""Erect, finish from inside, and strike."""

from __future__ import annotations

from packet.assembly.records import LeafKind, SeamKind, seam_gap
from packet.assembly.views import opening_height
from packet.description.terms import Face
from packet.drawing.flow import bullets, paragraph, stack, steps
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.table import Column, spread, table
from packet.plan import Plan
from packet.sheets import plain_erect
from packet.sheets.erect_pictures import hinge_opening, inside_corner, strike_plan
from packet.sheets.hold_box import hold_box, task_of
from packet.sheets.kit import Kit
from packet.work.joining import removable
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.wording import shared_values

_GAP = 7.0
_HINGES = 62.0  # mm, the hinge pictures


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Three pages: first erection; finish from inside; strike."""
    if not plan.assembly.of_kind(LeafKind.ROOF):
        return plain_erect.draw(plan, kit)
    return _erect_page(plan, kit), _finish_page(plan, kit), _strike_page(plan, kit)


def _erect_page(plan: Plan, kit: Kit) -> Sheet:
    geometry = plan.geometry
    words, left = kit.room.inset(0, 0, 1.5, 0).cut_right(kit.room.width * 0.42, gap=_GAP)
    above, below = left.cut_top(_HINGES, gap=4.0)
    packed: dict[SeamKind, float] = {seam.kind: seam.angle_packed for seam in plan.assembly.seams}
    marks: list[Mark] = []
    for room, (kind, opened) in zip(above.columns(1, 1, 1, gap=4.0), (
            (SeamKind.EAVE, geometry.angle_eave), (SeamKind.CORNER, geometry.angle_corner),
            (SeamKind.HIP, geometry.angle_hip)), strict=True):
        marks += hinge_opening(kit, kit.words.text(f"erect.hinges.{kind}"), packed[kind], opened,
                               seam_gap(geometry.thickness, opened), room, kit.words.text("erect.hinges.outside"))
    fields = tuple(kit.words.text(f"erect.fields.{name}") for name in (
        "rim", "to_corner" if geometry.walls % 2 else "flats", "lead"))
    marks += hold_box(plan, kit, "erect", below.top_left, below.width, fields).marks
    values = shared_values(plan, kit.words) | {
        "rim": opening_height(plan.assembly, Face.INNER), "removable": removable(plan)}
    told = steps((0.0, 0.0), words.width, kit.words.texts("erect.steps", **values), kit.lettering, gap=1.8)
    wind = kit.words.text("erect.wind", shut=plan.mobility.closed, one=plan.mobility.one_open,
                          more=plan.mobility.more_when_open)
    note = paragraph((0.0, 0.0), words.width, wind, BODY, kit.lettering)
    marks += stack(words.top_left, (told, note), 1.8).marks
    return _sheet(kit, 1, "erect", marks)


def _finish_page(plan: Plan, kit: Kit) -> Sheet:
    assembly = plan.assembly
    corners = [seam for seam in assembly.seams if seam.kind is SeamKind.CORNER]
    plain, free = (next(seam for seam in corners if seam.bonded is bonded) for bonded in (True, False))
    words, pictures = kit.room.cut_right(kit.room.width * 0.62, gap=_GAP)
    marks: list[Mark] = []
    for room, seam, key in zip(pictures.rows(1, 1, gap=5.0), (plain, free), ("corner", "door_corner"), strict=True):
        head, rest = room.cut_top(8.0)
        marks.append(Text((head.left, head.bottom + 2.0), kit.words.text(f"erect.{key}", corner=seam.mark), BODY_BOLD))
        marks += inside_corner(plan, kit, seam, rest.inset(1.0))
    hips, patches = task_of(plan, "hip_flats").values, task_of(plan, "patches").values
    values = shared_values(plan, kit.words) | {
        "hips": hips, "patches": patches, "doors": len(assembly.doors), "removable": removable(plan)}
    keys = ("hips", *("release",) * bool(removable(plan)), "patches", "door_patches", "tips", "outer_doubler",
            "inner_doubler")
    parts = ("what", "where", "count")
    rows = [[kit.words.text(f"erect.finish.{key}.{part}", **values) for part in parts] for key in keys]
    columns = [Column(width) for width in spread(words.width, 28, 64, 14)]
    columns[2] = Column(columns[2].width, "centre", BODY_BOLD)
    listed = table((0.0, 0.0), columns, rows, kit.words.texts("erect.finish.table"), kit.lettering)
    never = bullets((0.0, 0.0), words.width, kit.words.texts("erect.finish.never"), BODY, kit.lettering, 1.0)
    marks += stack(words.top_left, (listed, never), 4.0).marks
    return _sheet(kit, 2, "finish", marks)


def _strike_page(plan: Plan, kit: Kit) -> Sheet:
    values = task_of(plan, "strike").values
    words, picture = kit.room.inset(0, 0, 1.5, 0).cut_right(kit.room.width * 0.42, gap=_GAP)
    marks: list[Mark] = list(strike_plan(plan, kit, values["press"], picture))
    shared = shared_values(plan, kit.words) | dict(values) | {"columns": len(plan.pack.columns)}
    told = steps((0.0, 0.0), words.width, kit.words.texts("erect.strike.steps", **shared), kit.lettering, tick=True)
    note = bullets((0.0, 0.0), words.width, kit.words.texts("erect.strike.notes", **shared), BODY, kit.lettering, 1.2)
    marks += stack(words.top_left, (told, note), 5.0).marks
    return _sheet(kit, 3, "strike", marks)


def _sheet(kit: Kit, page: int, key: str, marks: list[Mark]) -> Sheet:
    return Sheet(
        number=sheet_number("erect", page), title=kit.words.text(f"erect.pages.{key}.title"), station=Station.X.word,
        kind=kit.words.text(f"erect.pages.{key}.kind"), marks=tuple(marks),
        subtitle=kit.words.text(f"erect.pages.{key}.subtitle"))
