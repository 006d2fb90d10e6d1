"""The inspection sheet read as data."""

from __future__ import annotations

from packet.sheets.inspection import draw
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import kit_of, prose
from tests.zoo import plain_zoo, releasable_zoo, zoo_plan

NAMES = ["four inch", "twelve metric", "small", "low", *plain_zoo(), *releasable_zoo()]


def test_numbers_of_the_check_case() -> None:
    """Common practice, no source: 96 across corners, 83.14 across flats, Vs of 1, 1 and 1/2, 8 sill cuts and more.

    Limits: flats 1/8 x 83.14 / 24 = 0.433; pack of 48 in two columns, 2 x 1/8; length 93.5 of a wall and a roof leaf.
    """
    plan = plan_of(CHECK_CASE)
    sheets = draw(plan, kit_of(plan))
    said = prose(sheets[0]).replace("\u00a0", " ")
    assert "96 ± 1/2 in" in said and "83-1/8 ± 7/16 in" in said
    lying = prose(sheets[-1]).replace("\u00a0", " ")
    assert "48 ± 1/4 in" in lying and "93-1/2 ± 1/4 in" in lying
    assert "A6 B1 B2 B3 B4 B5" in lying


def test_a_screen_is_read_without_doors_or_roof() -> None:
    plan = zoo_plan("screen")
    said = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)))
    assert "door" not in said and "Rim" not in said and "apex" not in said
    assert "Open V" in said and "Relief cuts" in said


def test_the_inspector_is_sent_here() -> None:
    for plan in (plan_of(CHECK_CASE), zoo_plan("booth")):
        assert draw(plan, kit_of(plan))[0].number in tasks(plan)[-1].sheets
