"""Boards side by side, each planned from end to end."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from packet.alternates import compare
from packet.description import load
from packet.description.buying_values import amount
from packet.description.loading import describe
from packet.description.problems import ProjectError
from packet.description.reading import read_text
from packet.figures import figures
from packet.plan import Plan, make_plan
from packet.sheets.alternates import draw
from packet.sheets.order import draw as order
from packet.summary import summary
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose
from tests.zoo import plain_zoo, zoo_plan

TEXT = """
  alternates:
    - {size: 48 x 96, thickness: 1-1/2, price: 39.90}
    - {size: 48 x 96, thickness: 1, price: 33.33, density: 1.3}
    - {size: 40 x 20, thickness: 1, price: 5}
    - {size: 96 x 48, thickness: 2}
prices: {date: 2031-05-02, currency: EUR, board: 31.50}
"""


def with_alternates() -> Plan:
    text = CHECK_CASE.read_text(encoding="utf-8").replace("boards:", f"boards:{TEXT.split('prices')[0]}", 1)
    return make_plan(describe(read_text(f"{text}\nprices{TEXT.split('prices')[1]}", Path("alternates.yaml"))))


def test_check_case_in_other_thicknesses() -> None:
    """Packs of 6, 9 and 12 in, 5 boards each; 23.9 lb at 2.0 and 15.5 lb at 1.3 lb per cubic ft (worked out by hand)."""
    found = compare(with_alternates())
    assert found is not None
    own, thick, light, small, thickest = found.boards
    packs = [one.pack[2] / 25.4 for one in (own, thick, light, thickest) if one.pack]
    assert packs == [pytest.approx(6), pytest.approx(9), pytest.approx(6), pytest.approx(12)]
    assert [one.bought for one in found.boards] == [5, 5, 5, None, 5]
    pounds = [one.mass / 0.45359237 for one in (own, light) if one.mass]
    assert pounds == [pytest.approx(23.9, abs=0.05), pytest.approx(15.5, abs=0.05)]
    assert [one.price for one in found.boards] == [
        int(5 * Decimal("31.50") * 100), int(5 * Decimal("39.90") * 100), int(5 * Decimal("33.33") * 100), None, None]
    assert (found.cheapest, found.lightest, found.thinnest) == ((0,), (2,), (0, 2))
    assert "larger than a board" in small.why and small.pack is None


def test_the_alternate_is_what_its_own_packet_says() -> None:
    plan = with_alternates()
    found = compare(plan)
    assert found is not None
    description = load(CHECK_CASE)
    apart = make_plan(replace(description, boards=replace(description.boards, thickness=38.1)))
    assert found.boards[1].pack == (apart.pack.width, apart.pack.length, apart.pack.thickness)


def test_told_on_the_terminal_in_figures_and_on_paper() -> None:
    plan = with_alternates()
    told = [line for line in summary(plan) if line.startswith(("  instead", "  compared"))]
    assert len(told) == 5 and told[0].endswith("157.50 EUR, 23.9 lb, packed 6 in: cheapest, thinnest")
    listed = figures(plan)["alternates"]
    assert listed[1]["price"] == {"amount": 199.5, "currency": "EUR"} and listed[4]["price"] is None
    (sheet,) = draw(plan, kit_of(plan))
    for said in ("157.50", "199.50", "not possible: leaf A1 is larger than a board", "Prices of 2031-05-02"):
        assert said in prose(sheet)
    assert "31.50 157.50" in prose(order(plan, kit_of(plan))[0])


@pytest.mark.parametrize("path", [*SAMPLES, CHECK_CASE], ids=lambda path: path.stem)
def test_nothing_is_compared_where_nothing_is_listed(path: Path) -> None:
    plan = plan_of(path)
    if not plan.description.boards.alternates:
        assert compare(plan) is None and draw(plan, kit_of(plan)) == ()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["eight inch", "twelve metric", *plain_zoo()])
def test_nothing_collides(name: str, paper: str) -> None:
    plan = zoo_plan(name)
    mine = with_alternates().description.boards.alternates
    boards = replace(plan.description.boards, alternates=mine * 3)
    assert list(faults(on_paper(replace(plan, description=replace(plan.description, boards=boards)), paper), draw)) == []


@pytest.mark.parametrize(("written", "said"), [("1,50", "not an amount"), ("-3", "not an amount"), ("1.234", "not an amount")])
def test_amounts_that_are_none_are_refused(written: str, said: str) -> None:
    text = CHECK_CASE.read_text(encoding="utf-8") + f"\nprices: {{board: '{written}'}}\n"
    with pytest.raises(ProjectError, match=said):
        describe(read_text(text, Path("money.yaml")))


def test_amounts_are_exact() -> None:
    assert amount(3 * 3333, "EUR") == "99.99 EUR" and amount(5, "") == "0.05"

