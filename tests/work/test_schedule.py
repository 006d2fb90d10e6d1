"""Effort and schedule of real projects: quantities conserved, resources kept, pauses kept, bounds below."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packet.boards.records import CutKind
from packet.description.crew_values import Crew, Pause
from packet.description.loading import describe
from packet.description.problems import ProjectError
from packet.description.reading import read_text
from packet.plan import Plan
from packet.tape.strips import STRAPPING
from packet.work.effort import Effort, Work, efforts, learned_rates, minutes
from packet.work.schedule import Schedule, loses_two_hours, one_more, plan_schedule, schedule
from packet.work.stations import Station
from packet.work.tasks import tasks
from packet.work.working_days import taping_days, working_days
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.zoo import SCREEN, zoo_plan

PLANS = {**{path.stem: plan_of(path) for path in (*SAMPLES, CHECK_CASE)},
         **{name: zoo_plan(name) for name in ("four inch", "twelve metric", "five", "screen", "cool-box")}}


@pytest.fixture(params=PLANS)
def plan(request: pytest.FixtureRequest) -> Plan:
    return PLANS[request.param]


def made(plan: Plan) -> tuple[tuple[Effort, ...], Schedule]:
    return efforts(plan, tasks(plan)), plan_schedule(plan)


def test_all_tape_and_all_cuts_are_in_the_quantities(plan: Plan) -> None:
    """Against sums over the strips and the boards; releasable strips are no part of the shelter and come on top."""
    found, _ = made(plan)
    loose = sum(seam.length for seam in plan.assembly.seams if seam.removable)
    strapping = sum(s.length * len(s.tapes) for s in plan.strips if s.role in STRAPPING)
    foil = sum(s.length * len(s.tapes) for s in plan.strips if s.role not in STRAPPING)
    cuts = sum(board.cut_length for board in plan.boards)
    round_openings = sum(o.perimeter for leaf in plan.assembly.leaves for o in leaf.openings)
    for kind, length in ((Work.STRIP, strapping + loose), (Work.FOIL, foil), (Work.CUT, cuts + round_openings)):
        assert sum(each.quantities.get(kind, 0) for each in found) == pytest.approx(length), kind
    assert sum(each.quantities.get(Work.SLIT, 0) for each in found) == len(plan.relief)


def test_cut_length_of_the_check_case() -> None:
    """88.1 ft with tip and door trims, worked out by hand (common practice, no published source)."""
    found, _ = made(plan_of(CHECK_CASE))
    assert sum(each.quantities.get(Work.CUT, 0) for each in found) / 304.8 == pytest.approx(88.1, abs=0.05)
    assert any(cut.kind is CutKind.DOOR for board in plan_of(CHECK_CASE).boards for cut in board.cuts)


def test_every_task_takes_time_and_the_lead_holds_every_hold_point(plan: Plan) -> None:
    for each in made(plan)[0]:
        assert each.minutes > 0, each.task.key
        assert each.lead or each.hands >= 2, each.task.key
        assert each.lead or not each.task.hold


def test_the_schedule_keeps_order_hands_seats_and_lead(plan: Plan) -> None:
    found, done = made(plan)
    crew, seats_at = plan.description.crew, plan.description.crew.seats
    short = [each.task for each in done.short]
    room = {Station.P: seats_at.prepare, Station.C: seats_at.cut, Station.H: seats_at.hinge,
            Station.E: seats_at.edges, Station.R: seats_at.roof, Station.J: seats_at.join, Station.X: seats_at.erect}
    for each in found:
        slot = done.slots[each.task.key]
        assert all(done.slots[key].finish <= slot.start + 1e-6 for key in each.task.after)
        now = [other for other in found if done.slots[other.task.key].start <= slot.start + 1e-9
               and done.slots[other.task.key].finish > slot.start + 1e-6]
        assert sum(min(other.hands, crew.people) for other in now) <= crew.people
        assert sum(other.lead for other in now) <= 1
        for station, seats in room.items():
            here = [other for other in now if other.task.station is station and other.hands]
            assert sum(other.hands for other in here) <= seats or (len(here) == 1 and here[0].task in short)
        assert done.days.worked(slot.finish) - done.days.worked(slot.start) >= each.minutes - 1e-6


def test_never_below_the_bound(plan: Plan) -> None:
    found, done = made(plan)
    assert done.worked >= done.bounds.least - 1e-6
    assert done.bounds.path >= max(each.minutes for each in found)
    took = {key: times.earliest_finish - times.earliest_start for key, times in done.network.times.items()}
    assert sum(took[each.task.key] for each in found if each.lead) == pytest.approx(done.bounds.lead)


def test_two_people_take_longer_and_one_more_helps() -> None:
    plan = PLANS["frost_watch"]
    found = efforts(plan, tasks(plan))
    crew = replace(plan.description.crew, people=2)
    small = schedule(found, crew)
    assert small.worked > plan_schedule(plan).worked
    assert small.short
    assert all(each.hands > 2 for each in small.short)
    assert one_more(found, crew) > 0


def test_a_station_that_stands_still_costs_two_hours_at_most() -> None:
    plan = PLANS["twelve metric"]
    found, done = made(plan)
    assert done.short
    assert max(loses_two_hours(done.efforts, plan.description.crew, done).values()) < 240
    plan = PLANS["ticket_booth"]
    found, done = made(plan)
    lost = loses_two_hours(found, plan.description.crew, done)
    assert set(lost) == {each.task.station for each in found} - {Station.L}
    assert all(-1e-6 <= cost <= 120 + 1e-6 for cost in lost.values())
    assert lost[Station.C] == pytest.approx(120)  # everything waits for the only board


def clock(**changes: object) -> Crew:
    crew: Crew = replace(plan_of(CHECK_CASE).description.crew, **changes)  # type: ignore[arg-type]
    return crew


def test_days_have_their_hours_without_breaks() -> None:
    """8:00, 8 h, breaks of 15, 60 and 15 minutes: home at 17:30, reckoned by hand."""
    days = working_days(clock())
    assert days.windows[:4] == ((480, 600), (615, 720), (780, 900), (915, 1050))
    assert days.after(480, 480) == 1050
    assert days.opens(1050) == 1440 + 480
    assert days.after(700, 30) == 790
    assert days.worked(2000) == pytest.approx(480 + 80)


def test_a_crew_that_never_ends_is_refused() -> None:
    """Two people for two hundred hours of folding a seam: a year does not do. Many shelters take long, and print."""
    plan = PLANS["frost_watch"]
    slow = replace(plan.description, rates=replace(plan.description.rates, fold=600.0), quantity=24,
                   crew=clock(people=2, hours=1.0))
    with pytest.raises(ProjectError, match=r"crew: .*limit: 365 days.*quantity"):
        plan_schedule(replace(plan, description=slow))
    many = replace(plan.description, quantity=24, crew=clock(people=2, hours=4.0))
    assert 60 < plan_schedule(replace(plan, description=many)).last_day < 365


def test_no_tape_is_begun_in_the_rain() -> None:
    plan = PLANS["fish_box"]
    found, dry = made(plan)
    crew = replace(plan.description.crew, pauses=(Pause(1, (600, 1000), "rain"),))
    wet = schedule(found, crew)
    assert wet.finish > dry.finish
    for each in found:
        if each.tape:
            slot = wet.slots[each.task.key]
            rest = max(0.0, min(slot.finish, 1000) - max(slot.start, 600))
            assert not 600 <= slot.start < 1000
            assert rest in (0.0, 400.0)
    assert taping_days(crew).opens(700) == 1000


def test_rates_are_learned_from_times() -> None:
    """Twice the planned time for every cutting task: half the length in a minute. What was not timed stays."""
    plan = PLANS["frost_watch"]
    rates = plan.description.rates
    found = efforts(plan, tasks(plan))
    slow = [(each, 2 * each.minutes) for each in found if each.task.step == "mark"]
    assert learned_rates(slow, rates) == replace(rates, line=2 * rates.line)
    hinge = [(each, each.minutes / 2) for each in found if each.task.step.startswith("hinge_")]
    assert learned_rates(hinge, rates) == replace(rates, strip=2 * rates.strip)
    assert learned_rates((), rates) == rates
    assert minutes({Work.CUT: 6 * rates.cut, Work.LINE: 2}, rates) == pytest.approx(6 + 2 * rates.line)


@pytest.mark.parametrize(("more", "said"), [
    ("crew: {people: 1}", "people"), ("crew: {start: 25:00}", "time of day"), ("crew: {breaks: [13:00-12:00]}", "ends before"),
    ("crew: {pauses: [{day: 1, hours: noon, reason: rain}]}", "from one time"), ("rates: {cut: 0 m}", "small"),
    ("seats: {cut: 0}", "small"), ("rates: {line: -1}", "small")])
def test_mistakes_are_told(more: str, said: str) -> None:
    with pytest.raises(ProjectError) as caught:
        describe(read_text(SCREEN + more + "\n", Path("screen.yaml")))
    assert said in "\n".join(caught.value.rendered())


def test_work_of_every_sample_is_a_whole_in_order(plan: Plan) -> None:
    """The checklist is a topological order of the tasks; each strip, cut and slit is in one task and no more."""
    work = tasks(plan)
    place = {task.key: index for index, task in enumerate(work)}
    assert all(place[before] < place[task.key] for task in work for before in task.after)
    for done, there in (
            ([mark for task in work for mark in task.strips], [strip.mark for strip in plan.strips]),
            ([cut for task in work for cut in task.cuts], [(b.mark, cut.number) for b in plan.boards for cut in b.cuts]),
            ([(c.strip, c.between) for task in work for c in task.relief], [(c.strip, c.between) for c in plan.relief])):
        assert sorted(done) == sorted(there)
    held = {task.step for task in work if task.hold}
    wanted = {"receive", "first_pieces", "first_hinge", "fold", "erect"}
    wanted |= {"relief"} if plan.relief else set()
    wanted |= {"interlock"} if len(plan.assembly.halves) > 1 else set()
    assert held == wanted
    assert sum(task.step == "fold" for task in work) == len(plan.assembly.halves)
