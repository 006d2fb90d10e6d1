"""The receiving sheet: a line for every board, readings that were taken, and the limits that the checks hold to."""

from __future__ import annotations

from dataclasses import replace

from packet.description.resolved import MeasuredBoard
from packet.drawing.marks import Line
from packet.drawing.pens import FRAME
from packet.plan import Plan, make_plan
from packet.sheets.receiving import draw
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose, texts

INCH = 25.4


def measured(plan: Plan, *boards: MeasuredBoard, spare: int = 0) -> Plan:
    description = plan.description
    return make_plan(replace(description, boards=replace(description.boards, measured=boards, spare=spare)))


def test_every_board_that_is_bought_has_a_line_over_as_many_pages_as_it_takes() -> None:
    plan = measured(plan_of(CHECK_CASE), spare=17)
    pages = draw(plan, kit_of(plan))
    assert len(pages) > 1
    boxes = [text for page in pages for text in texts(page) if text.isdigit()]
    assert {str(number) for number in range(1, len(plan.boards) + 18)} <= set(boxes)
    assert [page.number for page in pages][:2] == ["P-03", "P-3B"]


def test_readings_stand_in_their_line_and_only_a_square_board_is_ticked() -> None:
    thick = (INCH,) * 4
    plan = measured(plan_of(CHECK_CASE),
                    MeasuredBoard(95.875 * INCH, 48 * INCH, (107.25 * INCH, 107.3125 * INCH), thick, "1"),
                    MeasuredBoard(96 * INCH, 48 * INCH, (107.25 * INCH, 107.5 * INCH), thick, "2"),
                    MeasuredBoard(96 * INCH, 48.0625 * INCH, (), (), "4"))
    (page,) = draw(plan, kit_of(plan))
    said = texts(page)
    first, third = said.index("95-7/8"), said.index("48-1/16")
    assert said[first - 1] == "1" and said[first + 1:first + 4] == ("48", "107-1/4", "107-5/16")
    assert said[third - 2:third] == ("4", "96")
    assert len([mark for mark in page.marks if isinstance(mark, Line) and mark.pen == FRAME]) == 2


def test_limits_are_those_of_the_project() -> None:
    """Diagonals 1/8, boards 1/4 apart: common practice, no source."""
    plan = plan_of(CHECK_CASE)
    told = prose(draw(plan, kit_of(plan))[0])
    assert "Length, least 96 in" in told and "Breadth, least 48 in" in told
    assert "D1, D2 apart 1/8 in" in told and "Boards apart 1/4 in" in told


def test_the_task_of_receiving_points_here() -> None:
    plan = plan_of(CHECK_CASE)
    (task,) = (task for task in tasks(plan) if task.key == "receive")
    assert task.sheets == ("P-03",)
