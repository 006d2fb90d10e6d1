"""Blocks of the checklist: a station's heading, a group of like tasks, a hold point."""

from __future__ import annotations

from dataclasses import dataclass

from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, BODY_ITALIC, NUMBER
from packet.drawing.marks import Drawing, Line, Mark, Point, Text, rectangle
from packet.drawing.pens import FRAME, TABLE
from packet.drawing.symbols import TICK_SIZE, circled, signature_box, station_tag, station_tag_size, tick_box
from packet.sheets.kit import Kit
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.wording import Line as Wording

GUTTER = 31.0  # mm for tick box, number and station letter
NUMBER_AT = 15.5  # mm from the left to the middle of the number
NUMBER_RADIUS = 4.2
TAG_AT = 28.5  # mm from the left to the right edge of the station letter
BETWEEN = 7.0  # mm between columns of text
DO_SHARE = 0.62  # of the width: what to do is longer than what to check
PAD = 3.0  # mm inside the border of a hold point
BAND = 12.0  # mm, height of the black band of a hold point
SIGNATURE = 16.0  # mm, height of the box to sign
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

    `like` is the number of an earlier task that told the same, or None where this one tells it.
    """

    entries: tuple[Entry, ...]
    like: int | None = None

    @property
    def station(self) -> Station:
        return self.entries[0].task.station

    @property
    def hold(self) -> bool:
        return self.entries[0].task.hold


def grouped(entries: tuple[Entry, ...]) -> tuple[Group, ...]:
    """Entries in their order; a hold point always stands alone."""
    groups: list[Group] = []
    told: dict[_Told, int] = {}
    for entry in entries:
        told.setdefault(_told(entry), entry.number)
        before = groups[-1].entries if groups else ()
        same_check = bool(before) and before[0].words.check == entry.words.check
        if same_check and not entry.task.hold and _told(before[0]) == _told(entry):
            groups[-1] = Group((*before, entry), groups[-1].like)
        else:
            first = told[_told(entry)]
            groups.append(Group((entry,), first if first < entry.number else None))
    return tuple(groups)


_Told = tuple[str, tuple[str, ...], tuple[str, ...]]


def _told(entry: Entry) -> _Told:
    """All that is told of a task but what it is about and its limits."""
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
        return hold_block(group, width, kit)
    first = group.entries[0]
    if len(group.entries) == 1:
        head = _heading(first, (0.0, 0.0), width, kit)
        body = _instructions(group, (0.0, -head.height - 1.0), width, kit)
        return Block((*head.marks, *body.marks), (0.0, 0.0), width, -body.bottom)
    name = paragraph((0.0, 0.0), width, first.words.name, NUMBER, kit.lettering)
    body = _instructions(group, (0.0, -name.height), width, kit)
    ticks = _ticks(group.entries, (0.0, body.bottom - 2.0), width, kit)
    return Block((*name.marks, *body.marks, *ticks.marks), (0.0, 0.0), width, -ticks.bottom)


def halved(group: Group) -> tuple[Group, ...]:
    """The group as two smaller ones, for a block too tall for its page."""
    middle = (len(group.entries) + 1) // 2
    return (Group(group.entries[:middle], group.like),
            Group(group.entries[middle:], group.like or group.entries[0].number))


def hold_block(group: Group, width: float, kit: Kit) -> Block:
    """A bordered block across the page: what to do, the limits, and where the lead signs."""
    entry, words, lettering = group.entries[0], kit.words, kit.lettering
    inner = width - 2 * PAD
    left = (inner - BETWEEN) / 2
    top = -BAND - 1.5
    do = stack((PAD, top), (
        *_about(entry, left, kit), *_do(group, left, kit), *_why(group, left, kit), *_see(entry, left, kit),
    ), 1.2, left)
    limits = stack((PAD + left + BETWEEN, top), (
        paragraph((0.0, 0.0), left, words.text("checklist.hold.limits"), BODY_BOLD, lettering),
        bullets((0.0, 0.0), left, entry.words.limit, BODY, lettering, TIGHT)), TIGHT, left)
    # The boxes stand side by side at the foot, so that the lead finds them in one place on every hold point.
    foot = min(limits.bottom - 2.0 - SIGNATURE, do.bottom)
    read = 0.46 * left
    head = f"{words.text('checklist.hold.heading')}  {entry.words.name}"
    marks = (
        rectangle((0.0, -BAND, width, 0.0), None, 0.0),
        *_gutter(entry, -(BAND - TICK_SIZE) / 2, kit, (BAND - TICK_SIZE) / 2),
        Text((GUTTER + 3.0, -(BAND + NUMBER.height) / 2), head, NUMBER, grey=1.0),
        Text((width - PAD, -(BAND + BODY.height) / 2), words.text("checklist.hold.stop"), BODY, "right", grey=1.0),
        *do.marks, *limits.marks,
        *signature_box((PAD + left + BETWEEN, foot), read, words.text("checklist.hold.read"), lettering, SIGNATURE),
        *signature_box((PAD + left + BETWEEN + read + 3.0, foot), left - read - 3.0,
                       words.text("checklist.hold.sign"), lettering, SIGNATURE),
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


def _heading(entry: Entry, at: Point, width: float, kit: Kit) -> Block:
    """Tick, number, station; beside them the name, and below it what this task is about."""
    text = stack((at[0] + GUTTER, at[1]), (
        paragraph((0.0, 0.0), width - GUTTER, entry.words.name, NUMBER, kit.lettering),
        *_about(entry, width - GUTTER, kit)), 0.0, width - GUTTER)
    return Block((*_gutter(entry, at[1], kit), *text.marks), at, width, max(TICK_SIZE, text.height))


def _about(entry: Entry, width: float, kit: Kit) -> tuple[Block, ...]:
    """What the task is about, in bold, and the parts it touches."""
    bold = f"**{entry.words.each}**" if entry.words.each else ""
    text = "  ".join(part for part in (bold, " ".join(entry.task.marks)) if part)
    return (paragraph((0.0, 0.0), width, text, BODY, kit.lettering),) if text else ()


def _instructions(group: Group, at: Point, width: float, kit: Kit) -> Block:
    """Two columns: what to do; what to check, why, and where to look."""
    entry = group.entries[0]
    left = DO_SHARE * (width - BETWEEN)
    right = width - BETWEEN - left
    do = stack(at, _do(group, left, kit), TIGHT, left)
    beside = stack((at[0] + left + BETWEEN, at[1]), (
        *_check(entry, right, kit), *_why(group, right, kit),
        *(_see(entry, right, kit) if len(group.entries) == 1 else ())), 1.2, right)
    return Block((*do.marks, *beside.marks), at, width, max(do.height, beside.height))


def _do(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    if group.like is not None:
        again = kit.words.text("checklist.again", number=group.like)
        return (paragraph((0.0, 0.0), width, again, BODY, kit.lettering),)
    return (bullets((0.0, 0.0), width, group.entries[0].words.do, BODY, kit.lettering, TIGHT),)


def _check(entry: Entry, width: float, kit: Kit) -> tuple[Block, ...]:
    label = kit.words.text("checklist.check")
    return tuple(paragraph((0.0, 0.0), width, f"**{label}:** {text}", BODY, kit.lettering)
                 for text in entry.words.check)


def _why(group: Group, width: float, kit: Kit) -> tuple[Block, ...]:
    if group.like is not None:
        return ()
    label = kit.words.text("checklist.why")
    return tuple(paragraph((0.0, 0.0), width, f"{label}: {text}", BODY_ITALIC, kit.lettering)
                 for text in group.entries[0].words.why)


def _see(entry: Entry, width: float, kit: Kit) -> tuple[Block, ...]:
    if not entry.task.sheets:
        return ()
    return (paragraph((0.0, 0.0), width, _sheets(entry.task, kit), BODY_BOLD, kit.lettering),)


def _sheets(task: Task, kit: Kit) -> str:
    return f"{kit.words.text('checklist.see')} {', '.join(task.sheets)}"


def _ticks(entries: tuple[Entry, ...], at: Point, width: float, kit: Kit) -> Block:
    """A tick box, number and station for each of several like tasks, two beside each other."""
    cell = (width - BETWEEN) / 2
    room = cell - GUTTER
    marks: list[Mark] = []
    y = at[1]
    for row in range(0, len(entries), 2):
        y -= 2.0 if row else 0.0
        tallest = TICK_SIZE
        for column, entry in enumerate(entries[row:row + 2]):
            x = at[0] + column * (cell + BETWEEN)
            text = stack((x + GUTTER, y), (*_about(entry, room, kit), *_see(entry, room, kit)), 0.0, room)
            marks += [*_gutter(entry, y, kit, x), *text.marks]
            tallest = max(tallest, text.height)
        y -= tallest
    return Block(tuple(marks), at, width, at[1] - y)


def rule(width: float) -> Block:
    """A thin line that parts two blocks."""
    return Block((Line((0.0, 0.0), (width, 0.0), TABLE),), (0.0, 0.0), width, 0.0)
