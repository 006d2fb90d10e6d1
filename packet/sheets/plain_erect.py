"""Open and fold leaves that are no roofed shelter: hinge angles, opening with its hold point, folding again."""

from __future__ import annotations

from packet.assembly.opening_states import opening_states, pack_plates
from packet.assembly.seam_classes import SeamClass, seam_classes
from packet.drawing.flow import bullets, paragraph, stack, steps
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Drawing, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.room import Room
from packet.drawing.solid import picture
from packet.plan import Plan
from packet.sheets.erect_pictures import hinge_opening
from packet.sheets.hold_box import hold_box, wording_of
from packet.sheets.kit import Kit
from packet.sheets.plates import BEFORE, LYING, faces, in_room, lettered_states, shown_open
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_GAP = 7.0
_HINGES = 62.0  # mm, the hinge pictures
_ABREAST = 3  # hinge pictures in a row
_SHOWN = 4  # pictures from open to pack
_STATES = 55.0  # mm, the least height that shows them


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two pages: hinges and first opening; folding and packing, with the hinges that found no room before."""
    groups = [group for group in seam_classes(plan.assembly) if group.bonded]
    return _open_page(plan, kit, groups[:_ABREAST]), _strike_page(plan, kit, groups[_ABREAST:])


def _open_page(plan: Plan, kit: Kit, groups: list[SeamClass]) -> Sheet:
    words, left = kit.room.inset(0, 0, 1.5, 0).cut_right(kit.room.width * 0.42, gap=_GAP)
    fields = tuple(kit.words.text(f"erect.plain.fields.{name}") for name in ("width", "depth", "lead"))
    hold = hold_box(plan, kit, "erect", left.top_left, left.width, fields)
    foot, above = left.cut_bottom(hold.height, gap=4.0)
    marks: list[Mark] = [*hold.moved(foot.top_left).marks, *_hinges(plan, kit, groups, above)]
    wording = wording_of(plan, kit, "erect")
    told = steps((0.0, 0.0), words.width, wording.do, kit.lettering, gap=1.8)
    look = paragraph((0.0, 0.0), words.width, kit.words.text("erect.plain.look", fold=sheet_number("fold")), BODY,
                     kit.lettering)
    listed = stack(words.top_left, (told, look), 4.0)
    _, below = words.cut_top(listed.height, gap=6.0)
    marks += [*listed.marks, *_captioned(kit, below, "stands", in_room(shown_open(plan, BEFORE), kit.lettering,
                                                                         below.inset(2.0, 2.0, 2.0, 10.0)))]
    return _sheet(kit, 1, "open", marks)


def _strike_page(plan: Plan, kit: Kit, more: list[SeamClass]) -> Sheet:
    words, right = kit.room.inset(0, 0, 1.5, 0).cut_left(kit.room.width * 0.46, gap=_GAP)
    wording = wording_of(plan, kit, "strike")
    told = steps((0.0, 0.0), words.width, wording.do, kit.lettering, tick=True)
    notes = (*wording.check, *kit.words.texts("erect.plain.notes"))
    checks = bullets((0.0, 0.0), words.width, notes, BODY, kit.lettering, 1.2)
    listed = stack(words.top_left, (told, checks), 5.0)
    marks: list[Mark] = list(listed.marks)
    way, below = opening_states(plan.assembly, _SHOWN - 2)[::-1], words.cut_top(listed.height, gap=6.0)[1]
    if below.height >= _STATES:
        marks += lettered_states(kit, way, below)
    for row in range(0, len(more), _ABREAST):
        top, right = right.cut_top(_HINGES, gap=4.0)
        marks += _hinges(plan, kit, more[row:row + _ABREAST], top)
    lying = picture(faces(pack_plates(plan.assembly, plan.pack)), LYING)
    marks += _captioned(kit, right, "lies", in_room(lying, None, right.inset(2.0, 2.0, 2.0, 10.0)))
    return _sheet(kit, 2, "strike", marks)


def _captioned(kit: Kit, room: Room, key: str, shown: Drawing) -> Drawing:
    return (Text((room.left, room.top - 6.0), kit.words.text(f"erect.plain.{key}"), BODY_BOLD), *shown)


def _hinges(plan: Plan, kit: Kit, groups: list[SeamClass], room: Room) -> list[Mark]:
    """Each class of hinges from packed to open, its seams listed over it."""
    marks: list[Mark] = []
    rooms = room.columns(*[1] * max(2, len(groups)), gap=4.0)
    for group, space in zip(groups, rooms, strict=False):
        listed = paragraph((0.0, 0.0), space.width, ", ".join(group.marks), BODY, kit.lettering)
        head, below = space.cut_top(listed.height, gap=1.0)
        marks += [*listed.moved(head.top_left).marks,
                  *hinge_opening(kit, kit.words.text("erect.plain.closing", face=group.closing_face),
                                 group.angle_packed, group.angle_open, group.gap, below,
                                 above=kit.words.text("erect.plain.face", face=group.closing_face.other))]
    return marks


def _sheet(kit: Kit, page: int, key: str, marks: list[Mark]) -> Sheet:
    return Sheet(
        number=sheet_number("erect", page), title=kit.words.text(f"erect.plain.{key}.title"), station=Station.X.word,
        kind=kit.words.text(f"erect.plain.{key}.kind"), marks=tuple(marks),
        subtitle=kit.words.text(f"erect.plain.{key}.subtitle"))
