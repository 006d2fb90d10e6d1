"""The set-up card and the strike card: one side each, to be used alone, by people who never saw the packet."""

from __future__ import annotations

from packet.assembly.opening_states import opening_states
from packet.assembly.records import LeafKind
from packet.drawing.flow import Block, bullets, paragraph, stack, steps
from packet.drawing.lettering import BODY, HEAD, LARGE, NUMBER, Style
from packet.drawing.marks import Drawing, Mark, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import FRAME
from packet.drawing.room import LayoutError, Room
from packet.plan import Plan
from packet.sheets.erect_pictures import strike_plan
from packet.sheets.hold_box import task_of
from packet.sheets.kit import Kit
from packet.sheets.plates import lettered_states
from packet.sheets.wind import force_word
from packet.site.wind import loads, unanchored
from packet.work.facts import facts
from packet.work.joining import removable
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.wording import shared_values

GAP = 8.0
WORDS = 0.56  # share of the page for the steps
SHOWN = 4  # pictures from pack to open


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One page each."""
    return _set_up(plan, kit), _strike(plan, kit)


def _set_up(plan: Plan, kit: Kit) -> Sheet:
    left, right = kit.room.inset(0, 0, 1.5, 0).columns(WORDS, 1 - WORDS, gap=GAP)
    marks = list(_told(plan, kit, "set_up", left))
    foot = _wind(plan, kit, right.width)
    below, above = right.cut_bottom(foot.height if foot else 0.0, gap=4.0)
    if foot:
        marks += foot.moved(below.top_left).marks
    marks += lettered_states(kit, opening_states(plan.assembly, SHOWN - 2), above)
    return _sheet(plan, kit, "set_up", marks)


def _strike(plan: Plan, kit: Kit) -> Sheet:
    left, right = kit.room.inset(0, 0, 1.5, 0).columns(WORDS, 1 - WORDS, gap=GAP)
    marks = list(_told(plan, kit, "strike", left))
    foot = _strike_at(plan, kit, right.width)
    if foot:
        below, right = right.cut_bottom(foot.height, gap=4.0)
        marks += foot.moved(below.top_left).marks
    if plan.assembly.of_kind(LeafKind.ROOF):
        marks += strike_plan(plan, kit, task_of(plan, "strike").values["press"], right)
    else:
        marks += lettered_states(kit, opening_states(plan.assembly, SHOWN - 2)[::-1], right)
    return _sheet(plan, kit, "strike", marks)


def _told(plan: Plan, kit: Kit, card: str, room: Room) -> Drawing:
    """Steps and what is never done, as large as the room allows. Raises LayoutError where nothing fits."""
    values = shared_values(plan, kit.words) | dict(task_of(plan, "strike").values) | {
        "removable": removable(plan), "columns": len(plan.pack.columns), "tall": facts(plan)["tall"],
        "seams": tuple((seam.mark, seam.angle_open) for seam in plan.assembly.bonded())}
    told = kit.words.texts(f"cards.{card}.steps", **values)
    never = kit.words.texts(f"cards.{card}.never", **values)
    for style in (LARGE, BODY):
        block = stack(room.top_left, (steps((0.0, 0.0), room.width, told, kit.lettering, style, gap=2.5),
                                      bullets((0.0, 0.0), room.width, never, style, kit.lettering)), 3.5, room.width)
        if block.bottom >= room.bottom:
            return block.marks
    raise LayoutError(f"card {card}: its steps are taller than the page; use larger paper")


def _wind(plan: Plan, kit: Kit, width: float) -> Block | None:
    """The gusts at which it moves by itself, large; nothing for what people do not enter and wind does not tip."""
    known, words = facts(plan), kit.words
    if not (known["enterable"] or known["tall"]):
        return None
    moved = unanchored(plan)
    slides, tips = (kit.form.speed(speed) for speed in (moved.slides, moved.tips))
    return _framed(kit, width, [
        (words.text("cards.wind.head"), NUMBER), (words.text("cards.wind.slides", speed=slides), HEAD),
        (words.text("cards.wind.tips", speed=tips), HEAD), (words.text("cards.wind.note", sheet=sheet_number), BODY)])


def _strike_at(plan: Plan, kit: Kit, width: float) -> Block | None:
    """The gusts at which to strike, large; nothing where the project does not say what an anchor holds."""
    known, words = facts(plan), kit.words
    if plan.description.wind.anchor_capacity is None or not (known["enterable"] or known["tall"]):
        return None
    strike = loads(plan).strike
    if strike is None:
        raise AssertionError("an anchor of known capacity has a speed to strike at")
    return _framed(kit, width, [
        (words.text("cards.wind.strike"), NUMBER), (kit.form.speed(strike), HEAD),
        (words.text("cards.wind.strike_note", force=force_word(kit, strike), sheet=sheet_number), BODY)])


def _framed(kit: Kit, width: float, parts: list[tuple[str, Style]]) -> Block:
    """A box of paragraphs, each as large as its style."""
    inner = width - 6.0
    body = stack((3.0, -2.0), [paragraph((0.0, 0.0), inner, text, style, kit.lettering) for text, style in parts], 1.0,
                 inner)
    return Block((rectangle((0.0, body.bottom - 2.5, width, 0.0), FRAME), *body.marks), (0.0, 0.0), width,
                 2.5 - body.bottom)


def _sheet(plan: Plan, kit: Kit, card: str, marks: list[Mark]) -> Sheet:
    has = facts(plan)
    return Sheet(
        number=sheet_number(card), title=kit.words.text(f"cards.{card}.title", has=has), station=Station.X.word,
        kind=kit.words.text(f"cards.{card}.kind"), marks=tuple(marks),
        subtitle=kit.words.text(f"cards.{card}.subtitle", has=has))
