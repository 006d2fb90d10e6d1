"""The warning for a roof so flat that small cutting errors show, at the figure that the project states."""

from __future__ import annotations

from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.plan import make_plan
from tests.zoo import zoo


@pytest.mark.parametrize(("steep", "warned"), [("", True), ("limits: {steep: 11}", True), ("limits: {steep: 13}", False)])
def test_the_warning_follows_the_figure_of_the_project(steep: str, warned: bool) -> None:
    """Eight walls, slant 1.02 times the apothem: the peak moves cot(pi/8) / sqrt(1.02^2 - 1) = 2.414 / 0.201 = 12.0 times
    an error of the leaf width."""
    plan = make_plan(describe(read_text(f"{zoo()['low']}\n{steep}\n", Path("low.yaml"))))
    assert any("so flat" in found.message for found in plan.findings) is warned
