"""The ordered checklist: the whole work in number order, station by station, with its hold points."""

from __future__ import annotations

from packet.drawing.flow import Block
from packet.drawing.marks import Mark
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.plan import Plan
from packet.sheets.checklist_blocks import Entry, Group, group_block, grouped, halved, rule, station_heading
from packet.sheets.kit import Kit
from packet.sheets.numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks
from packet.work.wording import line, shared_values

GAP = 2.4  # mm between blocks and the rule that parts them


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages as the work takes. Raises LayoutError where one block is taller than a page."""
    shared = shared_values(plan, kit.words)
    entries = tuple(Entry(number, task, line(task, kit.words, shared))
                    for number, task in enumerate(tasks(plan), 1))
    pages = _pages(grouped(entries), kit)
    return tuple(_sheet(page, number, len(pages), kit) for number, page in enumerate(pages, 1))


class _Page:
    """One page being filled from the top; `y` is where the next block hangs.

    `station` is the one whose heading was given last, `bordered` says that the last block has a frame of its own.
    """

    def __init__(self, kit: Kit, station: Station | None) -> None:
        self.kit = kit
        self.marks: list[Mark] = []
        self.numbers: list[int] = []
        self.station = station
        self.bordered = True
        self.y = kit.room.top

    def take(self, group: Group, body: Block) -> bool:
        """Hang the group under what is there, with its station's heading where that is new; False if too tall."""
        room = self.kit.room
        empty = not self.marks
        above: list[Block] = []
        if group.station is not self.station:
            above.append(station_heading(group.station, room.width, self.kit))
        elif not (empty or self.bordered or group.hold):
            above.append(rule(room.width))
        blocks = [*above, body]
        gap = 0.0 if empty else GAP
        needed = gap + sum(block.height for block in blocks) + GAP * (len(blocks) - 1)
        if self.y - needed < room.bottom - 1e-6:
            return False
        y = self.y - gap
        for block in blocks:
            self.marks += block.moved((room.left, y)).marks
            y -= block.height + GAP
        self.y = y + GAP
        self.station, self.bordered = group.station, group.hold
        self.numbers += [entry.number for entry in group.entries]
        return True


def _pages(groups: tuple[Group, ...], kit: Kit) -> list[_Page]:
    pages = [_Page(kit, None)]
    waiting = list(groups)
    while waiting:
        group = waiting.pop(0)
        body = group_block(group, kit.room.width, kit)
        if pages[-1].take(group, body):
            continue
        fresh = _Page(kit, pages[-1].station)
        if fresh.take(group, body):
            pages.append(fresh)
        elif len(group.entries) > 1:
            waiting = [*halved(group), *waiting]
        else:
            raise LayoutError(f"checklist: task {group.entries[0].number} is taller than a page; use larger paper")
    return pages


def _sheet(page: _Page, number: int, count: int, kit: Kit) -> Sheet:
    words = kit.words
    first, last = str(page.numbers[0]), str(page.numbers[-1])
    return Sheet(
        number=sheet_number("checklist", number), title=words.text("checklist.title", page=number, pages=count),
        station=Station.L.word, kind=words.text("checklist.kind"), marks=tuple(page.marks),
        subtitle=words.text("checklist.subtitle"),
        subject=words.text("checklist.tasks", first=first, last=last))
