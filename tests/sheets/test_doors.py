"""Door sheets read as data: heights from the top and above ground, hands, marks, numbers of the plan."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.description.terms import Swing
from packet.plan import make_plan
from packet.sheets import cards, cautions, checklist, erect, wind
from packet.sheets import doors as door_sheets
from packet.sheets.doors import draw
from packet.tape.strips import Role
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import faults, kit_of, prose, texts
from tests.zoo import plain_zoo, zoo, zoo_plan


def test_check_case() -> None:
    # Check case: holes 23 below the top on door and jamb, both 25 above ground; the door 47 high; trim 1.
    plan = plan_of(CHECK_CASE)
    front = texts(draw(plan, kit_of(plan))[0])
    assert front.count("23") == 2 and front.count("25") == 2
    assert front.count("47") == 1 and front.count("48") == 1
    assert "trim 1 off" in front


@pytest.mark.parametrize("name", zoo())
def test_dimensions_are_those_of_the_project(name: str) -> None:
    plan = zoo_plan(name)
    doors, form, ring = plan.description.doors, plan.form, plan.geometry
    front = texts(draw(plan, kit_of(plan))[0])
    above = form.length(ring.wall_height - doors.latch_below_head)
    for figure in (
        form.length(doors.latch_below_head),
        above,
        form.length(doors.latch_from_free_edge),
        form.length(ring.leaf_width),
    ):
        assert front.count(figure) >= 2, figure
    assert form.length(ring.wall_height) in front
    assert form.length(ring.wall_height - doors.bottom_trim) in front


@pytest.mark.parametrize("name", zoo())
def test_words_and_marks(name: str) -> None:
    plan = zoo_plan(name)
    said = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)))
    for door in plan.assembly.doors:
        assert f"door {door.mark} shuts on jamb {plan.assembly.jamb_of(door).mark}" in " ".join(
            sheet.subtitle for sheet in draw(plan, kit_of(plan))
        )
        assert f"{door.mark} and {plan.assembly.above(door).mark}" in said
    assert f"hinge on the {plan.description.doors.hand.value.upper()}, seen from outside" in said
    assert "either face" in said and "TOPS ON ONE LINE" in said
    assert f"Sleeve {plan.form.length(plan.assembly.thickness)} long" in said
    for strip in plan.strips:
        if strip.role is Role.DOUBLER:
            assert plan.form.length(strip.width) in said.split()


@pytest.mark.parametrize("name", plain_zoo())
def test_no_swing_leaf_no_sheet(name: str) -> None:
    assert draw(zoo_plan(name), kit_of(zoo_plan(name))) == ()


@pytest.mark.parametrize("name", zoo())
def test_a_latched_panel_is_told_from_the_door(name: str) -> None:
    plan = zoo_plan(name)
    doors = replace(plan.description.doors, second=Swing.PANEL)
    plan = replace(plan, description=replace(plan.description, doors=doors))
    assert list(faults(plan, draw)) == []
    sheets = draw(plan, kit_of(plan))
    first, second = (leaf.mark for leaf in plan.assembly.doors)
    assert plan.assembly.by_mark[second].half == "B"
    pairs = " ".join(sheet.subtitle for sheet in sheets)
    assert f"door {first} shuts" in pairs and f"panel {second} shuts" in pairs
    said = " ".join(prose(sheet) for sheet in sheets)
    assert f"{second} is a panel, not a door" in said and f"door {first} and panel {second}" in said
    assert "panel" not in " ".join(prose(sheet) for sheet in draw(zoo_plan(name), kit_of(zoo_plan(name))))


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_panel_is_called_a_panel_wherever_it_is_folded_or_shut(language: str) -> None:
    """With two doors every page speaks of both; with a panel none calls it a door, and the two ways out stay two."""
    both, first, kinds = {"en": ("both doors", "door A1 and panel B1", "door and panel"),
                          "es": ("dos puertas", "puerta A1 y panel B1", "puerta y panel")}[language]
    text = zoo()["six left"] + f"language: {language}\n"
    said = {}
    for name, project in (("doors", text), ("panel", text.replace("doors: {", "doors: {second: panel, "))):
        plan = make_plan(describe(read_text(project, Path("hut.yaml"))))
        kit = kit_of(plan)
        said[name] = [prose(sheet) for file in (erect, cards, wind, checklist, cautions, door_sheets)
                      for sheet in file.draw(plan, kit)]
    assert sum(both in page for page in said["doors"]) >= 7
    assert not any(both in page for page in said["panel"])
    assert sum(first in page for page in said["panel"]) >= 5 and any(kinds in page for page in said["panel"])
