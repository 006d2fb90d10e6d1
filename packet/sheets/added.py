"""The checklist of what decisions on spoiled parts add, with numbers behind the planned work's: pages on which tasks are
ticked stay as they are."""

from __future__ import annotations

from packet.drawing.page import Sheet
from packet.plan import Plan
from packet.sheets.checklist import ticked_pages
from packet.sheets.kit import Kit
from packet.work.mending import mending_tasks
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages as the added work takes; none where nothing was decided."""
    added, words = mending_tasks(plan), kit.words
    if not added:
        return ()
    pages = ticked_pages(plan, kit, added, len(tasks(plan)) + 1)
    return tuple(Sheet(
        number=sheet_number("added", number), title=words.text("checklist.added.title"), station=Station.L.word,
        kind=words.text("checklist.added.kind"), marks=tuple(page.marks), subtitle=words.text("checklist.added.subtitle"),
        subject=words.text("checklist.tasks", first=str(page.numbers[0]), last=str(page.numbers[-1])))
        for number, page in enumerate(pages, 1))
