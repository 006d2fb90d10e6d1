"""For the briefing: who does what, and the words of the trade with a picture each."""

from __future__ import annotations

import math

from packet.description.clock import DAY, written
from packet.drawing.flow import bullets, paragraph
from packet.drawing.lettering import BODY, NUMBER
from packet.drawing.marks import Drawing, Line, Mark
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.table import Cell, Column, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.word_pictures import Seen, picture_of, seen
from packet.work.facts import facts, holds
from packet.work.schedule import plan_schedule, seats_of
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

CELL = (74.0, 47.0)  # mm, least width and height of a word with its picture
PICTURE = 25.0  # mm, least height of a picture
ROW = 13.5


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Who does what; then the words, spread evenly over as many pages as they need."""
    pages = [("who", _who(plan, kit)), *(("words", marks) for marks in _words(plan, kit))]
    return tuple(
        Sheet(number=sheet_number("words", page), title=kit.words.text(f"briefing.{key}.title"), station=Station.L.word,
              kind=kit.words.text(f"briefing.{key}.kind"), marks=marks, subtitle=kit.words.text(f"briefing.{key}.subtitle"))
        for page, (key, marks) in enumerate(pages, 1))


def _who(plan: Plan, kit: Kit) -> Drawing:
    """A row for each station, with room for names; below it what holds for everyone."""
    words, room, made = kit.words, kit.room, plan_schedule(plan)
    rows: list[list[Cell]] = []
    known = facts(plan)
    for station in sorted({each.task.station for each in made.efforts}, key=list(Station).index):
        slots = [made.slots[each.task.key] for each in made.efforts if each.task.station is station]
        hands = max(each.hands for each in made.efforts if each.task.station is station)
        first, last = min(slot.start for slot in slots), max(slot.finish for slot in slots)
        times = [words.text("crew.when", day=int(moment // DAY) + 1, clock=written(moment % DAY)) for moment in (first, last)]
        people = words.text("briefing.who.people", lead=station is Station.L, hands=hands,
                            seats=max(hands, seats_of(plan.description.crew, station)))
        rows.append([f"**{station}**", f"**{words.name(station.word).title()}:** {words.name(station.work(known))}", people,
                     words.text("briefing.who.times", begins=times[0], ends=times[1]), ""])
    columns = [Column(width, "centre" if not n else "left", NUMBER if not n else BODY)
               for n, width in enumerate(spread(room.width, 12, 58, 36, 52, 70))]
    listed = table(room.top_left, columns, rows, words.entry("briefing.who.header"), kit.lettering, ROW, rules="grid")
    told = bullets((room.left, listed.bottom - 3.0), room.width, words.texts("briefing.who.all", sheet=sheet_number),
                   BODY, kit.lettering)
    if told.bottom < room.bottom - 1e-6:
        raise LayoutError("briefing: the stations and what holds for all are taller than the page; use larger paper")
    return (*listed.marks, *told.marks)


def _words(plan: Plan, kit: Kit) -> list[Drawing]:
    known = facts(plan)
    entries = [entry for entry in kit.words.entry("terms") if holds(entry.get("when", []), known)]
    across, most_down = (max(1, int(size / least)) for size, least in zip(kit.room.size, CELL, strict=True))
    lines = math.ceil(len(entries) / across)
    count = math.ceil(lines / most_down)
    pages: list[Drawing] = []
    from_all = seen(plan, kit)
    at = 0
    for page in range(count):
        down = lines // count + (page < lines % count)  # whole rows, as even over the pages as they go
        shown = entries[at:at + across * down]
        at += len(shown)
        marks: list[Mark] = []
        rows = kit.room.rows(*(1,) * down, gap=3.0)
        cells = [cell for row in rows for cell in row.columns(*(1,) * across, gap=6.0)]
        for entry, cell in zip(shown, cells, strict=False):
            marks += _word(from_all, kit, entry, cell)
        marks += [Line((kit.room.left, row.bottom - 1.5), (kit.room.right, row.bottom - 1.5), TABLE) for row in rows[:-1]]
        pages.append(tuple(marks))
    return pages


def _word(from_all: Seen, kit: Kit, entry: dict[str, str], cell: Room) -> Drawing:
    """The picture above, the word and its meaning below. Raises LayoutError where the picture has no room."""
    text = paragraph((0.0, 0.0), cell.width, f"**{entry['word']}**: {entry['means']}", BODY, kit.lettering)
    foot, above = cell.cut_bottom(text.height, gap=1.5)
    if above.height < PICTURE:
        raise LayoutError(f"briefing: the meaning of {entry['word']!r} is too long for its place; shorten it")
    return (*picture_of(from_all, entry["picture"], above), *text.moved(foot.top_left).marks)
