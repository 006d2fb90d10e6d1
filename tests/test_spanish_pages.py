"""Whole packets in Spanish: sentences are longer than the English ones, and still nothing touches anything."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.description.terms import Language
from packet.drawing.marks import Text
from packet.printing import drawn, full_size_sheets, one_sheet
from packet.sheets import added, mending
from tests.conftest import SAMPLES, plan_of
from tests.miscut.test_reissue import decided
from tests.packets import instructions, look
from tests.packets.packet import Packet
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper
from tests.zoo import zoo_plan

SAMPLE = {path.stem: path for path in SAMPLES}
CASES = [("ten metric", "letter"), ("leaning", "a4"), ("frost_watch", "a4")]
"""Marks at a corner of ten walls come close; seams in no plane; a sample in inches."""


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_nothing_touches_anything_in_spanish(name: str, paper: str) -> None:
    plan = on_paper(plan_of(SAMPLE[name]) if name in SAMPLE else zoo_plan(name), paper, PAPERS[paper])
    plan = replace(plan, description=replace(plan.description, language=Language.ES))
    packet = Packet(plan, drawn(plan))
    checks = (look.collisions, look.outside, look.foreign_units, look.small, look.out_of_series, instructions.unsaid)
    assert [fault for check in checks for fault in check(packet)] == []
    said = " ".join(mark.string for sheet in packet.sheets for mark in sheet.marks if isinstance(mark, Text))
    assert "PUNTO DE CONTROL" in said


@pytest.mark.parametrize("name", ["twelve inch", "screen"])
def test_answers_to_spoiled_parts_fit_in_spanish(name: str) -> None:
    plan = zoo_plan(name)
    plan = decided(replace(plan, description=replace(plan.description, language=Language.ES)))
    unsaid = list(instructions.unsaid(Packet(plan, one_sheet(plan, "mending"))))
    assert not [fault for fault in unsaid if fault.startswith("C-") and "to follow" not in fault]
    for draw in (mending.draw, added.draw):
        assert draw(plan, kit_of(plan))
        assert list(faults(on_paper(plan, "letter"), draw)) == []


def test_a_leaf_at_full_size_in_spanish() -> None:
    """It has a map; on its tiles notes in the margin stand clear of each other."""
    plan = plan_of(SAMPLE["tide_gauge"])
    plan = on_paper(replace(plan, description=replace(plan.description, language=Language.ES)), "letter")
    sheets = full_size_sheets(plan, ["A3R"], None)
    assert len(sheets) > 4
    assert list(look.collisions(Packet(plan, sheets[1:]))) == []
