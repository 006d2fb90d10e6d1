"""The crew's schedule: tasks on the clock with the people, seats and hours there are; bounds; what would change it.

`schedule` tries a few lists and keeps the best; the bounds say how far from the best possible that can be.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from packet.description.clock import DAY
from packet.description.crew_values import Crew
from packet.description.problems import ProjectError
from packet.findings import never_done
from packet.plan import Plan
from packet.work.effort import Effort, efforts
from packet.work.list_scheduling import Slot, Staffed, end, list_schedule
from packet.work.mending import whole_work
from packet.work.network import Job, Network, network
from packet.work.stations import Station
from packet.work.working_days import DAYS, WorkingDays, taping_days, working_days

HANDS = "hands"
LEAD = "lead"
LOST = 120.0
"""Minutes of work that a station loses in the question what that would cost."""

_SEATS = {Station.P: "prepare", Station.C: "cut", Station.H: "hinge", Station.E: "edges", Station.R: "roof",
          Station.J: "join", Station.X: "erect"}


@dataclass(frozen=True, slots=True)
class Bounds:
    """No schedule can be shorter, minutes of work: the critical path, all work over all hands, the lead's own
    work, and the work of each station over its seats."""

    path: float
    hands: float
    lead: float
    stations: Mapping[Station, float]

    @property
    def least(self) -> float:
        return max(self.path, self.hands, self.lead, *self.stations.values())


@dataclass(frozen=True)
class Schedule:
    """Slots in minutes from midnight of the first day; `worked` is how many of them are work until the end."""

    efforts: tuple[Effort, ...]
    slots: Mapping[str, Slot]
    network: Network
    bounds: Bounds
    days: WorkingDays
    worked: float
    short: tuple[Effort, ...]
    """Tasks that want more hands than there are, or find seats: all there are do them, slower in proportion (assumption)."""

    @property
    def finish(self) -> float:
        return end(self.slots.values())

    @property
    def last_day(self) -> int:
        """The day of the end, counted from 1."""
        return int((self.finish - 1e-6) // DAY) + 1

    def done_by(self, moment: float) -> tuple[str, ...]:
        """Keys of the tasks that should be done at a moment, in the order of the work."""
        return tuple(each.task.key for each in self.efforts if self.slots[each.task.key].finish <= moment + 1e-6)


@lru_cache(maxsize=2)  # the crew's sheets, the briefing and the stations' cards ask
def plan_schedule(plan: Plan) -> Schedule:
    """The schedule of a project's work, that of its decisions too, with its own crew and rates. Raises ProjectError for
    work that ends too late."""
    try:
        made = schedule(efforts(plan, whole_work(plan)), plan.description.crew)
        late = made.last_day > DAYS
    except OverflowError:
        late = True
    if late:
        raise ProjectError([never_done(plan.description, DAYS)])
    return made


def schedule(work: Sequence[Effort], crew: Crew, closed: Station | None = None, at: float = 0.0) -> Schedule:
    """Every task on the crew's clock. With `closed`, that station loses LOST minutes of work from the moment `at`."""
    days, taping = working_days(crew), taping_days(crew)
    room = _room(crew)
    found = [_slowed(each, room) for each in work]
    held = {each.task.key: _needs(each, room) for each in found}
    lost = [(at, days.after(days.opens(at), LOST))]
    open_days = (days, taping)
    left = tuple(calendar.without(lost) for calendar in open_days) if closed else open_days
    staffed = [Staffed(each.job, held[each.task.key], (left if each.task.station is closed else open_days)[each.tape])
               for each in found]
    waits = [each for each in found if each.waits]
    staffed += [Staffed(Job(each.waiting, each.waits, each.task.after)) for each in waits]
    jobs = network((*(Job(each.waiting, days.within(each.waits), each.task.after) for each in waits),
                    *(each.job for each in found)))
    first = [each.waiting for each in waits]  # they hold nobody up
    slots = min((list_schedule(staffed, room, (*first, *order)) for order in _lists(found, jobs)), key=end)
    return Schedule(tuple(work), {slot.key: slot for slot in slots}, jobs, _bounds(found, held, jobs, room), days,
                    days.worked(end(slots)), tuple(each for each in found if _wants(each) != held[each.task.key]))


def one_more(found: Sequence[Effort], crew: Crew) -> float:
    """Minutes of work that one more pair of hands, with a seat wherever the hands go, would save.

    Never below 0: who is not needed stands by, whatever a list would do with them (Graham's anomalies).
    """
    seats = crew.seats
    more = replace(crew, people=crew.people + 1,
                   seats=replace(seats, **{name: getattr(seats, name) + 1 for name in _SEATS.values()}))
    return max(0.0, schedule(found, crew).worked - schedule(found, more).worked)


def loses_two_hours(found: Sequence[Effort], crew: Crew, known: Schedule) -> dict[Station, float]:
    """Minutes of work by which the end moves where a station stands still for two hours from its first task on."""
    first: dict[Station, float] = {}
    for each in found:
        start = known.slots[each.task.key].start
        first[each.task.station] = min(start, first.get(each.task.station, start))
    return {station: schedule(found, crew, station, first[station]).worked - known.worked
            for station in _SEATS if station in first}


def seats_of(crew: Crew, station: Station) -> int:
    """People at the station at once; 1 for the lead."""
    return getattr(crew.seats, _SEATS[station]) if station in _SEATS else 1


def _lists(found: Sequence[Effort], jobs: Network) -> Iterable[list[str]]:
    """Orders to try: least latest start first, the checklist's own, most work first among equals."""
    keys = [each.task.key for each in found]
    area = {each.task.key: each.minutes * max(1, each.hands) for each in found}
    place = {key: index for index, key in enumerate(keys)}
    yield sorted(keys, key=lambda key: (jobs.times[key].latest_start, place[key]))
    yield keys
    yield sorted(keys, key=lambda key: (jobs.times[key].latest_start - area[key], place[key]))


def _room(crew: Crew) -> dict[str, int]:
    return {HANDS: crew.people, LEAD: 1, **{str(station): seats_of(crew, station) for station in _SEATS}}


def _wants(each: Effort) -> dict[str, int]:
    needs = {HANDS: each.hands, LEAD: int(each.lead)}
    if each.task.station in _SEATS:
        needs[str(each.task.station)] = each.hands
    return {name: count for name, count in needs.items() if count}


def _needs(each: Effort, room: Mapping[str, int]) -> dict[str, int]:
    """What the task wants, or all there is of it."""
    return {name: min(count, room[name]) for name, count in _wants(each).items()}


def _slowed(each: Effort, room: Mapping[str, int]) -> Effort:
    """The effort with the hands there are: half of those it wants take twice the time."""
    share = max((count / room[name] for name, count in _wants(each).items()), default=1.0)
    return replace(each, minutes=each.minutes * share) if share > 1.0 else each


def _bounds(found: Sequence[Effort], held: Mapping[str, Mapping[str, int]], jobs: Network,
            room: Mapping[str, int]) -> Bounds:
    def over(name: str) -> float:
        return sum(each.minutes * held[each.task.key].get(name, 0) for each in found) / room[name]

    return Bounds(jobs.length, over(HANDS), over(LEAD), {station: over(str(station)) for station in _SEATS})
