"""The crew's schedule, read as data."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from packet.description.crew_values import Pause
from packet.description.loading import describe
from packet.description.reading import read_text
from packet.plan import Plan, make_plan
from packet.sheets import checklist
from packet.sheets.crew import draw, in_runs
from packet.tape.strips import Role
from packet.work.schedule import plan_schedule
from packet.work.tasks import tasks
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose, texts
from tests.zoo import zoo_plan

NAMES = ("four inch", "twelve metric", "five", "screen", "cool-box")


def paused(plan: Plan) -> Plan:
    crew = replace(plan.description.crew, pauses=(Pause(1, (660, 900), "rain"), Pause(2, (480, 540), "too cold")))
    return replace(plan, description=replace(plan.description, crew=crew))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_collides_where_work_pauses(name: str, paper: str) -> None:
    assert list(faults(on_paper(paused(zoo_plan(name)), paper), draw)) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_task_has_a_bar(path: object) -> None:
    plan = plan_of(path)  # type: ignore[arg-type]
    charts = [sheet for sheet in draw(plan, kit_of(plan)) if sheet.title == "Crew schedule"]
    shown = {int(text) for sheet in charts for text in texts(sheet) if text.isdigit()}
    assert shown == set(range(1, len(tasks(plan)) + 1))


def test_the_figures_are_those_of_the_schedule() -> None:
    plan = paused(zoo_plan("six metric"))
    made = plan_schedule(plan)
    said = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)))
    assert f"{made.worked / 60:.1f} h of work" in said
    assert "11:00-15:00 rain" in said
    noon = [n for n, each in enumerate(made.efforts, 1) if made.slots[each.task.key].finish <= 720]
    assert re.search(rf"day 1, 12:00 {in_runs(noon)} ", said)


def test_tape_and_cuts_add_up_over_the_rows() -> None:
    """Metres printed row by row against the strips and boards of the plan, within the rounding of each row."""
    plan = zoo_plan("six metric")
    said = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)) if sheet.title == "Task by task")
    foil = [float(amount) for amount in re.findall(r"([0-9.]+) m foil", said)]
    wanted = sum(s.length * len(s.tapes) for s in plan.strips if s.role in (Role.FOIL, Role.SEAL)) / 1000
    assert sum(foil) == pytest.approx(wanted, abs=0.05 * len(foil))
    cut = [float(amount) for amount in re.findall(r"([0-9.]+) m cut", said)]
    assert sum(cut) == pytest.approx(sum(board.cut_length for board in plan.boards) / 1000, abs=0.05 * len(cut))
    assert said.count("none") == sum(times.critical for times in plan_schedule(plan).network.times.values())


def test_runs_of_numbers() -> None:
    assert in_runs([6, 1, 2, 3, 4, 9, 10]) == "1-4, 6, 9-10"


def test_many_tasks_side_by_side_make_no_table_taller_than_the_page() -> None:
    """Fifteen sets: what should be done by an evening is then named in many runs of numbers, which three figures have."""
    path = next(path for path in SAMPLES if path.stem == "frost_watch")
    plan = make_plan(describe(read_text(f"{path.read_text(encoding='utf-8')}\nquantity: 15\nlanguage: es\n", path)))
    assert list(faults(plan, draw)) == []
    assert list(faults(plan, checklist.draw)) == []
