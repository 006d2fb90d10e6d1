"""Second page of the cover: bars on both axes that show whether the print is at full size."""

from __future__ import annotations

from packet.drawing.flow import Block, bullets, paragraph, stack, steps
from packet.drawing.full_size import BARS, bar_name
from packet.drawing.lettering import BODY, LARGE, NUMBER, Style
from packet.drawing.marks import Drawing, Line, Mark, Text, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW, TABLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE, check_bar, tick_box
from packet.ledger.gauging import OFF
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.units import INCH, Format
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

UPRIGHT = 11.0  # mm of breadth for an upright bar with its label
LEVEL = 12.0  # mm of height for a level bar with its label
READING = 20.0  # mm of height to write down one reading


def print_check(plan: Plan, kit: Kit) -> Sheet:
    """Two bars across at the foot, two bars up at the left, and what to do with what is measured."""
    del plan  # the same for every shelter of a unit system
    words = kit.words
    bars = BARS[kit.system]
    upright, rest = kit.room.cut_left(UPRIGHT * len(bars) + 2.0, gap=6.0)
    foot, text = rest.cut_bottom(LEVEL * len(bars), gap=4.0)
    marks: list[Mark] = []
    for index, (length, divisions) in enumerate(bars):
        label = bar_name(kit.system, length)
        start = upright.bottom + min(2.0, (upright.height - length) / 2)  # 6 in stand a little out of the room of A4
        marks += check_bar((upright.left + UPRIGHT * (index + 1) - 2.5, start), length, label, kit.lettering, "vertical",
                           divisions)
        marks += check_bar((foot.left, foot.top - LEVEL * (index + 1) + 4.0), length, label, kit.lettering,
                           "horizontal", divisions)
    return Sheet(
        number=sheet_number("cover", 2), title=words.text("cover.bars.title"), station=Station.L.word,
        kind=words.text("cover.bars.kind"), subtitle=words.text("cover.bars.subtitle"),
        marks=(*marks, *_said(text, kit)))


def _said(room: Room, kit: Kit) -> Drawing:
    """Steps at the left, the readings at the right."""
    left, right = room.columns(0.86, 1.0, gap=6.0)
    said = next((found for found in (_advice(left, style, kit) for style in (LARGE, BODY))
                 if found.bottom >= left.bottom), None)
    if said is None:
        raise LayoutError("the print check does not fit between its bars; use larger paper")
    return (*said.marks, *_readings(right, kit))


def _advice(room: Room, style: Style, kit: Kit) -> Block:
    """What to do with the bars, and what when they are off."""
    words, lettering = kit.words, kit.lettering
    return stack(room.top_left, (
        steps((0.0, 0.0), room.width, words.texts("cover.bars.do"), lettering, style),
        paragraph((0.0, 0.0), room.width, words.text("cover.bars.beyond", percent=kit.form.plain(OFF)), NUMBER, lettering),
        bullets((0.0, 0.0), room.width, words.texts("cover.bars.remedy"), style, lettering, 0.8)), 2.0, room.width)


def _readings(room: Room, kit: Kit) -> Drawing:
    """For each bar and direction: the limits, a place to write, a box to tick."""
    words = kit.words
    marks: list[Mark] = []
    y = room.top
    for length, _ in BARS[kit.system]:
        name = bar_name(kit.system, length)
        for direction in ("across", "up"):
            middle = y - READING / 2
            low, high = bounds_of(kit.form, length)
            limits = words.text("cover.bars.limits", low=low, high=high)
            line = room.left + 3.0 + max(kit.lettering.width(limits, BODY) + 5.0, 0.5 * room.width)
            marks += [
                Text((room.left + 3.0, middle + 1.8), words.text(f"cover.bars.{direction}", name=name), NUMBER),
                Text((room.left + 3.0, middle - 1.8 - BODY.height), limits, BODY),
                Line((line, middle - 4.0), (room.right - TICK_SIZE - 7.0, middle - 4.0), TABLE),
                *tick_box((room.right - TICK_SIZE - 3.0, middle - TICK_SIZE / 2)),
                rectangle((room.left, y - READING, room.right, y), NARROW),
            ]
            y -= READING
    return tuple(marks)


def bounds_of(form: Format, length: float) -> tuple[str, str]:
    """The least and the greatest reading of a bar that is still right, in the unit of its name."""
    low, high = length * (1 - OFF / 100), length * (1 + OFF / 100)
    if bar_name(form.system, length).endswith("in"):
        return form.fixed(low / INCH, 2), f"{form.fixed(high / INCH, 2)} in"
    return form.fixed(low, 1), f"{form.fixed(high, 1)} mm"
