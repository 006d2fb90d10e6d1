"""Values that cannot be built together: refused with numbers that were worked out by hand, with advice that works."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.description import Kind, ProjectError
from packet.description.loading import describe
from packet.description.problems import Problem
from packet.description.reading import read_text
from packet.description.resolved import Description
from packet.units import System
from tests.description.conftest import RIGHT, changed


def advised(remedy: str) -> Iterator[dict[str, str]]:
    """Every way to follow a remedy, as keys and values: parts joined by `and` belong together."""
    for way in re.split(r"\bor\b(?! (?:less|more))|,|` to `", remedy.replace("` to `", "`, `")):
        pairs = dict(re.findall(r"`?(\w+): ([^`]+)`?", way))
        if pairs:
            yield pairs


def followed(content: str, pairs: dict[str, str]) -> str:
    for key, value in pairs.items():
        content, count = re.subn(rf"(?m)^( *){key}:.*$", rf"\g<1>{key}: {value}", content, count=1)
        assert count == 1, key
    return content


class Case(NamedTuple):
    """Lines that are changed, from -> to; the key that is refused; what must be said; and every way out."""

    changes: dict[str, str]
    key: str
    value: str
    message: str
    limit: str
    remedies: list[str]


# fmt: off
CASES = [
    # A ring of n walls has 2n wall leaves in two columns of n - 1 and n + 1.
    Case({"  walls: 6": "  walls: 5"}, "shelter.walls", "5", "unequal (4 and 6 wall leaves)", "even number",
         ["walls: 4", "walls: 6", "releasable: yes"]),
    # With 8 walls the apothem would be 20 / tan 22.5 = 48.28, more than the slant of 42: no advice to try it.
    Case({"  walls: 6": "  walls: 7"}, "shelter.walls", "7",
         "unequal (6 and 8 wall leaves)", "even number", ["walls: 6", "releasable: yes"]),
    # 20 / tan 22.5 = 48.284; 42 tan 22.5 = 17.397, so 17-5/16 closes with a print step to spare.
    Case({"  walls: 6": "  walls: 8"}, "shelter.leaf_width", "20", "(the apothem) is 48.28 in", "under 17.40 in",
         ["leaf_width: 17-5/16 in", "slant: 48-3/8 in"]),
    # 20 / tan 30 = 34.64102 and no less: 34.641 x tan 30 = 19.99999, less a step 19.9375.
    Case({"  slant: 42": "  slant: 34.641"}, "shelter.leaf_width", "20", "is 34.64 in", "over 34.64 in",
         ["leaf_width: 19-7/8 in", "slant: 34-3/4 in"]),
    # A hole of 1.315 that is 4 from the edge leaves 4 - 0.6575 = 3.3425 for the land.
    Case({"  land: 2": "  land: 10"}, "tape.land", "10", "leaf's two edges would meet", "under 10.00 in",
         ["land: 3-5/16 in"]),
    # 12 / tan 30 = 20.78, so a slant of 23 closes.
    Case({"  leaf_width: 20": "  leaf_width: 12", "  slant: 42": "  slant: 23", "  tip_trim: 4": "  tip_trim: 23"},
         "shelter.tip_trim", "23", "whole roof leaf", "under 23 in", ["tip_trim: 3 in"]),
    Case({"  bottom_trim: 3/4": "  bottom_trim: 12", "  wall_height: 54": "  wall_height: 48"}, "doors.bottom_trim",
         "12", "too much of the door", "under 12.00 in", ["bottom_trim: 11-15/16 in"]),
    # Radius 0.6575 and land 2: from the edge 2.6575 to 17.3425.
    Case({"  latch_from_free_edge: 4": "  latch_from_free_edge: 2.6"}, "doors.latch_from_free_edge", "2.6",
         "cut into the tape", "2-11/16 in to 17-5/16 in",
         ["latch_from_free_edge: 2-11/16 in", "latch_from_free_edge: 17-5/16 in"]),
    Case({"  latch_from_free_edge: 4": "  latch_from_free_edge: 17.4"}, "doors.latch_from_free_edge", "17.4",
         "cut into the tape", "2-11/16 in to 17-5/16 in",
         ["latch_from_free_edge: 2-11/16 in", "latch_from_free_edge: 17-5/16 in"]),
    # From the head 2.6575 to 54 - 0.75 - 2.6575 = 50.5925.
    Case({"  latch_below_head: 27": "  latch_below_head: 51"}, "doors.latch_below_head", "51", "cut into the tape",
         "2-11/16 in to 50-9/16 in", ["latch_below_head: 2-11/16 in", "latch_below_head: 50-9/16 in"]),
    # Across flats of the opening: 2 x (20 x 4 / 42) / tan 30 = 6.598; 7 needs 7 / 2 x tan 30 x 42 / 20 = 4.243.
    Case({"duct: 3": "duct: 7"}, "duct", "7", "6.60 in across its flats", "at most 6.60 in",
         ["tip_trim: 4-1/4 in", "duct: 6-9/16 in"]),
    # The delivered board of 11-1/2 is narrower than the nominal 12, and is what counts.
    Case({"  size: 48 x 96": "  size: 12 x 96", "  spare: 1": "  edge_trim: 5-3/4",
          "  measured: []": "  measured: [{length: 96, breadth: 11-1/2}]"},
         "boards.edge_trim", "5-3/4", "leave nothing of a board", "under 5.75 in", ["edge_trim: 0"]),
    Case({"  overlap: 1/2": "  overlap: 3"}, "foil.overlap", "3", "lie over each other", "under 3 in",
         ["overlap: 1/2 in"]),
]
# fmt: on


@pytest.mark.parametrize("case", CASES, ids=lambda case: ", ".join(case.changes.values()).strip())
def test_what_cannot_be_built_is_refused_with_advice_that_works(
    case: Case, problems: Callable[[str], tuple[Problem, ...]], loaded: Callable[[str], Description]
) -> None:
    content = RIGHT
    for old, new in case.changes.items():
        content = changed(old, new, content)
    (problem,) = (problem for problem in problems(content) if problem.key == case.key)
    assert (problem.kind, problem.value) == (Kind.UNFEASIBLE, case.value)
    assert case.message in problem.message
    assert case.limit in problem.limit
    ways = list(advised(problem.remedy))
    assert [f"{name}: {text}" for way in ways for name, text in way.items()] == case.remedies
    for way in ways:
        loaded(followed(content, way))


def test_no_room_for_the_latch_is_told_with_sizes_that_make_room(
    problems: Callable[[str], tuple[Problem, ...]], loaded: Callable[[str], Description]
) -> None:
    # Two lands of 4 and a hole of 6 need 14 of the leaf's 12.
    content = changed("  leaf_width: 20", "  leaf_width: 12").replace("  land: 2\n", "  land: 4\n")
    content = content.replace("latch_hole: 1.315", "latch_hole: 6")
    (problem,) = problems(content)
    assert problem.key == "doors.latch_from_free_edge"
    (way,) = advised(problem.remedy)
    assert way == {"leaf_width": "14-1/8 in", "latch_from_free_edge": "7 in"}
    loaded(followed(content, way))


def test_metric_refusals_speak_in_millimetres(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    content = "project: p\nunits: mm\nshelter: {walls: 8, leaf_width: 600, wall_height: 1200, slant: 1200}\n"
    (problem,) = problems(content + "boards: {size: 1200 x 2500, thickness: 25}\n")
    # 600 / tan 22.5 = 1448.5; 1200 tan 22.5 = 497.06, less one millimetre and down to whole: 496.
    assert "is 1448.5 mm" in problem.message
    assert [*advised(problem.remedy)] == [{"leaf_width": "496 mm"}, {"slant": "1450 mm"}]
    assert " in " not in problem.limit


def test_findings_come_with_the_other_problems(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    content = changed("  slant: 42", "  slant: 30").replace("  tool: saw", "  tool: axe")
    assert [(problem.key, problem.kind) for problem in problems(content)] == [
        ("shelter.leaf_width", Kind.UNFEASIBLE),
        ("boards.tool", Kind.MALFORMED),
    ]


def test_a_default_that_does_not_fit_is_told_at_its_group(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    content = changed("  latch_from_free_edge: 4", "").replace("leaf_width: 20", "leaf_width: 6")
    (problem,) = (problem for problem in problems(content) if problem.key == "doors.latch_from_free_edge")
    assert problem.value == "4 (the default)"
    assert content.split("\n")[problem.line - 1] == "doors:"


def _shelter(system: System, numbers: list[int]) -> str:
    """A project file of whole inches, or of units of 25 mm, that need not be possible to build."""
    each = 1 if system is System.INCH else 25
    walls, width, height, slant, trim, bottom, head, edge, hole, land, duct = numbers
    return f"""\
project: p
units: {system}
duct: {duct * each}
shelter:
  walls: {walls}
  releasable: no
  leaf_width: {width * each}
  wall_height: {height * each}
  slant: {slant * each}
  tip_trim: {trim * each}
doors:
  bottom_trim: {bottom * each}
  latch_below_head: {head * each}
  latch_from_free_edge: {edge * each}
  latch_hole: {hole * each}
boards: {{size: 1200 x 2400 mm, thickness: 30 mm}}
tape:
  land: {land * each}
"""


def _told(content: str) -> tuple[Problem, ...]:
    try:
        describe(read_text(content, Path("p.yaml")))
    except ProjectError as error:
        return error.problems
    return ()


@settings(deadline=None)
@given(
    st.sampled_from(System),
    st.tuples(
        *(
            st.integers(least, most)
            for least, most in (
                (4, 12), (2, 120), (4, 120), (4, 192), (1, 24), (0, 12), (1, 120), (1, 60), (1, 6), (1, 12), (1, 60),
            )
        )
    ),
)  # fmt: skip
def test_advice_always_removes_the_problem(system: System, numbers: tuple[int, ...]) -> None:
    content = _shelter(system, list(numbers))
    for problem in _told(content):
        assert problem.kind is Kind.UNFEASIBLE, str(problem)
        ways = list(advised(problem.remedy))
        assert ways or problem.key == "duct"
        for way in ways:
            left = _told(followed(content, way))
            assert problem.key not in {other.key for other in left}, (str(problem), way)
            assert all(other.kind is Kind.UNFEASIBLE for other in left), (str(problem), way, list(map(str, left)))
