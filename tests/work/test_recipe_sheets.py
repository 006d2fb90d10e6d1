"""Every bonded seam has one recipe, and its first sheet is printed."""

from __future__ import annotations

import pytest

from packet.sheets.recipes import draw
from packet.work.recipe_sheets import recipe_sheet
from tests.sheets.drawn import kit_of
from tests.zoo import plain_zoo, releasable_zoo, zoo_plan


@pytest.mark.parametrize("name", [*plain_zoo(), *releasable_zoo(), "six left", "ten metric"])
def test_the_sheet_of_every_seam_is_in_the_packet(name: str) -> None:
    plan = zoo_plan(name)
    printed = {sheet.number: sheet.title for sheet in draw(plan, kit_of(plan))}
    for seam in plan.assembly.bonded():
        assert printed[recipe_sheet(plan.assembly, seam)].endswith(": tape")


def test_two_pages_lie_between_classes() -> None:
    # A cool-box: seams that stay flat come first, those that fold second.
    assembly = zoo_plan("cool-box").assembly
    numbers = {recipe_sheet(assembly, seam) for seam in assembly.seams if seam.angle_packed == 180.0}
    assert numbers == {"H-04"}
    assert {recipe_sheet(assembly, seam) for seam in assembly.seams if seam.angle_packed == 0.0} == {"H-06"}
