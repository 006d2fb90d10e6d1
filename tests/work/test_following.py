"""Every sheet names the sheet that is taken up next, and one sheet alone names the same as in the whole packet."""

from __future__ import annotations

import pytest

from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet
from packet.plan import Plan
from packet.printing import drawn, one_board
from packet.work.following import Following
from packet.work.sheet_numbers import binding_order
from packet.work.tasks import tasks
from tests.zoo import zoo_plan


def named_next(sheet: FinishedSheet) -> str:
    texts = [mark.string for mark in sheet.marks if isinstance(mark, Text)]
    return texts[texts.index("Then") + 1]


@pytest.mark.parametrize("name", ["eight inch", "screen"])
def test_the_chain_of_sheets_reaches_all_that_the_work_asks_for(name: str) -> None:
    plan = zoo_plan(name)
    sheets = {sheet.number: sheet for sheet in drawn(plan)}
    seen, number = [], "L-01"
    while number != "done":
        assert number not in seen, "the chain turns back"
        seen.append(number)
        number = named_next(sheets[number])
        link = next((link for link in sheets[seen[-1]].links if link.target == number), None)
        assert (link is None) == (number == "done")
    asked = {sheet for task in tasks(plan) for sheet in task.sheets}
    assert asked <= set(seen)


def test_one_board_alone_names_the_same_sheet() -> None:
    plan = zoo_plan("eight inch")
    whole = {sheet.number: sheet.serial for sheet in drawn(plan)}
    for board in plan.boards:
        for sheet in one_board(plan, board.mark):
            assert sheet.serial == whole[sheet.number]


def test_after_passes_over_further_pages_and_ends() -> None:
    plan: Plan = zoo_plan("eight inch")
    following = Following(plan)
    numbers = sorted({sheet for task in tasks(plan) for sheet in task.sheets}, key=binding_order)
    assert following.after(numbers[-1]) == ""
    assert following.after("C-1B") == following.after("C-01") == "C-02"
