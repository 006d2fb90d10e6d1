"""The half assembly sheet read as data: every leaf and every hinge of every half once, in order of work."""

from __future__ import annotations

import pytest

from packet.assembly.records import SeamKind
from packet.resources import samples
from packet.sheets.halves import draw
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import plain_zoo, releasable_zoo, zoo_plan

NAMES = ["four inch", "eight inch", "twelve metric", "twelve inch", "small", "low", *plain_zoo(), *releasable_zoo()]


@pytest.mark.parametrize("name", NAMES)
def test_every_leaf_and_every_hinge_of_each_half(name: str) -> None:
    plan = zoo_plan(name)
    sheets = draw(plan, kit_of(plan))
    pages = len(sheets) // len(plan.assembly.halves)
    for at, half in enumerate(plan.assembly.halves):
        own = sheets[at * pages:(at + 1) * pages]
        said = [text for sheet in own for text in texts(sheet)]
        listed = " ".join(map(prose, own)).replace("\u00a0", " ").split()
        inside = [s for s in plan.assembly.bonded() if {plan.assembly.by_mark[m].half for m in s.leaves} == {half}]
        for seam in inside:
            assert listed.count(seam.mark) == 1, seam.mark
        numbered = [s for s in inside if s.kind is not SeamKind.HIP]
        assert {str(n) for n in range(1, len(numbered) + 1)} <= set(said)


def test_order_of_the_check_case() -> None:
    """Common practice, no source: wall mids close outer, then corners inner, gore mids outer, eaves inner."""
    plan = plan_of(CHECK_CASE)
    half, *listed = (sheet for sheet in draw(plan, kit_of(plan)) if sheet.subject == "A")
    said = " ".join(map(prose, listed))
    places = [said.index(seam) for seam in ("A1/A2", "A2/A3", "A1R/A2R", "A2/A2R")]
    assert places == sorted(places)
    for leaf in plan.assembly.leaves:
        assert (leaf.mark in texts(half)) is (leaf.half == "A"), leaf.mark


def test_leaves_have_a_page_alone_where_that_shows_them_much_larger() -> None:
    """Metric, eight walls: 2225 mm of wall and roof go at 1:20 in the 150 mm of a page, and at 1:50 above a list."""
    plan = plan_of(next(path for path in samples().glob("tide_gauge.yaml")))
    first, second, *_ = draw(plan, kit_of(plan))
    assert [view.ratio for view in first.viewports] == [20.0] and not second.viewports
