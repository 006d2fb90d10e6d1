"""Hinge recipes read as data: full size, every strip and seam told, numbers that agree with the plan."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path as File

import pytest

from packet.assembly.records import Seam, SeamKind, seam_gap
from packet.description.loading import describe
from packet.description.reading import read_text
from packet.drawing.marks import Path
from packet.drawing.page import Sheet
from packet.plan import Plan, make_plan
from packet.sheets.recipes import draw
from packet.tape.strips import Role
from packet.work.recipe_sheets import recipe_sheet
from packet.work.sheet_numbers import sheet_number
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import faults, kit_of, prose
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

KINDS = {
    "mid": (SeamKind.WALL_MID, SeamKind.GORE_MID),
    "corner": (SeamKind.CORNER,),
    "eave": (SeamKind.EAVE,),
    "hip": (SeamKind.HIP,),
}


@cache
def _zoo_sheets(name: str) -> tuple[Sheet, ...]:
    return draw(zoo_plan(name), kit_of(zoo_plan(name)))


def _bent_screen(angle: float) -> Plan:
    text = plain_zoo()["screen"].replace("height: 1800", f"height: 1800, open_angle: {angle}")
    return make_plan(describe(read_text(text, File("bent.yaml"))))


def _of(sheets: tuple[Sheet, ...], recipe: str) -> list[Sheet]:
    numbers = {sheet_number(f"recipe.{recipe}", page) for page in range(1, 9)}
    return [sheet for sheet in sheets if sheet.number in numbers]


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
    strips = [sheet for sheet in _of(sheets, "mid") if sheet.title.startswith("Strips")]
    assert len(strips) == int(len(wrap.tapes) > 1)
    if strips:
        assert f"LAP {plan.form.length(wrap.overlap)}" in prose(strips[0])
        # Once for all: it names every recipe whose strips it shows, the foil of the mid seams apart.
        width = plan.form.length_unit(wrap.width)
        assert f"Wrap strip, {width} wide: mid seams, corners, eaves, hips" in prose(strips[0])


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


@pytest.mark.parametrize("name", plain_zoo())
def test_listed_seams_have_two_pages_a_class(name: str) -> None:
    """Every class is named by its faces, its angle and its seams, with the gap where one is."""
    plan, sheets = zoo_plan(name), {sheet.number: sheet for sheet in _zoo_sheets(name)}
    classes: dict[tuple[str, float, float], list[Seam]] = {}
    for seam in plan.assembly.bonded():
        classes.setdefault((seam.closing_face, round(seam.angle_open, 6), seam.angle_packed), []).append(seam)
    for place, ((closing, angle, packed), seams) in enumerate(classes.items()):
        tape, check = sheets[f"H-{4 + 2 * place:02d}"], sheets[f"H-{5 + 2 * place:02d}"]
        assert tape.title.endswith(": tape") and check.title.endswith(": check")
        assert tape.title.lower().startswith(closing) and tape.title[:-4] == check.title[:-5]
        said, laid = prose(check), prose(tape)
        assert f"Seams: {len(seams)}, together {plan.form.feet(sum(seam.length for seam in seams))}" in said
        for seam in seams:
            assert seam.mark in said.split()
            assert recipe_sheet(plan.assembly, seam) == tape.number
        gap = plan.form.length(2 * plan.assembly.thickness * math.sin(math.radians(180 - angle) / 2))
        assert f"gap {gap}: right, leave it open" in said and plan.form.angle(angle) in said
        assert (f"{closing.upper()} face up" in laid) and f"{closing.upper()} faces together" in laid
        assert ("this once" in laid) is (packed == 180.0) is ("in one plane" in said)
        # Foil covers what lies outside: the wrap while folded, or the flat strip after opening.
        assert ("Still folded: foil" in laid) is (closing == "inner")
        assert ("over the flat strip, last" in laid) is (closing == "outer")
    assert not {sheet.title for sheet in sheets.values()} & {"Mid seams: tape", "Corners: tape", "Hips: tape"}


@pytest.mark.parametrize("angle", [10, 30, 60, 89, 91, 150, 178, 180])
def test_listed_seams_at_any_angle(angle: float) -> None:
    assert list(faults(_bent_screen(angle), draw)) == []


@pytest.mark.parametrize("name", releasable_zoo())
def test_the_hip_that_comes_apart(name: str) -> None:
    plan = zoo_plan(name)
    (seam,) = (seam for seam in plan.assembly.seams if seam.removable)
    (sheet,) = (sheet for sheet in _zoo_sheets(name) if sheet.title == "Releasable hip")
    said = prose(sheet)
    # Two lands and the V's chord 2 t sin(turn / 2).
    turn = math.radians(180 - seam.angle_open)
    least = 2 * plan.description.tape.land + 2 * plan.assembly.thickness * math.sin(turn / 2)
    assert f"one strip {plan.form.length(least)} or wider" in said
    assert seam.mark in said and plan.form.length_unit(seam.length) in said
    assert "Closed last." in said and "Before every folding:" in said and "no flat strip, no wrap, no foil" in said
    assert sheet.number == sheet_number("recipe.release")


def test_no_releasable_hip_where_all_are_bonded() -> None:
    assert "Releasable hip" not in {sheet.title for sheet in _zoo_sheets("six left")}
