"""Critical path method: earliest and latest times of jobs that wait for each other, their slack, the critical path.

Forward and backward pass as in any handbook of project planning (Kelley and Walker, 1959). Times in minutes of
work from the start; nothing here knows of people, tables or the clock.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

NONE = 1e-6
"""Minutes of slack that count as none."""


@dataclass(frozen=True, slots=True)
class Job:
    """`minutes` of work that begins when all jobs of `after` are done."""

    key: str
    minutes: float
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Times:
    """Earliest and latest start and finish of a job, minutes from the start."""

    earliest_start: float
    earliest_finish: float
    latest_start: float
    latest_finish: float

    @property
    def slack(self) -> float:
        """How long the job can be late without making the end late."""
        return self.latest_start - self.earliest_start

    @property
    def critical(self) -> bool:
        return self.slack <= NONE


@dataclass(frozen=True)
class Network:
    """The times of every job, in the order of the work; `length` is the least time with hands without end."""

    times: Mapping[str, Times]
    length: float
    critical: tuple[str, ...]


def network(jobs: Iterable[Job]) -> Network:
    """Both passes over the jobs. Raises ValueError where jobs wait for each other or for one that is not there."""
    ordered = in_turn(jobs)
    finish: dict[str, float] = {}
    start: dict[str, float] = {}
    for job in ordered:
        start[job.key] = max((finish[key] for key in job.after), default=0.0)
        finish[job.key] = start[job.key] + job.minutes
    length = max(finish.values(), default=0.0)
    latest = dict.fromkeys(finish, length)
    for job in reversed(ordered):
        for key in job.after:
            latest[key] = min(latest[key], latest[job.key] - job.minutes)
    times = {job.key: Times(start[job.key], finish[job.key], latest[job.key] - job.minutes, latest[job.key])
             for job in ordered}
    return Network(times, length, _longest(ordered, times))


def _longest(ordered: tuple[Job, ...], times: Mapping[str, Times]) -> tuple[str, ...]:
    """One unbroken path of critical jobs, from the end back: of several, that through the job listed first."""
    path: list[str] = []
    waiting = [job for job in ordered if times[job.key].critical]
    by_key = {job.key: job for job in ordered}
    at = next((job.key for job in waiting
               if abs(times[job.key].latest_finish - max(t.earliest_finish for t in times.values())) <= NONE
               and not any(job.key in other.after for other in waiting)), None)
    while at is not None:
        path.append(at)
        begins = times[at].earliest_start
        at = next((key for key in by_key[at].after
                   if times[key].critical and abs(times[key].earliest_finish - begins) <= NONE), None)
    return tuple(reversed(path))


def in_turn(jobs: Iterable[Job]) -> tuple[Job, ...]:
    """The jobs, each after those it waits for, otherwise as they are listed."""
    waiting = {job.key: job for job in jobs}
    known = set(waiting)
    for job in waiting.values():
        if missing := [key for key in job.after if key not in known]:
            raise ValueError(f"{job.key} waits for {missing[0]}, which is no job")
    done: dict[str, Job] = {}
    while waiting:
        ready = [key for key, job in waiting.items() if all(before in done for before in job.after)]
        if not ready:
            raise ValueError(f"these jobs wait for each other: {', '.join(waiting)}")
        for key in ready:
            done[key] = waiting.pop(key)
    return tuple(done.values())
