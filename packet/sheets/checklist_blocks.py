"""Blocks of the checklist: a station's heading, a group of like tasks, a hold point."""

from __future__ import annotations

import re
from dataclasses import dataclass

from packet.drawing.flow import FIRST_BASELINE, Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, BODY_ITALIC, NUMBER
from packet.drawing.marks import Drawing, Line, Mark, Point, Text, rectangle, shift
from packet.drawing.pens import FRAME, TABLE
from packet.drawing.symbols import TICK_SIZE, circled, signature_box, station_tag, station_tag_size, tick_box
from packet.sheets.kit import Kit
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.wording import Line as Wording

GUTTER = 33.2  # mm for tick box, number and station letter
NUMBER_AT = 15.2  # mm from the left to the middle of the number
NUMBER_RADIUS = 4.0
TAG_AT = 30.3  # mm from the left to the right edge of the station letter
BETWEEN = 7.0  # mm between columns of text
SHARES = (0.46, 0.5, 0.54, 0.58, 0.62, 0.66, 0.7)  # of the width for what to do; the lowest block wins
PAD = 2.5  # mm inside the border of a hold point
BAND = 11.0  # mm, height of the black band of a hold point
SIGNATURE = 14.0  # mm, height of the box to sign
TIGHT = 0.9  # mm between the lines of a list


@dataclass(frozen=True, slots=True)
class Entry:
    """A task with its number on the checklist and its sentences."""

    number: int
    task: Task
    words: Wording


@dataclass(frozen=True, slots=True)
class Group:
    """Tasks that follow one another and are done in the same way, told once.

    `like` is an earlier task that told the same, or None where this one tells it.
    """

    entries: tuple[Entry, ...]
    like: Entry | None = None

    @property
    def station(self) -> Station:
        return self.entries[0].task.station

    @property
    def hold(self) -> bool:
        return self.entries[0].task.hold


def grouped(entries: tuple[Entry, ...]) -> tuple[Group, ...]:
    """Entries in their order; a hold point always stands alone."""
    groups: list[Group] = []
    told: dict[_Told, Entry] = {}
    for entry in entries:
        first = told.setdefault(_told(entry), entry)
        before = groups[-1].entries[-1] if groups else None
        if (before and not entry.task.hold and _told(before) == _told(entry)
                and before.words.check == entry.words.check):
            groups[-1] = Group((*groups[-1].entries, entry), groups[-1].like)
        else:
            groups.append(Group((entry,), first if first is not entry else None))
    return tuple(groups)


_Told = tuple[str, tuple[str, ...], tuple[str, ...]]


def _told(entry: Entry) -> _Told:
    """What is told of a task apart from what it is about, its check and its limits."""
    return entry.task.step, entry.words.do, entry.words.why


def station_heading(station: Station, width: float, kit: Kit) -> Block:
    """A black tag with the station's word, what is done there, and a rule across."""
    label = f"{station} {station.word}"
    tag_width, height = station_tag_size(label, kit.lettering, NUMBER)
    marks: Drawing = (
        *station_tag((tag_width, 0.0), label, kit.lettering, NUMBER),
        Text((tag_width + 4.0, -(height + BODY.height) / 2), station.work, BODY),
        Line((0.0, -height), (width, -height), FRAME),
    )
    return Block(marks, (0.0, 0.0), width, height)


def group_block(group: Group, width: float, kit: Kit) -> Block:
    """One task, or several with the instructions once and a tick for each."""
    if group.hold:
        return min((_hold_block(group, width, share, kit) for share in SHARES), key=lambda block: block.height)
    head = _heading(group.entries[0], width, kit) if len(group.entries) == 1 else _shared_heading(group, width, kit)
    body = min((_instructions(group, (0.0, -head.height - 0.8), width, share, kit) for share in SHARES),
               key=lambda block: block.height)
    if len(group.entries) == 1:
        return Block((*head.marks, *body.marks), (0.0, 0.0), width, -body.bottom)
    ticks = _ticks(group, (0.0, body.bottom - 2.0), width, kit)
    return Block((*head.marks, *body.marks, *ticks.marks), (0.0, 0.0), width, -ticks.bottom)


def halved(group: Group) -> tuple[Group, ...]:
    """The group as two smaller ones, for a block too tall for its page."""
    middle = (len(group.entries) + 1) // 2
    return (Group(group.entries[:middle], group.like),
            Group(group.entries[middle:], group.like or group.entries[0]))


def _hold_block(group: Group, width: float, share: float, kit: Kit) -> Block:
    """A bordered block across the page: what to do, the limits, and where the lead signs."""
    entry, words, lettering = group.entries[0], kit.words, kit.lettering
    left = share * (width - 2 * PAD - BETWEEN)
    right = width - 2 * PAD - BETWEEN - left
    right_at = PAD + left + BETWEEN
    top = -BAND - 1.0
    do = stack((PAD, top), (*_about(entry, left, kit), *_do(group, left, kit), *_why(group, left, kit)), 1.2, left)
    limits = stack((right_at, top), (
        paragraph((0.0, 0.0), right, words.text("checklist.hold.limits"), BODY_BOLD, lettering),
        bullets((0.0, 0.0), right, entry.words.limit, BODY, lettering, TIGHT)), TIGHT, right)
    # The boxes stand side by side at the foot of the column that leaves room for them.
    under, boxes = (limits, right) if limits.bottom > do.bottom else (do, left)
    foot = min(under.bottom - 1.5 - SIGNATURE, do.bottom, limits.bottom)
    read = 0.42 * boxes
    marks = (
        rectangle((0.0, -BAND, width, 0.0), None, 0.0),
        *_gutter(entry, -(BAND - TICK_SIZE) / 2, kit, (BAND - TICK_SIZE) / 2),
        Text((GUTTER + 3.0, -(BAND + NUMBER.height) / 2),
             f"{words.text('checklist.hold.heading')}  {entry.words.name}", NUMBER, grey=1.0),
        Text((width - PAD, -(BAND + BODY.height) / 2), _sheets(entry.task, kit), BODY_BOLD, "right", grey=1.0),
        *do.marks, *limits.marks,
        *signature_box((under.at[0], foot), read, words.text("checklist.hold.read"), lettering, SIGNATURE),
        *signature_box((under.at[0] + read + 3.0, foot), boxes - read - 3.0, words.text("checklist.hold.sign"),
                       lettering, SIGNATURE),
        rectangle((0.0, foot - PAD, width, 0.0), FRAME),
    )
    return Block(marks, (0.0, 0.0), width, PAD - foot)


def _gutter(entry: Entry, top: float, kit: Kit, left: float = 0.0) -> Drawing:
    """Tick box, circled number and station letter, side by side, level with each other."""
    middle = top - TICK_SIZE / 2
    letter = str(entry.task.station)
    _, tall = station_tag_size(letter, kit.lettering, BODY_BOLD)
    return (
        *tick_box((left, top - TICK_SIZE)),
        *circled((left + NUMBER_AT, middle), str(entry.number), kit.lettering, NUMBER_RADIUS),
        *station_tag((left + TAG_AT, middle + tall / 2), letter, kit.lettering, BODY_BOLD),
    )


def _heading(entry: Entry, width: float, kit: Kit) -> Block:
    """Tick, number, station, name; what the task is about beside the name, or below it where that is long."""
    lettering = kit.lettering
    see = _sheets(entry.task, kit)
    name_width = lettering.width(entry.words.name, NUMBER)
    see_width = lettering.width(see, BODY_BOLD)
    beside = width - GUTTER - name_width - see_width - 2 * BETWEEN
    middle = -TICK_SIZE / 2
    marks: list[Mark] = [
        *_gutter(entry, 0.0, kit),
        Text((GUTTER, middle - NUMBER.height / 2), entry.words.name, NUMBER),
        Text((width, middle - BODY.height / 2), see, BODY_BOLD, "right"),
    ]
    about = _about(entry, beside, kit) if beside > 30.0 else ()
    if about and about[0].height <= BODY.leading:
        # On the baseline of the name.
        at = (GUTTER + name_width + BETWEEN, middle - NUMBER.height / 2 + FIRST_BASELINE * BODY.height)
        return Block((*marks, *about[0].moved(at).marks), (0.0, 0.0), width, TICK_SIZE)
    below = stack((GUTTER, -TICK_SIZE + 0.6), _about(entry, width - GUTTER, kit), 0.0, width - GUTTER)
    return Block((*marks, *below.marks), (0.0, 0.0), width, TICK_SIZE - 0.6 + below.height)


def _shared_heading(group: Group, width: float, kit: Kit) -> Block:
    """The name of a group, and the sheet where it is the same for all."""
    first = group.entries[0]
    name = paragraph((0.0, 0.0), width, first.words.name, NUMBER, kit.lettering)
    marks: list[Mark] = list(name.marks)
    if _same_sheets(group):
        marks.append(Text((width, -FIRST_BASELINE * NUMBER.height), _sheets(first.task, kit), BODY_BOLD, "right"))
    return Block(tuple(marks), (0.0, 0.0), width, name.height)


def _same_sheets(group: Group) -> bool:
    return len({entry.task.sheets for entry in group.entries}) == 1


def _about(entry: Entry, width: float, kit: Kit, sheets: bool = False) -> tuple[Block, ...]:
    """What the task is about, in bold, and the parts it touches that this does not name; the sheets if asked."""
    bold = f"**{entry.words.each}**" if entry.words.each else ""
    named = re.split(r"\W+", entry.words.each)
    parts = "" if set(entry.task.marks) <= set(named) else " ".join(entry.task.marks)
    see = f"**{', '.join(entry.task.sheets)}**" if sheets else ""
    text = "  ".join(part for part in (bold, parts, see) if part)
    return (paragraph((0.0, 0.0), width, text, BODY, kit.lettering),) if text else ()


def _instructions(group: Group, at: Point, width: float, share: float, kit: Kit) -> Block:
    """Two columns: what to do; what to check, and why."""
    left = share * (width - BETWEEN)
    right = width - BETWEEN - left
    do = stack(at, _do(group, left, kit), TIGHT, left)
    beside = stack((at[0] + left + BETWEEN, at[1]), (*_check(group, right, kit), *_why(group, right, kit)), 1.2, right)
    return Block((*do.marks, *beside.marks), at, width, max(do.height, beside.height))


def _do(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    if group.like is not None:
        same = group.like.words.check == group.entries[0].words.check and not group.hold
        again = kit.words.text(f"checklist.{'again' if same else 'again_do'}", number=group.like.number)
        return (paragraph((0.0, 0.0), width, again, BODY, kit.lettering),)
    return (bullets((0.0, 0.0), width, group.entries[0].words.do, BODY, kit.lettering, TIGHT),)


def _check(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    check = group.entries[0].words.check
    if group.like is not None and group.like.words.check == check:
        return ()
    label = kit.words.text("checklist.check")
    return tuple(paragraph((0.0, 0.0), width, f"**{label}:** {text}", BODY, kit.lettering) for text in check)


def _why(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    if group.like is not None:
        return ()
    label = kit.words.text("checklist.why")
    return tuple(paragraph((0.0, 0.0), width, f"{label}: {text}", BODY_ITALIC, kit.lettering)
                 for text in group.entries[0].words.why)


def _sheets(task: Task, kit: Kit) -> str:
    if not task.sheets:
        return ""
    return f"{kit.words.text('checklist.see')} {', '.join(task.sheets)}"


def _ticks(group: Group, at: Point, width: float, kit: Kit) -> Block:
    """A tick box, number and station for each of several like tasks, two beside each other."""
    cell = (width - BETWEEN) / 2
    room = cell - GUTTER
    sheets = not _same_sheets(group)
    marks: list[Mark] = []
    y = at[1]
    for row in range(0, len(group.entries), 2):
        y -= 2.0 if row else 0.0
        tallest = TICK_SIZE
        for column, entry in enumerate(group.entries[row:row + 2]):
            x = at[0] + column * (cell + BETWEEN)
            text = stack((x + GUTTER, y), _about(entry, room, kit, sheets), 0.0, room)
            # One line stands level with the middle of its box.
            drop = max(0.0, (TICK_SIZE - text.height) / 2)
            marks += [*_gutter(entry, y, kit, x), *shift(text.marks, 0.0, -drop)]
            tallest = max(tallest, text.height)
        y -= tallest
    return Block(tuple(marks), at, width, at[1] - y)


def rule(width: float) -> Block:
    """A thin line that parts two blocks."""
    return Block((Line((0.0, 0.0), (width, 0.0), TABLE),), (0.0, 0.0), width, 0.0)
