"""Bars on the clock: a row for each station, a lane for each task that runs beside another."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from packet.description.clock import DAY, written
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Text, rectangle
from packet.drawing.pens import FRAME, HATCH, NARROW, TABLE, Pen
from packet.drawing.room import LayoutError, Room
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.work.effort import Effort
from packet.work.mending import numbered
from packet.work.schedule import Schedule
from packet.work.stations import Station

LABELS = 25.0  # mm at the left for the stations
HEAD = 6.0  # mm at the top for the hours
LANE = (4.6, 9.0)  # mm, least and most height of a lane
USUAL = 6.5  # mm of a lane where several days share a page
APART = 6.0  # mm between two days on a page
CLEAR = 0.8  # mm between what stands in a lane
REST = 0.9  # grey of breaks
HOUR = 60
GRID = Pen(0.13, grey=0.6)


@dataclass(frozen=True, slots=True)
class Chart:
    """One page's charts; `days` are the days it shows."""

    days: tuple[int, ...]
    marks: Drawing


@dataclass(frozen=True, slots=True)
class _Bar:
    effort: Effort
    number: int
    left: float
    right: float
    lane: int
    inside: bool


@dataclass(frozen=True, slots=True)
class _Part:
    """A day, or a part of one, with its bars by station."""

    begins: float
    ends: float
    bars: dict[Station, list[_Bar]]

    @property
    def day(self) -> int:
        return int(self.begins // DAY) + 1

    @property
    def lanes(self) -> int:
        return sum(1 + max(bar.lane for bar in row) for row in self.bars.values())

    def height(self, lane: float) -> float:
        return HEAD + lane * self.lanes


def charts(plan: Plan, kit: Kit, made: Schedule, room: Room) -> tuple[Chart, ...]:
    """A chart for every day with work, halved where its lanes do not fit the room; short days share a page.

    Raises LayoutError where an hour does not fit.
    """
    parts: list[_Part] = []
    at = numbered(plan)
    for day in range(made.last_day):
        windows = [window for window in made.days.windows if DAY * day <= window[0] < DAY * (day + 1)]
        begins = math.floor(windows[0][0] / HOUR) * HOUR
        ends = math.ceil(min(windows[-1][1], made.finish) / HOUR - 1e-6) * HOUR
        parts += _halved(at, kit, made, room, float(begins), float(max(ends, begins + HOUR)))
    found: list[Chart] = []
    while parts:
        count = next(n for n in range(len(parts), 0, -1) if n == 1 or _together(parts[:n], USUAL) <= room.height)
        shared, parts = parts[:count], parts[count:]
        lane = min(LANE[1], (room.height - _together(shared, 0.0)) / sum(part.lanes for part in shared))
        marks: list[Mark] = []
        rest = room
        for part in shared:
            own, rest = rest.cut_top(part.height(lane), gap=APART)
            marks += _drawn(plan, kit, made, own, part, lane)
        found.append(Chart(tuple(dict.fromkeys(part.day for part in shared)), tuple(marks)))
    return tuple(found)


def _together(parts: list[_Part], lane: float) -> float:
    return sum(part.height(lane) for part in parts) + APART * (len(parts) - 1)


def _halved(at: Mapping[str, int], kit: Kit, made: Schedule, room: Room, begins: float, ends: float) -> Iterator[_Part]:
    part = _Part(begins, ends, _bars(at, kit, made, room, begins, ends))
    if not part.bars:
        return
    if part.height(LANE[0]) <= room.height:
        yield part
        return
    if ends - begins <= HOUR:
        raise LayoutError("crew schedule: an hour has more tasks side by side than the page has lanes; use larger paper")
    middle = begins + math.ceil((ends - begins) / 2 / HOUR) * HOUR
    yield from _halved(at, kit, made, room, begins, middle)
    yield from _halved(at, kit, made, room, middle, ends)


def _bars(at: Mapping[str, int], kit: Kit, made: Schedule, room: Room, begins: float, ends: float) -> dict[Station, list[_Bar]]:
    """Bars by station, each in the first lane that is free where it and its number stand."""
    unit = (room.width - LABELS) / (ends - begins)
    free: dict[Station, list[float]] = {}
    found: dict[Station, list[_Bar]] = {}
    for effort in sorted(made.efforts, key=lambda each: made.slots[each.task.key].start):
        number = at[effort.task.key]
        slot = made.slots[effort.task.key]
        if slot.finish <= begins or slot.start >= ends:
            continue
        left = room.left + LABELS + (max(slot.start, begins) - begins) * unit
        right = room.left + LABELS + (min(slot.finish, ends) - begins) * unit
        text = kit.lettering.width(str(number), FINE_BOLD)
        inside = right - left >= text + 1.2
        # A number beside a short bar stands on its right, or at the end of the page on its left.
        before = not inside and right + 0.6 + text > room.right
        starts = left - text - 1.2 if before else left
        stops = right if inside or before else right + 0.6 + text
        lanes = free.setdefault(effort.task.station, [])
        lane = next((n for n, till in enumerate(lanes) if till + CLEAR <= starts), len(lanes))
        if lane == len(lanes):
            lanes.append(0.0)
        lanes[lane] = stops
        found.setdefault(effort.task.station, []).append(_Bar(effort, number, left, right, lane, inside))
    return {station: found[station] for station in Station if station in found}


def _drawn(plan: Plan, kit: Kit, made: Schedule, room: Room, part: _Part, lane: float) -> Drawing:
    begins, ends, bars = part.begins, part.ends, part.bars
    counts = {station: 1 + max(bar.lane for bar in row) for station, row in bars.items()}
    foot = room.top - HEAD - lane * part.lanes
    unit = (room.width - LABELS) / (ends - begins)

    def x(moment: float) -> float:
        return room.left + LABELS + (min(max(moment, begins), ends) - begins) * unit

    marks: list[Mark] = [rectangle((x(a), foot, x(b), room.top - HEAD), None, REST)
                         for a, b in _rests(made, begins, ends)]
    for pause in plan.description.crew.pauses:
        a, b = (x(DAY * (pause.day - 1) + minutes) for minutes in pause.hours)
        if b > a:
            marks += hatch(((a, foot), (b, foot), (b, room.top - HEAD), (a, room.top - HEAD)), 3.0, 45, HATCH)
    marks.append(Text((room.left + 1.0, room.top - HEAD + 1.4), kit.words.text("crew.schedule.day", day=part.day), BODY_BOLD))
    for hour in range(int(begins), int(ends) + 1, HOUR):
        marks.append(Line((x(hour), foot), (x(hour), room.top - HEAD), GRID))
        text = written(hour % DAY)
        half = kit.lettering.width(text, FINE_BOLD) / 2
        at = min(max(x(hour), room.left + LABELS + half), room.right - half)
        marks.append(Text((at, room.top - HEAD + 1.6), text, FINE_BOLD, "centre"))
    y = room.top - HEAD
    for station, row in bars.items():
        marks.append(Line((room.left, y), (room.right, y), FRAME if y == room.top - HEAD else TABLE))
        low = y - lane * counts[station]
        middle = (y + low) / 2 - BODY_BOLD.height / 2
        marks += [Text((room.left + 1.0, middle), str(station), BODY_BOLD),
                  Text((room.left + 7.0, middle + 0.4), kit.words.name(station.word).lower(), FINE)]
        for bar in row:
            marks += _bar(kit, made, bar, y - lane * bar.lane, lane, room)
        y = low
    marks.append(Line((room.left, y), (room.right, y), FRAME))
    return tuple(marks)


def _rests(made: Schedule, begins: float, ends: float) -> Iterator[tuple[float, float]]:
    """Times without work between two moments."""
    at = begins
    for a, b in made.days.windows:
        if b <= begins or a >= ends:
            continue
        if a > at:
            yield at, a
        at = b
    if at < ends:
        yield at, ends


def _bar(kit: Kit, made: Schedule, bar: _Bar, top: float, lane: float, room: Room) -> Drawing:
    """A critical task is black, another white; a number that does not fit stands beside it on white."""
    critical = made.network.times[bar.effort.task.key].critical
    pad = 0.12 * lane
    low, high = top - lane + pad, top - pad
    base = (low + high - FINE_BOLD.height) / 2
    text = str(bar.number)
    drawn = rectangle((bar.left, low, bar.right, high), NARROW, 0.0 if critical else 1.0)
    if bar.inside:
        return (drawn, Text(((bar.left + bar.right) / 2, base), text, FINE_BOLD, "centre", grey=1.0 if critical else 0.0))
    wide = kit.lettering.width(text, FINE_BOLD)
    if bar.right + 0.6 + wide > room.right:
        return (drawn, Text((bar.left - 0.6, base), text, FINE_BOLD, "right"))
    return (drawn, Text((bar.right + 0.6, base), text, FINE_BOLD))
