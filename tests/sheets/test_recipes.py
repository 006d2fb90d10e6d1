"""Hinge recipes read as data: full size, every strip and seam told, numbers that agree with the plan."""

from __future__ import annotations

import math
from functools import cache

import pytest

from packet.assembly.records import SeamKind, seam_gap
from packet.drawing.marks import Path
from packet.drawing.page import Sheet
from packet.sheets.recipes import draw
from packet.tape.strips import Role
from packet.work.sheet_numbers import sheet_number
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import faults, kit_of, on_paper, prose
from tests.zoo import zoo, zoo_plan

KINDS = {
    "mid": (SeamKind.WALL_MID, SeamKind.GORE_MID),
    "corner": (SeamKind.CORNER,),
    "eave": (SeamKind.EAVE,),
    "hip": (SeamKind.HIP,),
}


@cache
def _zoo_sheets(name: str) -> tuple[Sheet, ...]:
    return draw(zoo_plan(name), kit_of(zoo_plan(name)))


def _of(sheets: tuple[Sheet, ...], recipe: str) -> list[Sheet]:
    numbers = {sheet_number(f"recipe.{recipe}", page) for page in range(1, 9)}
    return [sheet for sheet in sheets if sheet.number in numbers]


@pytest.mark.parametrize("name", zoo())
def test_nothing_collides_or_leaves_the_room(name: str) -> None:
    assert list(faults(zoo_plan(name), draw)) == []


@pytest.mark.parametrize("path", [*SAMPLES, CHECK_CASE], ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_samples_on_both_papers(path: object, paper: str) -> None:
    assert list(faults(on_paper(plan_of(path), paper), draw)) == []  # type: ignore[arg-type]


@pytest.mark.parametrize("name", zoo())
@pytest.mark.parametrize("recipe", KINDS)
def test_every_seam_is_named_and_counted(name: str, recipe: str) -> None:
    plan, sheets = zoo_plan(name), _zoo_sheets(name)
    said = " ".join(prose(sheet) for sheet in _of(sheets, recipe))
    seams = plan.assembly.bonded(*KINDS[recipe])
    assert f"Seams: {len(seams)}, together {plan.form.feet(sum(seam.length for seam in seams))}" in said
    for seam in seams:
        assert seam.mark in said.split()


@pytest.mark.parametrize("name", zoo())
@pytest.mark.parametrize("recipe", ["corner", "eave", "hip"])
def test_the_gap_is_printed_with_its_value(name: str, recipe: str) -> None:
    plan, sheets = zoo_plan(name), _zoo_sheets(name)
    said = " ".join(prose(sheet) for sheet in _of(sheets, recipe))
    seam = plan.assembly.bonded(*KINDS[recipe])[0]
    gap = plan.form.length(seam_gap(plan.assembly.thickness, seam.angle_open))
    assert f"gap {gap}: right, leave it open" in said
    assert plan.form.angle(seam.angle_open) in said


def test_check_case_numbers() -> None:
    # Hinge law (common practice), boards of 1: flat 4, wrap 6, gaps 1.00 / 1.00 / 0.50; angles 120, 120, 151.04.
    plan = plan_of(CHECK_CASE)
    sheets = draw(plan, kit_of(plan))
    for recipe, gap, angle in (("corner", "1", "120.0°"), ("eave", "1", "120.0°"), ("hip", "1/2", "151.0°")):
        said = " ".join(prose(sheet) for sheet in _of(sheets, recipe))
        for phrase in (f"gap {gap}: right, leave it open", angle, "FLAT STRIP 4", "WRAP STRIP 6"):
            assert phrase in said or phrase.replace(" STRIP", " strip").lower() in said.lower(), (recipe, phrase)
    sill = " ".join(prose(sheet) for sheet in _of(sheets, "sill"))
    # Sill strip 4 in on 1 in board: land 1.5; eight cuts of 2.5; 10 ft in each half.
    for phrase in ("SILL STRIP 4", "1-1/2 on the INNER face", "Slits: 8, each 2-1/2 long", "together 20.0 ft"):
        assert phrase in sill


@pytest.mark.parametrize("name", zoo())
def test_two_rolls_are_drawn_with_their_lap(name: str) -> None:
    plan, sheets = zoo_plan(name), _zoo_sheets(name)
    wrap = next(strip for strip in plan.strips if strip.role is Role.WRAP)
    strips = [sheet for sheet in _of(sheets, "corner") if sheet.title.endswith("strips")]
    assert bool(strips) is (len(wrap.tapes) > 1)
    if strips:
        assert f"LAP {plan.form.length(wrap.overlap)}" in prose(strips[0])


@pytest.mark.parametrize("name", [*zoo()])
def test_sections_are_full_size(name: str) -> None:
    plan, sheets = zoo_plan(name), _zoo_sheets(name)
    for recipe in KINDS:
        first = _of(sheets, recipe)[0]
        assert first.scale_label == "SCALE 1:1" and {view.ratio for view in first.viewports} == {1.0}
        boards = [
            mark
            for mark in first.marks
            if isinstance(mark, Path)
            and mark.fill == 1.0
            and mark.pen is None
            and len(mark.points) == 4
            and _side(mark) == pytest.approx(plan.assembly.thickness)
        ]
        assert len(boards) >= 2


def _side(path: Path) -> float:
    """The side of a drawn board from closing to opening face, paper mm."""
    return math.dist(path.points[0], path.points[3])
