"""The order on the terminal and as comma-separated values."""

from __future__ import annotations

import csv
import io
import math
import subprocess
import sys

import pytest

from packet.ordering import HEADER, order_lines
from packet.tape.takeoff import Unit
from packet.units import FOOT
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
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
