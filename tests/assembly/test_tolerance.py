"""Closure gap from cutting errors: linear map, worst case, root sum of squares and Monte Carlo."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.assembly.tolerance import closure_gap
from tests.conftest import CHECK_CASE, SAMPLES, plan_of


@pytest.mark.parametrize("project", [CHECK_CASE, *SAMPLES], ids=lambda p: p.stem)
def test_monte_carlo_agrees_with_the_root_sum_of_squares(project: object) -> None:
    gap = closure_gap(plan_of(project).assembly, 1.0, 3.0)  # type: ignore[arg-type]
    assert gap.monte_carlo == pytest.approx(gap.root_sum_square, rel=0.04)
    assert gap.worst_case > gap.root_sum_square


def test_gap_grows_in_proportion_and_with_each_source() -> None:
    assembly = plan_of(CHECK_CASE).assembly
    one, two = closure_gap(assembly, 1, 1), closure_gap(assembly, 2, 2)
    assert two.worst_case == pytest.approx(2 * one.worst_case)
    assert two.root_sum_square == pytest.approx(2 * one.root_sum_square)
    single = closure_gap(assembly, 1, 0)
    assert one.root_sum_square == pytest.approx(2**0.5 * single.root_sum_square)
    assert one.worst_case == pytest.approx(2 * single.worst_case)


def test_a_single_hinge_takes_up_every_error() -> None:
    """Two leaves on one hinge can always be brought together: nothing else holds them."""
    whole = plan_of(CHECK_CASE).assembly
    seam = whole.seam_by_mark["A3/A4"]
    pair = replace(whole, leaves=tuple(whole.by_mark[m] for m in seam.leaves), seams=(seam,))
    assert closure_gap(pair, 1, 1).worst_case == pytest.approx(0, abs=1e-9)


def test_only_closing_the_ring_leaves_a_gap() -> None:
    """With one corner-and-hip line undone every leaf can still be shifted to fit; closing the line cannot."""
    whole = plan_of(CHECK_CASE).assembly
    undone = replace(whole, seams=tuple(s for s in whole.seams if s.mark not in ("B6/A1", "B6R/A1R")))
    assert closure_gap(undone, 1, 1).worst_case == pytest.approx(0, abs=1e-9)
    assert closure_gap(whole, 1, 1).worst_case > 1
