"""The checklist of what decisions on spoiled parts add, with numbers behind the planned work's: pages on which tasks are
ticked stay as they are."""

from __future__ import annotations

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY
from packet.drawing.page import Sheet
from packet.drawing.room import Room
from packet.drawing.table import Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.checklist import ticked_pages
from packet.sheets.kit import Kit
from packet.work.mending import mending_tasks
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks

_ROW = 12.0
"""mm; written with a glove on."""
_LEAST, _MOST = 3, 5
"""Rows for further spoiled parts."""
_GAP = 8.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages as the added work takes; none where nothing was decided."""
    added, words = mending_tasks(plan), kit.words
    if not added:
        return ()
    pages = ticked_pages(plan, kit, added, len(tasks(plan)) + 1)
    pages[-1].blocks.append(_further(kit, kit.room.cut_top(pages[-1].used, gap=_GAP)[1]))
    return tuple(Sheet(
        number=sheet_number("added", number), title=words.text("checklist.added.title"), station=Station.L.word,
        kind=words.text("checklist.added.kind"), marks=page.marks, subtitle=words.text("checklist.added.subtitle"),
        subject=words.text("checklist.tasks", first=str(page.numbers[0]), last=str(page.numbers[-1])))
        for number, page in enumerate(pages, 1))


def _further(kit: Kit, room: Room) -> Block:
    """Rows on which the next spoiled part is written until the lead has decided on it; none where they have no room."""
    columns = [Column(width, "left", BODY) for width in spread(room.width, 18, 70, 32, 32)]
    head = paragraph((0.0, 0.0), room.width, f"**{kit.words.text('checklist.added.more')}**", BODY, kit.lettering)
    rows = [[""] * len(columns)] * _MOST
    header = kit.words.texts("checklist.added.header")
    count = fit(columns, rows, header, room.height - head.height - 1.0, kit.lettering, _ROW)
    if count < _LEAST:
        return Block((), room.top_left, 0.0, 0.0)
    lines = table((0.0, 0.0), columns, rows[:count], header, kit.lettering, _ROW, rules="grid")
    return stack(room.top_left, (head, lines), 1.0)
