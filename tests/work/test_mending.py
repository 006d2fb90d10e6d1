"""Decisions on spoiled parts as work: each in its place, each new line in one task, planned numbers left alone."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
import pytest

from packet.description.decided import Remedy
from packet.miscut.answers import Case, answers
from packet.miscut.damage import Damage
from packet.plan import Plan, make_plan
from packet.sheets import added, crew, station_cards
from packet.work.effort import efforts
from packet.work.mending import mending_tasks, whole_work
from packet.work.schedule import plan_schedule
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose, texts
from tests.zoo import zoo, zoo_plan

INCH = 25.4


def taken(plan: Plan, mark: str, remedy: Remedy, damage: Damage) -> Plan:
    found = next(one for one in answers(Case(plan, plan.assembly.by_mark[mark], damage, "as measured"))
                 if one.remedy is remedy)
    assert found.decision is not None, found.no
    return make_plan(replace(plan.description, decided=(*plan.description.decided, found.decision)))


def several(plan: Plan) -> Plan:
    """Decisions of every kind but one; the second blank is what the first left, the spare comes from the first."""
    plan = taken(plan, "A3R", Remedy.BLANK, Damage(wrong_hand=True))
    plan = taken(plan, "A2R", Remedy.SPARE, Damage(lost=True))
    plan = taken(plan, "A4R", Remedy.BLANK, Damage(lost=True))
    plan = taken(plan, "A5", Remedy.PACKER, Damage(width=23.5 * INCH))
    plan = taken(plan, "A3", Remedy.PARTNER, Damage(width=23.5 * INCH))
    plan = taken(plan, "A5", Remedy.SLOT, Damage(height=47.5 * INCH))
    plan = taken(plan, "A2", Remedy.BOARD, Damage(lost=True))
    return taken(plan, "B5", Remedy.USE, Damage(width=23.95 * INCH))


def test_planned_work_keeps_its_numbers() -> None:
    plan = plan_of(CHECK_CASE)
    assert mending_tasks(plan) == () and whole_work(plan) == tasks(plan)
    assert [task.key for task in tasks(several(plan))] == [task.key for task in tasks(plan)]


def test_each_decision_comes_after_what_it_needs_and_before_the_leaves_are_sorted() -> None:
    plan = several(plan_of(CHECK_CASE))
    work = whole_work(plan)
    at = {task.key: place for place, task in enumerate(work)}
    assert all(at[before] < at[task.key] for task in work for before in task.after)
    graph = nx.DiGraph([(before, task.key) for task in work for before in task.after])
    keys = [task.key for task in mending_tasks(plan)]
    assert keys == ["mend_cut:1", "mend_spare:2", "mend_cut:3", "mend_glue:4", "mend_set:4", "mend_trim:5", "mend_slot:6",
                    "mend_cut:7", "mend_use:8"]
    for first, then in (("mend_cut:1", "mend_spare:2"), ("mend_cut:1", "mend_cut:3"), ("mend_set:4", "mend_slot:6"),
                        ("mend_trim:5", "mend_cut:7"), ("cut:5", "mend_cut:1"), ("receive", "mend_cut:7")):
        assert first in nx.ancestors(graph, then), (first, then)
    assert {*keys} - {"mend_use:8"} < nx.ancestors(graph, "sort:A")
    assert "mend_use:8" in nx.ancestors(graph, "sort:B")
    assert set(keys) < nx.ancestors(graph, "inspect")


def test_every_new_line_is_cut_in_one_task_and_takes_time() -> None:
    plan = several(plan_of(CHECK_CASE))
    made = [cut for task in whole_work(plan) for cut in task.cuts]
    boards = (*plan.boards, *(recut.board for recut in plan.mended.recuts))
    assert sorted(made) == sorted((board.mark, cut.number) for board in boards for cut in board.cuts)
    by_key = {effort.task.key: effort for effort in efforts(plan, whole_work(plan))}
    for task in mending_tasks(plan):
        assert task.station is Station.C and task.sheets[0] == sheet_number("mending", task.values["number"])
        assert by_key[task.key].minutes > 0
        assert task.hold == (task.key == "mend_set:4")


def test_sheet_of_the_added_work() -> None:
    plan = several(plan_of(CHECK_CASE))
    pages = added.draw(plan, kit_of(plan))
    text = " ".join(prose(page) for page in pages)
    first = len(tasks(plan)) + 1
    assert pages[0].number == "L-32" and pages[0].subject.startswith(f"{first} to")
    sort = [number for number, task in enumerate(tasks(plan), 1) if task.key == "sort:A"]
    assert f"before task {sort[0]}" in text
    assert "24 h" in text and "A3R-W1" in text
    assert added.draw(plan_of(CHECK_CASE), kit_of(plan_of(CHECK_CASE))) == ()


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_collides(paper: str) -> None:
    assert list(faults(on_paper(several(plan_of(CHECK_CASE)), paper), added.draw)) == []


@pytest.mark.parametrize("name", ["four left thick", "twelve metric", "screen", "booth", "cool-box"])
def test_nothing_collides_on_other_shelters(name: str) -> None:
    plan = zoo_plan(name)
    plan = taken(plan, plan.assembly.leaves[1].mark, Remedy.BOARD, Damage(lost=True))
    assert list(faults(plan, added.draw)) == []
    assert name in zoo() or len(added.draw(plan, kit_of(plan))) == 1


def test_the_schedule_holds_the_added_work_and_waits_for_glue() -> None:
    """Glue sets by the clock, over night and breaks (24 h is common practice, no source)."""
    before, plan = plan_of(CHECK_CASE), several(plan_of(CHECK_CASE))
    made = plan_schedule(plan)
    assert made.slots.keys() >= {task.key for task in mending_tasks(plan)}
    for each in made.efforts:
        assert all(made.slots[key].finish <= made.slots[each.task.key].start + 1e-6 for key in each.task.after)
    assert made.slots["mend_set:4"].start >= made.slots["mend_glue:4"].finish + 24 * 60 - 1e-6
    assert made.slots["sort:A"].start >= made.slots["mend_set:4"].finish
    assert plan_schedule(before).finish + 12 * 60 < made.finish
    assert made.bounds.least <= made.worked + 1e-6
    day = 60 * plan.description.crew.hours
    assert made.bounds.path >= day  # whatever begins before the glue, a whole day of work passes while it sets


def test_sheets_of_the_schedule_number_the_added_work_behind_the_planned() -> None:
    plan = several(plan_of(CHECK_CASE))
    first = len(tasks(plan)) + 1
    rows = [text for page in crew.draw(plan, kit_of(plan)) if "by task" in page.title for text in texts(page)]
    at = rows.index(str(first))
    assert rows[at + 1].startswith("Cut a leaf anew: A3R")
    cards = " ".join(prose(page) for page in station_cards.draw(plan, kit_of(plan)) if page.station == Station.C.word)
    assert f"Added: {first}, " in cards and f"sheet {sheet_number('added')} and on" in cards
    assert f"{first + 4} Glue sets: A5" in cards
    planned = [task for task in tasks(plan) if task.station is Station.C]
    assert f"together {len(planned)}." in cards
    assert list(faults(plan, station_cards.draw)) == list(faults(plan, crew.draw)) == []
