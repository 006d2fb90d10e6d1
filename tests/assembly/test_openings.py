"""Openings stay one land clear of edges, tape and each other; where they do not, the advice works."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from packet.description import ProjectError, load
from packet.description.problems import Problem
from packet.figures import leaf_area
from packet.plan import Plan, make_plan
from tests.conftest import CHECK_CASE


def planned(tmp_path: Path, *openings: str) -> Plan:
    rows = "".join(f"  - {{{text}}}\n" for text in openings)
    file = tmp_path / "project.yaml"
    file.write_text(CHECK_CASE.read_text(encoding="utf-8") + "\nopenings:\n" + rows, encoding="utf-8")
    return make_plan(load(file))


def refused(tmp_path: Path, *openings: str) -> tuple[Problem, ...]:
    with pytest.raises(ProjectError) as caught:
        planned(tmp_path, *openings)
    return caught.value.problems


def test_an_opening_is_cut_sealed_and_weighed(tmp_path: Path) -> None:
    plan = planned(tmp_path, "leaf: A3, size: 12 x 10, across: 12, up: 24",
                   "leaf: A4R, kind: vent, diameter: 4, across: 6, up: 12")
    window, vent = (plan.assembly.by_mark[mark].openings[0] for mark in ("A3", "A4R"))
    assert (window.x, vent.x) == pytest.approx((12 * 25.4, -6 * 25.4))  # A3 is mid left, A4R mid right
    solid = planned(tmp_path)
    assert (leaf_area(solid) - leaf_area(plan)) / 0.0254**2 == pytest.approx(120 + math.pi * 4)
    seals = {s.mark: s.length / 25.4 for s in plan.strips if s.mark in ("seal A3 window", "seal A4R vent")}
    assert seals == pytest.approx({"seal A3 window": 44, "seal A4R vent": 4 * math.pi})


@pytest.mark.parametrize(("text", "better"), [
    # Land 2 and half the width 6 keep the centre 8 from either upright edge of a 24 wide leaf, 7 from sill and eave.
    ("leaf: A3, size: 12 x 10, across: 3, up: 24", "`across: 8.00 in` and `up: 24.00 in`"),
    ("leaf: A3, size: 12 x 10, across: 20, up: 47", "`across: 16.00 in` and `up: 41.00 in`"),
    # The door is 47 high; its latch hole of 1.315 stands 23 below the top and 4 from the free edge.
    ("leaf: A1, diameter: 4, across: 12, up: 46", "`across: 12.00 in` and `up: 43.00 in`"),
])
def test_the_nearest_clear_place_is_named_and_works(tmp_path: Path, text: str, better: str) -> None:
    (problem,) = refused(tmp_path, text)
    assert better in problem.remedy
    assert problem.key == "openings.0"
    assert problem.line > 0
    across, up = (part.split("`")[0] for part in problem.remedy.split(": ")[1:3])
    start = text[: text.index("across")]
    planned(tmp_path, f"{start}across: {across}, up: {up}")


def test_openings_keep_clear_of_each_other_and_of_the_latch(tmp_path: Path) -> None:
    first = "leaf: A3, size: 6 x 6, across: 12, up: 24"
    (problem,) = refused(tmp_path, first, "leaf: A3, size: 6 x 6, across: 12, up: 30")
    assert problem.key == "openings.1"
    assert "`up: 32.00 in`" in problem.remedy  # 3 + 2 + 3 apart
    assert [p.key for p in refused(tmp_path, "leaf: A1, diameter: 3, across: 20, up: 24")] == ["openings.0"]


def test_too_large_an_opening_names_the_size_that_fits(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, "leaf: A3, size: 40 x 40, across: 12, up: 24")
    assert "`size: 20 x 20 in` and `across: 12.00 in` and `up: 24.00 in`" in problem.remedy
    planned(tmp_path, "leaf: A3, size: 20 x 20, across: 12, up: 24")


def test_unknown_leaf_and_missing_size_are_told(tmp_path: Path) -> None:
    (unknown,) = refused(tmp_path, "leaf: A33, size: 4 x 4, across: 12, up: 24")
    assert "there is no leaf" in unknown.message
    assert "A3" in unknown.remedy
    (both,) = refused(tmp_path, "leaf: A3, size: 4 x 4, diameter: 3, across: 12, up: 24")
    assert "either a size or a diameter" in both.message
