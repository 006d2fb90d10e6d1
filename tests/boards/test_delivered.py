"""Boards as they came: squared, fitted, and refused where they differ too much."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from packet.boards.delivered import skew, smallest, squared_length
from packet.description import ProjectError, load
from packet.description.resolved import MeasuredBoard
from packet.plan import Plan, make_plan
from tests.conftest import CHECK_CASE

INCH = 25.4


def leaning(length: float, breadth: float, shift: float) -> MeasuredBoard:
    """A parallelogram whose far edge is shifted by `shift`: its diagonals from its corners."""
    upright = math.sqrt(breadth**2 - shift**2)
    return MeasuredBoard(length, breadth, (math.hypot(length + shift, upright), math.hypot(length - shift, upright)))


@pytest.mark.parametrize("shift", [0.0, 3.0, -12.0, 40.0])
def test_skew_of_a_parallelogram(shift: float) -> None:
    board = leaning(2440, 1220, shift)
    assert skew(board) == pytest.approx(abs(shift))
    assert squared_length(board) == pytest.approx(2440 - abs(shift))


def planned(tmp_path: Path, *rows: str) -> Plan:
    listed = "".join(f"\n    - {{{row}}}" for row in rows)
    file = tmp_path / "project.yaml"
    file.write_text(CHECK_CASE.read_text(encoding="utf-8").replace("boards:", f"boards:\n  measured:{listed}", 1),
                    encoding="utf-8")
    return make_plan(load(file))


def test_everything_follows_the_boards_that_came(tmp_path: Path) -> None:
    plan = planned(tmp_path, "length: 96, breadth: 48, thickness: [1, 1, 1-1/16, 1]",
                   "length: 96, breadth: 48, diagonals: [107-1/2, 107-1/8]")
    # d1^2 - d2^2 = 80.48, over 4 x 96 is 0.2096 of lean: (96 - 0.2096) / 4 = 23.9476, cut 23-15/16.
    assert plan.form.length(plan.geometry.leaf_width) == "23-15/16"
    assert plan.assembly.thickness / INCH == pytest.approx(1.0625)
    assert plan.pack.thickness / INCH == pytest.approx(6 * 1.0625)
    wraps = {round(s.width / INCH, 4) for s in plan.strips if s.role == "wrap"}
    assert wraps == {6}  # the tape that was bought: (6 - 2 x 1.0625) / 2 = 1.9375 of land, and said
    assert {round(s.land / INCH, 4) for s in plan.strips if s.role == "wrap"} == {1.9375}
    assert {tuple(round(tape / INCH, 6) for tape in s.tapes) for s in plan.strips if s.role == "wrap"} == {(6,)}
    told = " ".join(str(finding) for finding in plan.findings)
    assert "board 2 leans" in told
    assert "thickest corner" in told
    assert "land of only 1-15/16" in told
    assert smallest(plan.description.boards)[1] / INCH == pytest.approx(48)


def test_edge_trim_is_taken_off_both_sides() -> None:
    """Half an inch off each edge leaves a 48 x 96 board with 47 x 95, and a measured one likewise."""
    boards = replace(load(CHECK_CASE).boards, edge_trim=INCH / 2)
    assert smallest(boards) == pytest.approx((95 * INCH, 47 * INCH))
    came = replace(boards, measured=(MeasuredBoard(95.5 * INCH, 47.75 * INCH, ()),))
    assert smallest(came) == pytest.approx((94.5 * INCH, 46.75 * INCH))


@pytest.mark.parametrize(("rows", "out"), [
    (("length: 96, breadth: 48", "length: 95-1/2, breadth: 48", "length: 96, breadth: 48"), "Set aside board 2"),
    (("length: 96, breadth: 1200 mm", "length: 96, breadth: 1220 mm", "length: 96, breadth: 1220 mm"),
     "Set aside board 1"),
    (("length: 96, breadth: 48, thickness: [1, 1, 1, 1-1/4]", "length: 96, breadth: 48, thickness: [1, 1, 1, 1]"),
     "Set aside board 1"),
])
def test_boards_that_differ_too_much_are_named(tmp_path: Path, rows: tuple[str, ...], out: str) -> None:
    with pytest.raises(ProjectError, match=out):
        planned(tmp_path, *rows)


@pytest.mark.parametrize(("row", "message"), [
    ("length: 96, breadth: 48, diagonals: [107-1/2]", "two diagonals"),
    ("length: 96, breadth: 48, diagonals: [100, 104]", "do not belong"),
    ("length: 96, breadth: 48, thickness: [1, 1]", "four corners"),
])
def test_readings_that_cannot_be(tmp_path: Path, row: str, message: str) -> None:
    with pytest.raises(ProjectError, match=message):
        planned(tmp_path, row)


def test_a_quarter_inch_off_the_height_comes_before_an_inch_off_the_width(tmp_path: Path) -> None:
    """A wall leaf of 70 and a roof leaf of 50 fill a board of 120; one of 119-3/4 takes 1/4 off the height. By narrower
    leaves the count would hold as well: four of 12 stand side by side, an inch less on each."""
    file = tmp_path / "library.yaml"
    file.write_text(
        "project: Seed library\nunits: in\nshelter: {walls: 10, leaf_width: 13, wall_height: 70, slant: 50}\n"
        "boards: {size: 48 x 120, thickness: 1, measured: [{length: 119-3/4, breadth: 48}]}\n", encoding="utf-8")
    geometry = make_plan(load(file)).geometry
    assert [round(size / INCH, 4) for size in (geometry.leaf_width, geometry.wall_height, geometry.slant)] == [13, 69.75, 50]


def test_a_leaning_board_is_told_by_the_number_it_was_given() -> None:
    description = load(CHECK_CASE)
    came = replace(leaning(96 * INCH, 48 * INCH, 0.2 * INCH), mark="7")
    plan = make_plan(replace(description, boards=replace(description.boards, measured=(came,))))
    assert [str(finding).count("board 7 leans") for finding in plan.findings if finding.term == "leans"] == [1]
