"""The words of the work: every step said, nothing said in vain, in both units, in letters that can be set."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.pdf.fonts import lettering
from packet.plan import Plan, make_plan
from packet.units import Format, System
from packet.words import Words
from packet.work.facts import facts
from packet.work.mending import mending_tasks
from packet.work.tasks import tasks
from packet.work.wording import Line, difference, line, shared_values, temperature
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.work.kinds import FIVE, OTHERS, PLAIN
from tests.work.test_mending import several
from tests.zoo import COOL_BOX, plain_zoo, zoo, zoo_plan

SAW = """
project: Saw and duct
units: mm
shelter: {walls: 4, leaf_width: 600, wall_height: 1500, slant: 900, tip_trim: 75}
doors: {hand: left, bottom_trim: 0}
boards: {size: 1200 x 2400, thickness: 50, tool: saw, printed_face: outer,
         measured: [{length: 2402, breadth: 1199}, {length: 2399, breadth: 1200}]}
tape: {land: 50, stock: [100, 150], combine: no}
duct: 80
"""

NAMES = (*zoo(), *plain_zoo(), "check case", "saw", *(path.stem for path in SAMPLES), *OTHERS)

# A number with an inch-pound unit, or an inch or foot mark.
INCH_WORDS = re.compile(r"\d\s?(?:in|inch|inches|ft|feet|sq ft|sq in|cu ft|lb|yd)\b|[\"\u2033]|°F")
METRIC_WORDS = re.compile(r"\d\s?(?:mm|cm|m|kg|m²|m³)\b|°C")


@cache
def plan_named(name: str) -> Plan:
    if name == "check case":
        return plan_of(CHECK_CASE)
    if name == "saw":
        return make_plan(describe(read_text(SAW, Path("saw.yaml"))))
    if name in OTHERS:
        return OTHERS[name]
    sample = next((path for path in SAMPLES if path.stem == name), None)
    return plan_of(sample) if sample else zoo_plan(name)


@cache
def lines(name: str) -> tuple[tuple[str, bool, Line], ...]:
    plan = plan_named(name)
    words = Words(plan.form)
    shared = shared_values(plan, words)
    return tuple((task.step, task.hold, line(task, words, shared)) for task in tasks(plan))


def said(found: Line) -> Iterator[str]:
    yield from (found.name, *((found.each,) if found.each else ()), *found.do, *found.check, *found.why, *found.limit)


@pytest.mark.parametrize("name", NAMES)
def test_every_task_says_what_to_do_and_what_to_check(name: str) -> None:
    for step, hold, found in lines(name):
        assert found.name, step
        assert found.do, step
        assert bool(found.limit) == hold, f"{step}: limits belong to hold points, and every hold point has some"
        assert hold or found.check or step == "keep", f"{step} has no check"


def test_no_step_is_written_in_vain_and_no_part_is_unknown() -> None:
    written = Words(Format(System.INCH)).entry("steps")
    used = {step for name in NAMES for step, _, _ in lines(name)}
    used |= {task.step for task in mending_tasks(several(plan_of(CHECK_CASE)))}
    assert set(written) == used
    assert {part for parts in written.values() for part in parts} <= {"name", "each", "do", "check", "why", "limit"}


@pytest.mark.parametrize("name", NAMES)
def test_one_unit_system_in_a_packet(name: str) -> None:
    system = plan_named(name).form.system
    wrong = INCH_WORDS if system is System.METRIC else METRIC_WORDS
    found = [text for _, _, words in lines(name) for text in said(words) if wrong.search(text)]
    assert not found


def test_the_watch_for_units_sees_them() -> None:
    assert INCH_WORDS.search("Land 2 in.")
    assert INCH_WORDS.search('4\' 2-1/2"')
    assert METRIC_WORDS.search("within 1 mm.")


@pytest.mark.parametrize("name", NAMES)
def test_sentences_are_short_plain_and_can_be_set(name: str) -> None:
    type_ = lettering()
    for step, _, found in lines(name):
        for text in said(found):
            assert type_.can_set(text), text
            assert not re.search(r"[^\x20-\x7e\u00b0\u00d7\u00bd\u2013]", text), f"{step}: {text!r}"
            assert "  " not in text
            assert text == text.strip()
            assert text[:1].isupper() or text[:1].isdigit() or text.startswith("Half"), text
        for text in found.do:
            assert len(text) <= 120, f"{step}: {text}"
            assert text.endswith("."), text


@pytest.mark.parametrize("name", NAMES)
def test_faces_are_told_by_word_and_agree_with_the_hinge_law(name: str) -> None:
    """Closing face: outer for mid seams, inner for corners; the flat strip goes there, the wrap on the other."""
    if plan_named(name).ring is None:
        assert not any(step.startswith("hinge_") and step != "hinge_seam" for step, _, _ in lines(name))
        return
    by_step = {step: " ".join(found.do) for step, _, found in lines(name)}
    for step, closing, opening in (("hinge_wall_mid", "OUTER", "INNER"), ("hinge_gore_mid", "OUTER", "INNER"),
                                   ("hinge_corner", "INNER", "OUTER")):
        text = by_step[step]
        assert f"{closing} face up" in text
        assert f"lat strip on the {closing} face" in text
        assert f"{closing} faces together" in text
        assert f"onto the {opening} faces" in text
    assert "onto the OUTER faces" in by_step["eave_outer"]
    assert "onto the OUTER faces" in by_step["hips"]
    assert "INNER face of each hip" in by_step["hip_flats"]


def test_numbers_of_the_check_case_reach_the_words() -> None:
    """Common practice, no source: 6 in wrap on 1 in board, latch 23 below the top, 25 above ground, doors 24 x 47."""
    text = {step: " ".join(said(found)) for step, _, found in lines("check case")}
    assert "one 6 in strip" in text["hinge_corner"]
    assert "one 4 in strip" in text["hinge_corner"]
    assert "23 in below the TOP" in text["door"]
    assert "25 in above the ground" in text["jamb"]
    assert "1-5/16 in (1.32)" in text["door"]
    assert "24 \u00d7 47 in" in text["inspect"]
    assert "4 slits of 2-1/2 in" in text["sill"]
    assert "53-11/16 in (53.67)" in text["mark"]
    assert "107-5/16 in (107.33)" in text["mark"]
    assert "2-1/2 in along the MID edge" in text["cut"]
    assert "short edge 1-1/4 in (1.25)" in text["first_pieces"]
    # By hand: eight layers of 0.019 in along a hinge line, 0.152; where strips of two hinges cross, at most twice that.
    assert any(f"48 \u00d7 93-1/2 in, 6 in thick, up to {most} in" in text["interlock"]
               for most in ("6-3/16", "6-1/4", "6-5/16"))
    assert "151.0°" in text["erect"]
    # 48 of wall and 45.5 of slant rising 30 degrees: 70.75 to the inner rim of the opening.
    assert "inside, 70-3/4 in (70.75) above the ground" in text["erect"]


def test_taping_weather_in_both_units() -> None:
    """10 °C is 50 °F; a difference of 3 °C is one of 5.4 °F."""
    assert temperature(Format(System.METRIC), 10) == "10 °C"
    assert temperature(Format(System.INCH), 10) == "50 °F"
    assert difference(Format(System.INCH), 3) == "5.4 °F"


@pytest.mark.parametrize("name", PLAIN)
def test_general_hinges_close_on_the_face_of_their_seams(name: str) -> None:
    plan = PLAIN[name]
    words, found = Words(plan.form), 0
    shared = shared_values(plan, words)
    for task in tasks(plan):
        if task.step == "hinge_seam":
            text = " ".join(line(task, words, shared).do)
            for mark in task.values["seams"]:
                seam = plan.assembly.seam_by_mark[mark]
                closing, opening = str(seam.closing_face).upper(), str(seam.opening_face).upper()
                assert f"{closing} face up" in text
                assert f"lat strip on the {closing} face" in text
                assert f"onto the {opening} faces" in text
                found += 1
    assert found == len(plan.assembly.bonded())


@pytest.mark.parametrize("name", PLAIN)
def test_no_word_of_a_ring_where_there_is_none(name: str) -> None:
    text = " ".join(part for _, _, found in lines(name) for part in said(found)).lower()
    for absent in ("half", "halves", "doors?", "roof", "gore", "eaves?", "hips?", "corner seams?", "mid", "interlock",
                   "peak", "jamb", "columns?", "releasable", "walls?"):
        assert not re.search(rf"\b{absent}\b", text), absent


def test_numbers_of_the_plain_ones_reach_the_words() -> None:
    """By hand: six leaves of 25 make 150; a right angle on 25 mm opens 25 * sqrt(2); 50 mm of box in two layers."""
    text = {name: {step: " ".join(said(found)) for step, _, found in lines(name)} for name in PLAIN}
    assert "Stack of 6 layers: 150 mm high" in text["screen"]["fold"]
    assert "Open all 5 seams to 120.0\u00b0" in text["screen"]["erect"]
    assert "Stack of 2 layers: 50 mm high" in text["cool-box"]["fold"]
    assert "35 mm" in text["cool-box"]["erect"]  # 25 * sqrt(2) = 35.4
    assert "1-7/16 in (1.41)" in text["booth"]["erect"]  # sqrt(2)
    assert "75 in (75.00)" in text["booth"]["erect"]


def test_the_releasable_line_is_closed_last_and_opened_first() -> None:
    by_step = {step: found for step, _, found in lines("ring of five")}
    (hip,) = (seam.mark for seam in FIVE.assembly.seams if seam.removable)
    assert hip in by_step["release"].each
    assert hip in by_step["strike"].do[0]
    assert "first of all" in by_step["strike"].do[0]
    assert by_step["interlock"].name == "Stack the halves"


def test_an_opening_is_placed_from_two_edges() -> None:
    (cut,) = (found for step, _, found in lines("ring of five") if step == "opening")
    assert "8 \u00d7 8 in, centre 12 in from the mid edge, 30 in from the sill" in cut.do[0]


def test_first_pieces_of_an_outline_are_measured_edge_by_edge() -> None:
    """sqrt(500 * 500 + 300 * 300) = 583.1."""
    text = " ".join(" ".join(found.limit) for step, _, found in lines("lean-to") if step == "first_pieces")
    assert "WING1: edge 1 500 mm, edge 2 1200 mm, edge 3 583 mm, edge 4 900 mm." in text


def test_a_lid_closes_a_box_and_a_shelf_does_not() -> None:
    found = {path.stem: facts(plan_of(path))["covered"] for path in SAMPLES}
    assert found == {"fish_box": True, "ticket_booth": False, "frost_watch": False, "tide_gauge": False}


def test_a_board_that_comes_as_large_as_its_leaf_has_no_line_to_cut() -> None:
    plan = make_plan(describe(read_text(COOL_BOX.replace("thickness: 25}", "thickness: 25, also: [{size: 600 x 400}]}"),
                                        Path("box.yaml"))))
    assert any(not board.cuts for board in plan.boards)
    words = Words(plan.form)
    said = [line(task, words, shared_values(plan, words)).each for task in tasks(plan) if task.step == "cut"]
    assert any("no line, it comes as large as its leaf" in each for each in said)
