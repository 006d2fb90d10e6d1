"""List scheduling: whenever something is free, the first job of a list that can begin does (Graham 1966, 1969).

With m equal machines the result is never longer than 2 - 1/m times the best there is; more hands, shorter jobs or
fewer links can make it longer (Graham's anomalies), so the list matters. Jobs are not interrupted, but work rests
while their calendar is closed.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Mapping, Sequence
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
    free = dict(room)
    done: set[str] = set()
    busy: list[tuple[float, str]] = []
    slots: list[Slot] = []
    now = 0.0
    while waiting:
        begun = False
        next_open = math.inf
        for each in list(waiting):
            if not all(key in done for key in each.job.after):
                continue
            opens = each.calendar.opens(now)
            if opens > now + NONE:
                next_open = min(next_open, opens)
                continue
            if any(free[name] < count for name, count in each.needs.items()):
                continue
            finish = each.calendar.after(now, each.job.minutes)
            slots.append(Slot(each.job.key, now, finish))
            heapq.heappush(busy, (finish, each.job.key))
            for name, count in each.needs.items():
                free[name] -= count
            waiting.remove(each)
            begun = begun or finish <= now + NONE
        if begun:
            now = _finish(busy, now, staffed, free, done)
            continue
        moment = min(busy[0][0] if busy else math.inf, next_open)
        if moment == math.inf and waiting:
            raise ValueError(f"these jobs wait for each other: {', '.join(each.job.key for each in waiting)}")
        now = _finish(busy, moment, staffed, free, done)
    return tuple(slots)


def _finish(busy: list[tuple[float, str]], moment: float, staffed: Mapping[str, Staffed], free: dict[str, int],
            done: set[str]) -> float:
    """Give back what the jobs held that end by this moment; the moment itself."""
    while busy and busy[0][0] <= moment + NONE:
        _, key = heapq.heappop(busy)
        done.add(key)
        for name, count in staffed[key].needs.items():
            free[name] += count
    return moment


def end(slots: Iterable[Slot]) -> float:
    return max((slot.finish for slot in slots), default=0.0)
