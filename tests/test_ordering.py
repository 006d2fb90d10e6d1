"""The order on the terminal and as comma-separated values."""

from __future__ import annotations

import csv
import io
import math
import subprocess
import sys
from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.ordering import HEADER, order_lines, total
from packet.plan import Plan, make_plan
from packet.sheets.order import draw as draw_order
from packet.tape.strips import Role
from packet.tape.takeoff import Goods, Item, TapeNeed, Unit
from packet.units import FOOT
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose
from tests.zoo import plain_zoo, zoo, zoo_plan


def test_csv_of_the_check_case() -> None:
    """5 boards, 4 sleeves (common practice, no published source); the weather strip goes round two doors of 48 and 24 in."""
    done = subprocess.run([sys.executable, "-m", "packet", "order", str(CHECK_CASE), "--csv"], capture_output=True,
                          text=True, check=True)
    header, *rows = csv.reader(io.StringIO(done.stdout))
    assert tuple(header) == HEADER
    found = {row[0]: row[1:3] for row in rows}
    assert found["board 48 x 96 x 1 in"] == ["5", "board"]
    assert found["pipe sleeve for latch holes"] == ["4", "piece"]
    assert found["weather strip, self-adhesive"] == ["12.0", "ft"]
    assert [row[0] for row in rows] == [line.item for line in order_lines(plan_of(CHECK_CASE))]


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo()])
def test_nothing_is_rounded_down(name: str) -> None:
    plan = zoo_plan(name)
    for item in plan.takeoff:
        if item.unit is Unit.LENGTH:
            number, unit = plan.form.feet_up(item.quantity).split()
            size = FOOT if unit == "ft" else 1000.0
            assert item.quantity - 1e-3 <= float(number) * size < item.quantity + 0.1001 * size
    lines = order_lines(plan)
    assert all(float(line.quantity) > 0 for line in lines)
    assert math.isclose(sum(need.rolls for need in plan.needs),
                        sum(int(line.quantity) for line in lines if line.unit == "roll"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_width_is_bought_and_its_rest_told(path: object) -> None:
    plan = plan_of(path)  # type: ignore[arg-type]
    rolls = [line for line in order_lines(plan) if line.unit == "roll"]
    assert len(rolls) == len(plan.needs)
    for need, line in zip(plan.needs, rolls, strict=True):
        assert f"{plan.form.feet(need.left)} over" in line.detail


PRICES = """
prices:
  date: 2031-05-02
  currency: EUR
  board: 31.50
  rolls:
    - {tape: strapping, width: 4, price: 12.35}
    - {tape: strapping, width: 6, price: 18.05}
    - {tape: foil, width: 3, price: 9.99}
  sleeve: 0.75
  weather_strip: 1.11
  tools: 0
"""


def priced(more: str = "") -> Plan:
    text = CHECK_CASE.read_text(encoding="utf-8") + PRICES + more
    return make_plan(describe(read_text(text, Path("priced.yaml"))))


def test_prices_add_up_to_the_cent() -> None:
    """Sums in whole cents by hand: counts times prices, 12.0 ft of weather strip at 1.11."""
    plan = priced()
    rolls = {(need.foil, round(need.roll_width / 25.4)): need.rolls for need in plan.needs}
    cents = (5 * 3150 + rolls[False, 4] * 1235 + rolls[False, 6] * 1805 + rolls[True, 3] * 999 + 4 * 75 + 12 * 111)
    assert total(plan) == cents
    found = {line.item: (line.each, line.amount, line.currency, line.date) for line in order_lines(plan)}
    assert found["board 48 x 96 x 1 in"] == ("31.50", "157.50", "EUR", "2031-05-02")
    assert found["weather strip, self-adhesive"][:2] == ("1.11", "13.32")
    page = " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
    assert f"{cents // 100}.{cents % 100:02d}" in page
    assert "2031-05-02 EUR" in page


def test_lengths_cost_no_less_than_they_are() -> None:
    """3.01 ft at 1.11 a foot is bought as 3.1 ft: 3.441, so 3.45."""
    assert Item("strip", 3.01 * FOOT, Unit.LENGTH, "", Goods.WEATHER_STRIP, (), 111, FOOT).amount == 345


def test_no_total_without_every_price() -> None:
    assert total(plan_of(CHECK_CASE)) is None
    plan = priced()
    assert total(plan) is not None
    text = PRICES.replace("    - {tape: foil, width: 3, price: 9.99}\n", "")
    lacking = make_plan(describe(read_text(CHECK_CASE.read_text(encoding="utf-8") + text, Path("lacking.yaml"))))
    assert total(lacking) is None


def test_more_sets_cost_more() -> None:
    one, three = priced(), priced("quantity: 3\n")
    first, second = total(one), total(three)
    assert first is not None
    assert second is not None
    assert first < second <= 3 * first


def test_one_sets_share_is_on_the_sheet_and_in_the_csv(tmp_path: Path) -> None:
    """A third of the total in whole cents, never rounded down; the sheet names the currency and where other boards stand."""
    more = "quantity: 3\n"
    plan = priced(more)
    whole = total(plan)
    assert whole is not None
    cents = math.ceil(whole / 3)
    share = f"{cents // 100}.{cents % 100:02d}"
    page = " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
    assert "total EUR" in page
    assert "each of 3 sets" in page
    assert share in page
    assert "Other boards" not in page
    project = tmp_path / "priced.yaml"
    project.write_text(CHECK_CASE.read_text(encoding="utf-8") + PRICES + more, encoding="utf-8")
    done = subprocess.run([sys.executable, "-m", "packet", "order", str(project), "--csv"], capture_output=True, text=True,
                          check=True)
    read = csv.DictReader(io.StringIO(done.stdout))
    header, rows = read.fieldnames or (), list(read)
    assert tuple(header) == HEADER
    assert rows[-1] == {"item": "total", "quantity": "", "unit": "", "detail": "", "price each": "",
                        "price": f"{whole / 100:.2f}",
                        "price a set": share, "currency": "EUR", "prices of": "2031-05-02"}
    board = rows[0]
    assert math.isclose(float(board["price a set"]), float(board["price"]) / 3, abs_tol=0.01)


def test_laps_at_the_rolls_ends_are_not_left_over() -> None:
    """Three rolls of 100 with laps of 4 hold 292; what is over is counted from that."""
    assert TapeNeed(4.0, False, ((Role.FLAT, 250.0),), 100.0, 3, 4.0).left == 42.0


def test_alternates_are_referred_to() -> None:
    text = CHECK_CASE.read_text(encoding="utf-8")
    assert "boards:" in text
    more = text.replace("boards:", "boards:\n  alternates: [{size: 48 x 108, thickness: 1}]", 1)
    plan = make_plan(describe(read_text(more, Path("more.yaml"))))
    assert "Other boards, side by side: sheet P-05." in " ".join(prose(sheet) for sheet in draw_order(plan, kit_of(plan)))
