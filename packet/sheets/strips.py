"""The strip cut list: what the hinge table cuts from each roll before it starts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import NamedTuple

from packet.drawing.flow import Block
from packet.drawing.lettering import BODY, FINE, NUMBER, Style
from packet.drawing.marks import Anchor, Drawing, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import tick_box
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.columns import lowest
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.tape.cutlist import CutLine, cut_list
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 11.5
_TITLE = 10.0
_GAP = 4.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages as the rolls need."""
    words = kit.words
    return tuple(
        Sheet(number=sheet_number("strips", page), title=words.text("strips.title"),
              station=Station.P.word, kind=words.text("strips.kind"), marks=with_notes(kit, marks),
              subtitle=words.text("strips.subtitle", quantity=plan.description.quantity))
        for page, marks in enumerate(_pages(plan, kit), 1))


def _pages(plan: Plan, kit: Kit) -> list[Drawing]:
    """The fewest pages, their columns as level as the rolls allow."""
    listed = _listed(plan, kit)
    fewest = len(_filled(listed, kit, kit.room.height))

    def fits(height: float, before: float | None = None) -> bool:
        """All pages filled to that height, or the last alone and the others to the height `before`."""
        try:
            return len(_filled(listed, kit, before or height, {fewest - 1: height})) <= fewest
        except LayoutError:
            return False

    high = lowest(fits, kit.room.height / 3, kit.room.height, _ROW)
    # What the first pages leave for the last stands level in its columns too.
    last = lowest(lambda height: fits(height, high), _TITLE, high, _ROW / 2)
    return [tuple(mark for block in page for mark in block.marks)
            for page in _filled(listed, kit, high, {fewest - 1: last})]


class _Roll(NamedTuple):
    """What is cut from one roll: its name, the sum beside it, and a row for each line."""

    name: str
    total: str
    rows: list[list[Cell]]


def _listed(plan: Plan, kit: Kit) -> list[_Roll]:
    found = []
    for (foil, roll), group in groupby(cut_list(plan.assembly, plan.strips), key=lambda line: (line.foil, line.roll)):
        lines = list(group)
        found.append(_Roll(kit.words.text(f"strips.{'foil' if foil else 'strapping'}", width=roll), _sum(plan, lines, kit),
                           [_row(line, plan.description.quantity, kit) for line in lines]))
    return found


def _filled(listed: Sequence[_Roll], kit: Kit, height: float, heights: Mapping[int, float] | None = None
            ) -> list[list[Block]]:
    """Roll after roll down two columns; a roll that does not fit goes on at the top of the next column. `heights`: how high
    single pages, by their place, are filled."""
    def columns_of(page: int) -> tuple[Room, ...]:
        return kit.room.cut_top((heights or {}).get(page, height))[0].columns(1.0, 1.0, gap=8.0)

    rooms, whole = columns_of(0), kit.room
    looks: tuple[tuple[Anchor, Style], ...] = (
        ("left", BODY), ("right", NUMBER), ("right", NUMBER), ("left", BODY), ("left", BODY))
    columns = [Column(width, align, style) for width, (align, style) in zip(
        spread(rooms[0].width, 13, 16, 37, 4, 51), looks, strict=True)]
    header = [kit.words.text(f"strips.head.{name}", unit=kit.form.unit) for name in ("done", "count", "length")]
    header += ["", kit.words.text("strips.head.use")]
    pages: list[list[Block]] = [[]]
    place, y = 0, whole.top
    for roll in listed:
        rows, title = roll.rows, (roll.name, roll.total)
        while rows:
            room = rooms[place]
            count = fit(columns, rows, header, y - _TITLE - room.bottom, kit.lettering, _ROW)
            if count == len(rows) - 1:
                # No single line goes on alone.
                count -= 1
            if count < min(2, len(rows)):
                if y == room.top:
                    raise LayoutError(f"the strip cut list does not fit {kit.paper.name}; use larger paper")
            else:
                head = Block(tuple(_heading(title, (room.left, y), kit)), (room.left, y), room.width, _TITLE)
                block = table((room.left, y - _TITLE), columns, rows[:count], header, kit.lettering, _ROW)
                pages[-1] += (head, block)
                y = block.bottom - _GAP
                rows = rows[count:]
                title = (kit.words.text("strips.more", name=roll.name), "")
            if rows:
                place, y = 1 - place, whole.top
                if place == 0:
                    rooms = columns_of(len(pages))
                    pages.append([])
    return pages


def _heading(title: tuple[str, str], at: tuple[float, float], kit: Kit) -> list[Mark]:
    """The roll, large, and its sum beside it."""
    name, total = title
    baseline = at[1] - 1.5 - NUMBER.height
    marks: list[Mark] = [Text((at[0] + 1.5, baseline), name, NUMBER)]
    if total:
        marks.append(Text((at[0] + 1.5 + kit.lettering.width(name, NUMBER) + 4.0, baseline), total, FINE))
    return marks


def _sum(plan: Plan, lines: list[CutLine], kit: Kit) -> str:
    need = next(need for need in plan.needs if (need.foil, need.roll_width) == (lines[0].foil, lines[0].roll))
    sets = plan.description.quantity
    return kit.words.text("strips.sum", count=sum(line.count for line in lines) * sets,
                          total=sum(line.total for line in lines) * sets, rolls=need.rolls)


def _row(line: CutLine, sets: int, kit: Kit) -> list[Cell]:
    words = kit.words
    use: Drawing = (Text((0.0, 0.0), words.text(f"strips.use.{line.role}", place=str(line.place)), BODY),)
    note = ""
    if line.foil and line.beside:
        note = words.text("strips.passes", count=len(line.beside) + 1)
    elif line.beside:
        note = words.text("strips.beside", rolls=", ".join(
            words.text("strips.roll", width=width) for width in line.beside))
    if note:
        use += (Text((0.0, -2.0 - FINE.height), note, FINE),)
    return [tick_box((0.0, 0.0)), str(line.count * sets), kit.form.length(line.length), "", use]
