"""The ordered checklist: the whole work in number order, station by station, with its hold points."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import groupby

from packet.drawing.flow import Block
from packet.drawing.marks import Drawing
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.plan import Plan
from packet.sheets.checklist_blocks import Entry, Group, group_block, grouped, halved, station_heading
from packet.sheets.checklist_flow import fill
from packet.sheets.checklist_holds import hold_block
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.step_pictures import step_picture
from packet.work.facts import facts
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.tasks import tasks
from packet.work.wording import line, shared_values

GAP = 2.2  # mm between parts of a page
ENOUGH = 0.7
"""Share of a page from which it counts as filled."""
LEVELLED = (1.25, 1.18, 1.12, 1.06)
"""Shares of the mean height of the pages to which they are tried to be filled alike."""
HALF = 0.5
SHORTER = (0.7, 0.55, 0.4)
"""Shares to which the page before a last one that is less than half filled is tried to be filled."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages as the work takes. Raises LayoutError where one block is taller than a page."""
    pages = _laid_out(plan, kit)
    return tuple(_sheet(page, number, len(pages), plan.description.quantity, kit) for number, page in enumerate(pages, 1))


def stations_on(plan: Plan, kit: Kit) -> dict[str, frozenset[Station]]:
    """Whose tasks stand on each page, by its sheet number."""
    work = tasks(plan)
    return {sheet_number("checklist", page): frozenset(work[number - 1].station for number in laid.numbers)
            for page, laid in enumerate(_laid_out(plan, kit), 1)}


def _laid_out(plan: Plan, kit: Kit) -> list[_Page]:
    return ticked_pages(plan, kit, tasks(plan), 1)


def ticked_pages(plan: Plan, kit: Kit, work: tuple[Task, ...], start: int) -> list[_Page]:
    """The pages of these tasks, which are numbered from `start`."""
    shared = shared_values(plan, kit.words)
    entries = tuple(Entry(number, task, line(task, kit.words, shared)) for number, task in enumerate(work, start))
    groups = [_pictured(plan, kit, group) for group in grouped(entries)]
    runs = [(key, list(found)) for key, found in groupby(groups, key=lambda each: (each.station, each.hold))]
    made: dict[tuple[object, ...], Block] = {}

    def make(group: Group, width: float) -> Block:
        key = (tuple(entry.number for entry in group.entries), group.like and group.like.number, width)
        if key not in made:
            made[key] = hold_block(group, width, kit) if group.hold else group_block(group, width, kit)
        return made[key]

    known, room = facts(plan), kit.room

    def filled(share: float, shorter: int = -1) -> list[_Page]:
        """Every page filled to that share of its height, or only page `shorter`."""
        bottom = room.top - share * room.height
        return _filled(runs, _Pages(kit, known, make, room.bottom if shorter >= 0 else bottom, {shorter: bottom}))

    return _levelled(filled, room.height)


def _levelled(filled: Callable[..., list[_Page]], height: float) -> list[_Page]:
    """The fewest pages, the work spread over them evenly rather than with a last page that has one task."""
    best = filled(1.0)
    count, mean = len(best), sum(page.used for page in best) / len(best) / height
    # Filled less and less, until that takes a page more; then the page before the last alone.
    alike = [(share * mean, -1) for share in LEVELLED if share * mean < 1.0]
    before = [(share, count - 2) for share in SHORTER] if best[-1].used < HALF * height else []
    for tries in (alike, before):
        for share, page in tries:
            if _emptiest(best) > ENOUGH * height:
                break
            try:
                level = filled(share, page)
            except LayoutError:
                continue
            if len(level) > count:
                break
            if _emptiest(level) > _emptiest(best):
                best = level
    return best


def _emptiest(pages: list[_Page]) -> float:
    """Height of what stands on the emptiest page, mm."""
    return min(page.used for page in pages)


def _pictured(plan: Plan, kit: Kit, group: Group) -> Group:
    """With its picture, unless an earlier task told the same."""
    if group.like is not None:
        return group
    return replace(group, picture=step_picture(plan, kit, group.entries[0].task))


def _filled(runs: list[tuple[tuple[Station, bool], list[Group]]], pages: _Pages) -> list[_Page]:
    for (station, hold), groups in runs:
        if hold:
            for group in groups:
                pages.hold(station, group)
        else:
            pages.tasks(station, groups)
    return pages.pages


class _Page:
    """One page being filled from the top; `y` is where the next part hangs."""

    def __init__(self, top: float) -> None:
        self.blocks: list[Block] = []
        self.numbers: list[int] = []
        self.top = self.y = top

    @property
    def marks(self) -> Drawing:
        return tuple(mark for block in self.blocks for mark in block.marks)

    @property
    def used(self) -> float:
        """Height of what stands on it, mm."""
        return self.top - self.y


class _Pages:
    """All pages; `station` is the one whose heading was given last."""

    def __init__(self, kit: Kit, known: Mapping[str, bool], make: Callable[[Group, float], Block], bottom: float,
                 bottoms: Mapping[int, float]) -> None:
        """`bottoms`: where single pages end, by their place."""
        self.kit, self.known, self.make, self.bottom, self.bottoms = kit, known, make, bottom, bottoms
        self.pages = [_Page(kit.room.top)]
        self.station: Station | None = None

    def hold(self, station: Station, group: Group) -> None:
        """A hold point across the page."""
        block = self.make(group, self.kit.room.width)
        for _ in range(2):
            heading = self._heading(station)
            if block.height <= self._left(heading):
                self._hang(station, heading, block, (group,))
                return
            self._turn()
        if len(group.entries) == 1:
            raise self._too_tall(group)
        for part in halved(group):
            self.hold(station, part)

    def tasks(self, station: Station, waiting: list[Group]) -> None:
        """Tasks of one station between hold points, in columns and across, over as many pages as they need."""
        fresh = False
        while waiting:
            heading = self._heading(station)
            groups = waiting

            def make(index: int, width: float, groups: list[Group] = groups) -> Block:
                return self.make(groups[index], width)

            filled = fill(make, len(groups), self.kit.room.width, self._left(heading))
            if filled:
                self._hang(station, heading, filled.block, tuple(groups[:filled.count]))
                waiting, fresh = groups[filled.count:], False
            elif not fresh:
                self._turn()
                fresh = True
            elif len(groups[0].entries) > 1:
                waiting = [*halved(groups[0]), *groups[1:]]
            else:
                raise self._too_tall(groups[0])

    def _heading(self, station: Station) -> tuple[Block, ...]:
        if station is self.station:
            return ()
        return (station_heading(station, self.known, self.kit.room.width, self.kit),)

    def _left(self, heading: tuple[Block, ...]) -> float:
        """mm left on the page for a part under that heading."""
        page = self.pages[-1]
        used = sum(block.height + GAP for block in heading) + (GAP if page.blocks else 0.0)
        return page.y - used - self.bottoms.get(len(self.pages) - 1, self.bottom)

    def _hang(self, station: Station, heading: tuple[Block, ...], block: Block, groups: tuple[Group, ...]) -> None:
        page = self.pages[-1]
        page.y -= GAP if page.blocks else 0.0
        for part in (*heading, block):
            page.blocks.append(part.moved((self.kit.room.left, page.y)))
            page.y -= part.height + GAP
        page.y += GAP
        page.numbers += [entry.number for group in groups for entry in group.entries]
        self.station = station

    def _turn(self) -> None:
        if self.pages[-1].blocks:
            self.pages.append(_Page(self.kit.room.top))

    def _too_tall(self, group: Group) -> LayoutError:
        return LayoutError(f"checklist: task {group.entries[0].number} is taller than a page; use larger paper")


def _sheet(page: _Page, number: int, count: int, sets: int, kit: Kit) -> Sheet:
    words = kit.words
    first, last = str(page.numbers[0]), str(page.numbers[-1])
    return Sheet(
        number=sheet_number("checklist", number), title=words.text("checklist.title", page=number, pages=count),
        station=Station.L.word, kind=words.text("checklist.kind"), marks=with_notes(kit, page.marks),
        subtitle=words.text("checklist.subtitle", quantity=sets),
        subject=words.text("checklist.tasks", first=first, last=last))
