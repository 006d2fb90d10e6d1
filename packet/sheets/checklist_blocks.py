"""Blocks of the checklist: a station's heading, and a group of like tasks with a row for each."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from packet.drawing.flow import Block, bullets, paragraph, stack, together
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, Style
from packet.drawing.marks import Drawing, Line, Point, Text
from packet.drawing.pens import FRAME
from packet.drawing.symbols import TICK_SIZE, circled, station_tag, station_tag_size, tick_box
from packet.sheets.kit import Kit
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.wording import Line as Wording

PITCH = 1.42  # line pitch over capital height; ISO 3098 asks for 1.3 or more


@dataclass(frozen=True, slots=True, eq=False)
class _Close(Style):
    """Lettering set with its lines closer than on the working sheets, for lists that are ticked off."""

    @property
    def leading(self) -> float:
        return PITCH * self.height


CLOSE = _Close(BODY.height)
INDENT = 1.3 * CLOSE.height  # mm from a bullet to its sentence
_ONE_LINE = 2 * CLOSE.height  # mm, more than one line is high and less than two are
MOST_PARTS = 8  # parts named one by one; more are named by what the task is about

GUTTER = 33.2  # mm for tick box, number and station letter
NUMBER_AT = 15.2  # mm from the left to the middle of the number
NUMBER_RADIUS = 4.0
TAG_AT = 30.3  # mm from the left to the right edge of the station letter
BETWEEN = 7.0  # mm between columns of text
WIDE = 180.0  # mm from which a block sets what to do and what to check side by side
SHARES = (0.36, 0.41, 0.46, 0.5, 0.54, 0.58, 0.62, 0.66, 0.7)  # of the width for what to do; the lowest block wins
TIGHT = -0.3  # mm between the sentences of a list: a little more than the line pitch, foot and head room counted
UNDER = 1.4  # mm above a picture
NARROWEST = 20.0  # mm of text beside a tick in a row of several


@dataclass(frozen=True, slots=True)
class Entry:
    """A task with its number on the checklist and its sentences."""

    number: int
    task: Task
    words: Wording


@dataclass(frozen=True, slots=True)
class Group:
    """Tasks that follow one another and are done in the same way, told once.

    `like` is an earlier task that told the same, or None where this one tells it. `picture` hangs from (0, 0) and is no
    wider than the gutter.
    """

    entries: tuple[Entry, ...]
    like: Entry | None = None
    picture: Block | None = None

    @property
    def station(self) -> Station:
        return self.entries[0].task.station

    @property
    def hold(self) -> bool:
        return self.entries[0].task.hold


def grouped(entries: tuple[Entry, ...]) -> tuple[Group, ...]:
    """Entries in their order; hold points share a group where their limits are the same."""
    groups: list[Group] = []
    told: dict[_Told, Entry] = {}
    for entry in entries:
        first = told.setdefault(_told(entry), entry)
        before = groups[-1].entries[-1] if groups else None
        if before and _told(before) == _told(entry) and (before.words.check, before.words.limit) == (
                entry.words.check, entry.words.limit):
            groups[-1] = Group((*groups[-1].entries, entry), groups[-1].like)
        else:
            groups.append(Group((entry,), first if first is not entry else None))
    return tuple(groups)


_Told = tuple[str, str, tuple[str, ...], tuple[str, ...]]


def _told(entry: Entry) -> _Told:
    """What is told of a task apart from what it is about, its check and its limits."""
    return entry.task.step, entry.words.name, entry.words.do, entry.words.why


def halved(group: Group) -> tuple[Group, ...]:
    """The group as two smaller ones, for a block too tall for its page."""
    middle = (len(group.entries) + 1) // 2
    return (Group(group.entries[:middle], group.like, group.picture),
            Group(group.entries[middle:], group.like or group.entries[0]))


def station_heading(station: Station, known: Mapping[str, bool], width: float, kit: Kit) -> Block:
    """A black tag with the station's word, what is done there, and a rule across."""
    label = f"{station} {kit.words.name(station.word)}"
    tag_width, height = station_tag_size(label, kit.lettering, BODY_BOLD)
    marks: Drawing = (
        *station_tag((tag_width, 0.0), label, kit.lettering, BODY_BOLD),
        Text((tag_width + 4.0, -(height + BODY.height) / 2), kit.words.name(station.work(known)), BODY),
        Line((0.0, -height), (width, -height), FRAME),
    )
    return Block(marks, (0.0, 0.0), width, height)


def group_block(group: Group, width: float, kit: Kit) -> Block:
    """One task, or several with the instructions once and a tick for each; no hold point."""
    several, picture = len(group.entries) > 1, group.picture
    head = _shared_heading(group, width, kit) if several else _heading(group, width, kit)
    beside = GUTTER if picture else 0.0
    # A single task's picture hangs under its tick, that of several beside what they share.
    top = -head.height - (0.4 if several or not picture or head.height > TICK_SIZE else TIGHT)
    shares = (*SHARES, 1.0) if width - beside >= WIDE else (1.0,)
    body = min((_instructions(group, (beside, top), width - beside, share, kit) for share in shares),
               key=lambda block: block.height)
    parts, bottom = [head, body], body.bottom
    if picture:
        hung = picture.moved((0.0, (top if several else -TICK_SIZE) - UNDER))
        parts, bottom = [*parts, hung], min(bottom, hung.bottom)
    if several:
        ticks = _ticks(group, (0.0, bottom - 1.5), width, kit)
        parts, bottom = [*parts, ticks], ticks.bottom
    return together((0.0, 0.0), parts, width, -bottom)


def gutter(entry: Entry, top: float, kit: Kit, left: float = 0.0) -> Drawing:
    """Tick box, circled number and station letter, side by side, level with each other."""
    middle = top - TICK_SIZE / 2
    letter = str(entry.task.station)
    _, tall = station_tag_size(letter, kit.lettering, BODY_BOLD)
    # A circle that grows with its number would leave the row: three figures are set smaller.
    style = BODY_BOLD if entry.number < 100 else FINE_BOLD
    return (
        *tick_box((left, top - TICK_SIZE)),
        *circled((left + NUMBER_AT, middle), str(entry.number), kit.lettering, NUMBER_RADIUS, style),
        *station_tag((left + TAG_AT, middle + tall / 2), letter, kit.lettering, BODY_BOLD),
    )


def beside_gutter(entry: Entry, text: Block, top: float, kit: Kit, left: float = 0.0) -> Block:
    """The gutter with text beside it; one line stands level with the middle of its box."""
    drop = max(0.0, (TICK_SIZE - text.height) / 2)
    box = Block(lambda at: gutter(entry, at[1], kit, at[0]), (left, top), GUTTER, TICK_SIZE)
    return together((left, top), (box, text.moved((left + GUTTER, top - drop))), GUTTER + text.width,
                    max(TICK_SIZE, text.height))


def about(entry: Entry, sheets: bool = False, kit: Kit | None = None) -> str:
    """What the task is about, in bold, and the parts it touches that this does not name; the sheets if asked."""
    bold = f"**{entry.words.each}**" if entry.words.each else ""
    named = re.split(r"\W+", entry.words.each)
    marks = entry.task.marks
    parts = "" if set(marks) <= set(named) or len(marks) > MOST_PARTS else " ".join(marks)
    see = f"**{seen(entry.task, kit)}**" if sheets and kit and entry.task.sheets else ""
    return _joined(bold, parts, see)


def seen(task: Task, kit: Kit) -> str:
    """`(sheet C-01)`, or nothing."""
    return f"({kit.words.text('checklist.see')} {', '.join(task.sheets)})" if task.sheets else ""


def instructions(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    """What to do, unless an earlier task told it."""
    if group.like is not None:
        return ()
    return (points(group.entries[0].words.do, width, kit),)


def again(group: Group, kit: Kit) -> str:
    """The number of the earlier task that told what to do, in a sentence, where one did."""
    if group.like is None:
        return ""
    first = group.entries[0].words
    if group.hold:
        key = "again_limits" if group.like.words.limit == first.limit else "again_do"
    else:
        key = "again" if group.like.words.check == first.check else "again_do"
    return kit.words.text(f"checklist.{key}", number=group.like.number)


def reasons(group: Group, kit: Kit) -> str:
    """Why, unless an earlier task told it."""
    if group.like is not None or not group.entries[0].words.why:
        return ""
    return f"**{kit.words.text('checklist.why')}:** {' '.join(group.entries[0].words.why)}"


def points(items: tuple[str, ...], width: float, kit: Kit) -> Block:
    """Sentences with a bullet each; one that fits whole beside the one before it shares its line."""
    lettering = kit.lettering
    gap = 1.5 * CLOSE.height
    told: list[Block] = []
    x, y, tallest, used = 0.0, 0.0, 0.0, 0.0
    for item in items:
        own = lettering.width(item.replace("**", ""), CLOSE) + INDENT + 0.5
        if used and used + gap + own <= width and tallest <= _ONE_LINE:
            x = used + gap
        elif used:
            y -= tallest + TIGHT
            x, tallest = 0.0, 0.0
        block = bullets((x, y), width - x, (item,), CLOSE, lettering)
        told.append(block)
        tallest = max(tallest, block.height)
        used = x + own
    return together((0.0, 0.0), told, width, tallest - y)


def _heading(group: Group, width: float, kit: Kit) -> Block:
    """Tick, number, station; name, what the task is about, and the sheets to look at."""
    entry = group.entries[0]
    see = f"**{seen(entry.task, kit)}**" if entry.task.sheets else ""
    told = _joined(f"**{entry.words.name}.**", about(entry), see, again(group, kit))
    return beside_gutter(entry, paragraph((0.0, 0.0), width - GUTTER, told, CLOSE, kit.lettering), 0.0, kit)


def _joined(*parts: str) -> str:
    return "  ".join(part for part in parts if part)


def _shared_heading(group: Group, width: float, kit: Kit) -> Block:
    """The name of a group, and the sheet where it is the same for all."""
    first = group.entries[0]
    see = f"**{seen(first.task, kit)}**" if _same_sheets(group) and first.task.sheets else ""
    told = _joined(f"**{first.words.name}.**", see, again(group, kit))
    return paragraph((0.0, 0.0), width, told, CLOSE, kit.lettering)


def _same_sheets(group: Group) -> bool:
    return len({entry.task.sheets for entry in group.entries}) == 1


def _instructions(group: Group, at: Point, width: float, share: float, kit: Kit) -> Block:
    """What to do; below it, or beside it with a share under 1, what to check and why."""
    if share == 1.0:
        return stack(at, (*instructions(group, width, kit), *_check(group, width, kit)), TIGHT, width)
    left = share * (width - BETWEEN)
    right = width - BETWEEN - left
    do = stack(at, instructions(group, left, kit), TIGHT, left)
    beside = stack((at[0] + left + BETWEEN, at[1]), _check(group, right, kit), TIGHT, right)
    return together(at, (do, beside), width, max(do.height, beside.height))


def _check(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    """What to check and why, run on to save lines; what an earlier task told is left out."""
    check = group.entries[0].words.check
    told = [reasons(group, kit)]
    if check and (group.like is None or group.like.words.check != check):
        told.insert(0, f"**{kit.words.text('checklist.check')}:** {' '.join(check)}")
    text = " ".join(part for part in told if part)
    return (paragraph((0.0, 0.0), width, text, CLOSE, kit.lettering),) if text else ()


def _ticks(group: Group, at: Point, width: float, kit: Kit) -> Block:
    """A tick box, number and station for each of several like tasks, as many beside each other as is lowest."""
    most = max(1, int((width + BETWEEN) / (GUTTER + NARROWEST + BETWEEN)))
    return min((_rows(group, at, width, count, kit) for count in range(1, most + 1)), key=lambda block: block.height)


def _rows(group: Group, at: Point, width: float, count: int, kit: Kit) -> Block:
    cell = (width - (count - 1) * BETWEEN) / count
    sheets = not _same_sheets(group)
    cells: list[Block] = []
    y = at[1]
    for row in range(0, len(group.entries), count):
        y -= 1.5 if row else 0.0
        tallest = 0.0
        for column, entry in enumerate(group.entries[row:row + count]):
            text = about(entry, sheets, kit)
            block = beside_gutter(entry, paragraph((0.0, 0.0), cell - GUTTER, text, CLOSE, kit.lettering), y, kit,
                                  at[0] + column * (cell + BETWEEN))
            cells.append(block)
            tallest = max(tallest, block.height)
        y -= tallest
    return together(at, cells, width, at[1] - y)
