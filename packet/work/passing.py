"""What each station receives and hands on: every leaf followed through the tasks that touch it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packet.plan import Plan
from packet.work.stations import Station
from packet.work.task import Task


@dataclass(frozen=True, slots=True)
class Passing:
    """Parts that go from one station's table to another's: boards by number, or marks of leaves of one half."""

    giver: Station
    taker: Station
    half: str
    parts: tuple[str, ...]

    @property
    def boards(self) -> bool:
        """Whole boards, which belong to no half."""
        return not self.half


def passings(plan: Plan, work: Iterable[Task]) -> tuple[Passing, ...]:
    """Everything that is handed on, in the order of the stations; the lead's table passes no parts.

    A task without marks works on every leaf, once there are leaves: the station that cuts makes them.
    """
    ordered = [task for task in work if task.station is not Station.L]
    found: dict[tuple[Station, Station, str], list[str]] = {}
    for leaf in plan.assembly.leaves:
        here: Station | None = None
        for task in ordered:
            if task.marks and leaf.mark not in task.marks:
                continue
            if here is None and not task.marks:
                continue
            if here is not None and task.station is not here:
                there = found.setdefault((here, task.station, leaf.half), [])
                if leaf.mark not in there:
                    there.append(leaf.mark)
            here = task.station
    boards = tuple(board.mark for board in plan.boards)
    order = list(Station)
    return (Passing(Station.P, Station.C, "", boards),
            *(Passing(giver, taker, half, tuple(parts)) for (giver, taker, half), parts in sorted(
                found.items(), key=lambda each: (order.index(each[0][0]), order.index(each[0][1]), each[0][2]))))


def received(found: Iterable[Passing], station: Station) -> tuple[Passing, ...]:
    return tuple(each for each in found if each.taker is station)


def handed_on(found: Iterable[Passing], station: Station) -> tuple[Passing, ...]:
    return tuple(each for each in found if each.giver is station)
