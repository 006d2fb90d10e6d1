"""Wherever a sheet's number stands in words, it leads there."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from packet.pdf.writer import write
from packet.sheets import checklist
from packet.sheets.register import PAGE_NUMBER, draw_all, in_order
from packet.work.sheet_numbers import PATTERN, binding_order, sheet_named, sheet_number
from packet.work.tasks import tasks
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import kit_of


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_see_sheet_leads_to_the_sheet(path: object) -> None:
    """Every sheet that a task names is a link on the checklist; read back from the file, it lands on that page."""
    plan = plan_of(path)  # type: ignore[arg-type]
    packet = draw_all(plan, kit_of(plan))
    pages = {sheet.number for sheet in checklist.draw(plan, kit_of(plan))}
    linked = {link.target for sheet in packet if sheet.number in pages for link in sheet.links}
    assert {number for task in tasks(plan) for number in task.sheets} <= linked
    target = io.BytesIO()
    write(packet, target, "x")
    reader = PdfReader(target)
    labels = reader.page_labels
    numbers = {page.indirect_reference.idnum: label  # type: ignore[union-attr]
               for page, label in zip(reader.pages, labels, strict=True)}
    texts = {label: page.extract_text() for page, label in zip(reader.pages, labels, strict=True) if label in pages}
    landed = set()
    for page, label in zip(reader.pages, labels, strict=True):
        if label in pages:
            for note in page["/Annots"]:  # type: ignore[union-attr]
                goal = numbers[note.get_object()["/Dest"][0].idnum]
                assert goal in texts[label]
                landed.add(goal)
    assert {number for task in tasks(plan) for number in task.sheets} <= landed


def test_numbers_follow_the_series() -> None:
    assert sorted(["C10B", "C-04", "L-2B", "C-4B"], key=binding_order) == ["L-2B", "C-04", "C-4B", "C10B"]


def test_a_very_long_sheet_counts_on_with_two_letters() -> None:
    """1 page without a letter, 23 with one (no I, no O), then two; each number once, in order, and each is found in text."""
    numbers = [sheet_number("labels", page) for page in range(1, 200)]
    assert (numbers[0], numbers[1], numbers[23], numbers[24], numbers[47]) == ("C-82", "C82B", "C82Z", "C82BB", "C82CB")
    assert len(set(numbers)) == 199
    assert sorted({*numbers}, key=binding_order) == numbers
    assert all(re.fullmatch(PATTERN, number) and PAGE_NUMBER.fullmatch(number) for number in numbers)
    assert {sheet_named(number) for number in numbers} == {"labels"}


def test_sheet_numbers_are_unique() -> None:
    plan = plan_of(SAMPLES[0])
    page = checklist.draw(plan, kit_of(plan))[0]
    with pytest.raises(ValueError, match=page.number):
        in_order([page, page])
