"""Splices on paper: nothing collides on any sheet that shows parts, and every part is told to the crew."""

from __future__ import annotations

from importlib import import_module

import pytest

from packet.assembly.splicing import parts_of
from packet.sheets import halves, inspection, splice
from packet.work.tasks import tasks
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose
from tests.zoo import spliced_zoo, zoo_plan

SHOWN_ON = ("splice", "marking", "parts", "halves", "labels", "strips", "cuts", "recipes")


@pytest.mark.parametrize("name", spliced_zoo())
@pytest.mark.parametrize("sheet", SHOWN_ON)
def test_nothing_collides(name: str, sheet: str) -> None:
    assert list(faults(zoo_plan(name), import_module(f"packet.sheets.{sheet}").draw)) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["tall six", "tall roof metric"])
def test_the_recipe_fits_every_paper(name: str, paper: str) -> None:
    assert list(faults(on_paper(zoo_plan(name), paper), splice.draw)) == []


def test_whole_leaves_need_no_splice_sheet() -> None:
    plan = zoo_plan("six metric")
    assert splice.draw(plan, kit_of(plan)) == ()


@pytest.mark.parametrize("name", spliced_zoo())
def test_every_part_and_both_faces_are_told_at_full_size(name: str) -> None:
    plan = zoo_plan(name)
    sheets = splice.draw(plan, kit_of(plan))
    told = " ".join(prose(sheet) for sheet in sheets)
    assert "INNER" in told
    assert "OUTER" in told
    for leaf in plan.assembly.leaves:
        if leaf.splices:
            assert "+".join(part.mark for part in parts_of(leaf)) in told.replace("+ ", "+")
    assert sheets[0].viewports[0].ratio == 1.0


def test_a_splice_is_told_where_it_could_be_taken_for_a_hinge() -> None:
    plan = zoo_plan("tall six")
    told = " ".join(prose(sheet) for sheet in splice.draw(plan, kit_of(plan)))
    assert "No relief cut" in told
    assert "no engineering approval" in told
    assert not [cut for cut in plan.relief if "splice" in cut.strip]
    assert "Never slit" in " ".join(prose(sheet) for sheet in halves.draw(plan, kit_of(plan)))
    read = " ".join(prose(sheet) for sheet in inspection.draw(plan, kit_of(plan)))
    assert "Splices, both faces" in read
    assert "Gap where parts butt" in read


@pytest.mark.parametrize("name", spliced_zoo())
def test_parts_are_joined_after_cutting_and_before_hinging(name: str) -> None:
    plan = zoo_plan(name)
    order = [task.key for task in tasks(plan)]
    joins = [task for task in tasks(plan) if task.step == "splice"]
    assert {mark for task in joins for mark in task.marks} == {leaf.mark for leaf in plan.assembly.leaves if leaf.splices}
    laid = [mark for task in joins for mark in task.strips]
    assert sorted(laid) == sorted(strip.mark for strip in plan.strips if "splice " in strip.mark)
    for task in joins:
        assert f"sort:{task.values['half']}" in task.after
        hinges = [other for other in tasks(plan) if other.step.startswith("hinge_") and set(other.marks) & set(task.marks)]
        assert hinges
        assert all(order.index(task.key) < order.index(other.key) and task.key in other.after for other in hinges)
