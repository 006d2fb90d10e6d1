"""List scheduling: whenever something is free, the first job of a list that can begin does (Graham 1966, 1969).

With m equal machines the result is never longer than 2 - 1/m times the best there is; more hands, shorter jobs or
fewer links can make it longer (Graham's anomalies), so the list matters. Jobs are not interrupted, but work rests
while their calendar is closed.
"""

from __future__ import annotations

import heapq
import math
from bisect import insort
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from packet.work.network import NONE, Job


class Calendar(Protocol):
    """When work goes on, minutes from the start of the first day's clock."""

    def opens(self, moment: float) -> float:
        """The first moment, from this one on, at which work goes on."""

    def after(self, moment: float, minutes: float) -> float:
        """When that much work, begun at an open moment, is done."""


@dataclass(frozen=True, slots=True)
class Always:
    """No rest."""

    def opens(self, moment: float) -> float:
        return moment

    def after(self, moment: float, minutes: float) -> float:
        return moment + minutes


@dataclass(frozen=True, slots=True)
class Staffed:
    """A job with what it holds from its start to its end: hands, seats, the lead; and when it may go on."""

    job: Job
    needs: Mapping[str, int] = field(default_factory=dict)
    calendar: Calendar = Always()


@dataclass(frozen=True, slots=True)
class Slot:
    """When a job begins and ends, in its calendar's minutes."""

    key: str
    start: float
    finish: float


def list_schedule(jobs: Iterable[Staffed], room: Mapping[str, int], order: Sequence[str]) -> tuple[Slot, ...]:
    """Slots of all jobs in the order in which they begin; `order` is the list, `room` what there is of each need.

    Raises ValueError for a job that needs more than there is, or where jobs wait for each other.
    """
    staffed = {each.job.key: each for each in jobs}
    for key, each in staffed.items():
        for name, count in each.needs.items():
            if count > room[name]:
                raise ValueError(f"{key} needs {count} of {name}, there are {room[name]}")
    waiting = [staffed[key] for key in order]
    left = [len(each.job.after) for each in waiting]
    follow: dict[str, list[int]] = {}
    for index, each in enumerate(waiting):
        for before in each.job.after:
            follow.setdefault(before, []).append(index)
    ready = [index for index, count in enumerate(left) if not count]  # in the order of the list
    free = dict(room)
    busy: list[tuple[float, str]] = []
    slots: list[Slot] = []
    now = 0.0
    while len(slots) < len(waiting):
        begun = False
        next_open = math.inf
        kept: list[int] = []
        for index in ready:
            each = waiting[index]
            opens = each.calendar.opens(now)
            if opens > now + NONE:
                next_open = min(next_open, opens)
                kept.append(index)
                continue
            if any(free[name] < count for name, count in each.needs.items()):
                kept.append(index)
                continue
            finish = each.calendar.after(now, each.job.minutes)
            slots.append(Slot(each.job.key, now, finish))
            heapq.heappush(busy, (finish, each.job.key))
            for name, count in each.needs.items():
                free[name] -= count
            begun = begun or finish <= now + NONE
        ready = kept
        if not begun:
            now = min(busy[0][0] if busy else math.inf, next_open)
            if now == math.inf and len(slots) < len(waiting):
                begun_keys = {slot.key for slot in slots}
                stuck = [key for key in order if key not in begun_keys]
                raise ValueError(f"these jobs wait for each other: {', '.join(stuck)}")
        for key in _finished(busy, now, staffed, free):
            for after in follow.get(key, ()):
                left[after] -= 1
                if not left[after]:
                    insort(ready, after)
    return tuple(slots)


def _finished(busy: list[tuple[float, str]], moment: float, staffed: Mapping[str, Staffed],
              free: dict[str, int]) -> Iterator[str]:
    """The jobs that end by this moment, each when what it held is given back."""
    while busy and busy[0][0] <= moment + NONE:
        _, key = heapq.heappop(busy)
        for name, count in staffed[key].needs.items():
            free[name] += count
        yield key


def end(slots: Iterable[Slot]) -> float:
    return max((slot.finish for slot in slots), default=0.0)
