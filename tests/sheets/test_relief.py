"""Relief sheets read as data: every cut drawn once at its length, numbered, and listed."""

from __future__ import annotations

import math
import re

import pytest

from packet.drawing.marks import Line
from packet.plan import Plan
from packet.sheets.relief import draw
from packet.sheets.relief_view import SLIT
from packet.tape.relief_map import numbered_cuts
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo, zoo_plan


def _lengths(plan: Plan) -> list[float]:
    return sorted(round(cut.length, 2) for _, cut in numbered_cuts(plan.assembly, plan.relief, "A"))


@pytest.mark.parametrize("name", zoo())
def test_every_cut_is_drawn_at_its_length_and_numbered(name: str) -> None:
    plan = zoo_plan(name)
    maps = [sheet for sheet in draw(plan, kit_of(plan)) if sheet.viewports]
    if len(maps) > 1:
        pytest.skip("parted maps show cuts on the parting twice; the geometry's own tests cover them")
    ratio = maps[0].viewports[0].ratio
    drawn = [
        math.dist(mark.a, mark.b) * ratio for mark in maps[0].marks if isinstance(mark, Line) and mark.pen == SLIT
    ]
    assert sorted(round(length, 2) for length in drawn) == pytest.approx(_lengths(plan))
    said = texts(maps[0])
    assert set(map(str, range(1, len(drawn) + 1))) <= set(said)
    for length in {plan.form.length(cut.length) for cut in plan.relief}:
        assert length in said


@pytest.mark.parametrize("name", zoo())
def test_every_cut_is_listed_once(name: str) -> None:
    plan = zoo_plan(name)
    listed = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)) if sheet.title == "Relief cuts")
    listed = listed.replace("\u00a0", " ")
    for number, cut in numbered_cuts(plan.assembly, plan.relief, "A"):
        assert len(re.findall(rf"(?<!\S){number}: {'/'.join(cut.between)}(?!\S)", listed)) == 1


@pytest.mark.parametrize("name", zoo())
def test_both_views_name_every_leaf_of_both_halves(name: str) -> None:
    plan = zoo_plan(name)
    said = " ".join(" ".join(texts(sheet)) for sheet in draw(plan, kit_of(plan)) if sheet.viewports).replace(",", " ")
    for leaf in plan.assembly.leaves:
        if not leaf.mark.endswith("R"):
            assert said.split().count(leaf.mark) >= 2, leaf.mark
    assert "INNER face up" in said and "OUTER face up" in said
    assert "no sill strip" in said.replace("  ", " ")


def test_numbers_of_the_check_case() -> None:
    # Relief law (common practice): four sill cuts in each half, 2.5 long; 2 above the eave where roof leaves part.
    plan = plan_of(CHECK_CASE)
    said = texts(next(sheet for sheet in draw(plan, kit_of(plan)) if sheet.viewports))
    assert said.count("2-1/2") == 4 and said.count("2") >= 2


def test_a_screen_is_cut_at_every_hinge() -> None:
    # Six standing leaves in one pull: five hinges, five cuts, each the sill land and the edge long.
    plan = zoo_plan("screen")
    sheets = draw(plan, kit_of(plan))
    assert [sheet.title for sheet in sheets] == ["Relief map", "Relief cuts"]
    slits = [mark for mark in sheets[0].marks if isinstance(mark, Line) and mark.pen == SLIT]
    assert len(slits) == 5
    said = prose(sheets[0])
    assert "There are 5 cuts" in said and "half" not in said.lower() and "door" not in said
    # Hinges that close on their outer faces open inside: A1/A2, A3/A4, A5/A6.
    listed = prose(sheets[1])
    inner, outer = listed.index("sill strip, INNER"), listed.index("sill strip, OUTER")
    assert all(inner < listed.index(f"{a}/{b}") < outer for a, b in (("A1", "A2"), ("A3", "A4"), ("A5", "A6")))
    assert all(outer < listed.index(f"{a}/{b}") for a, b in (("A2", "A3"), ("A4", "A5")))


@pytest.mark.parametrize("name", ["cool-box", "across"])
def test_nothing_to_cut_no_sheet(name: str) -> None:
    assert draw(zoo_plan(name), kit_of(zoo_plan(name))) == ()


def test_unlike_halves_are_counted_each_on_its_own_map() -> None:
    # Five walls: half A has five leaves beside its door, half B three.
    plan = zoo_plan("five")
    maps = [prose(sheet) for sheet in draw(plan, kit_of(plan)) if sheet.title == "Relief map"]
    for half, said in zip("AB", maps, strict=True):
        count = len(numbered_cuts(plan.assembly, plan.relief, half))
        assert f"Half {half} has {count} cuts" in said
