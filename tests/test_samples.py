"""The sample projects come to the numbers they were designed for (worked out by hand with the trade's formulas)."""

from __future__ import annotations

from typing import Any

import pytest

from packet.figures import figures
from packet.resources import samples
from packet.tape.strips import Role
from tests.conftest import plan_of


@pytest.mark.parametrize(("name", "unit", "tolerance", "numbers"), [
    ("frost_watch", 25.4, 0.01, {
        "rise": 25.77, "apex": 85.77, "hip": 50.99, "hip_trimmed": 47.67, "opening_across_corners": 5.74,
        "opening_across_flats": 4.97, "gap_corner": 1.50, "gap_hip": 0.84, "gap_eave": 1.41}),
    ("tide_gauge", 1.0, 0.1, {
        "rise": 440.6, "apex": 1590.6, "hip": 1231.3, "hip_trimmed": 1151.0, "opening_across_corners": 150.0,
        "opening_across_flats": 138.6, "gap_corner": 23.0, "gap_hip": 8.8, "gap_eave": 33.3}),
])
def test_lengths(name: str, unit: float, tolerance: float, numbers: dict[str, float]) -> None:
    geometry = figures(plan_of(samples() / f"{name}.yaml"))["geometry"]
    for key, value in numbers.items():
        assert geometry[key] / unit == pytest.approx(value, abs=tolerance), key


@pytest.mark.parametrize(("name", "slope", "hip", "eave"), [
    ("frost_watch", 34.07, 147.47, 124.07), ("tide_gauge", 22.53, 163.14, 112.53)])
def test_angles(name: str, slope: float, hip: float, eave: float) -> None:
    geometry = figures(plan_of(samples() / f"{name}.yaml"))["geometry"]
    found = (geometry["slope"], geometry["angle_hip"], geometry["angle_eave"])
    assert found == pytest.approx((slope, hip, eave), abs=0.01)


@pytest.mark.parametrize(("name", "unit", "size", "wrap", "boards", "bought"), [
    ("frost_watch", 25.4, (44, 103, 9), 7, 6, 7), ("tide_gauge", 1.0, (880, 2225, 240), 160, 5, 5)])
def test_pack_wrap_and_boards(name: str, unit: float, size: tuple[float, ...], wrap: float, boards: int,
                              bought: int) -> None:
    found: dict[str, Any] = figures(plan_of(samples() / f"{name}.yaml"))
    pack = found["pack"]
    assert [pack[k] / unit for k in ("width", "length", "thickness")] == pytest.approx(size, abs=0.01)
    wraps = [s for s in found["strips"] if s["role"] == Role.WRAP]
    assert {round(s["width"] / unit, 3) for s in wraps} == {wrap}
    assert all(len(s["tape"]) == 2 for s in wraps)
    assert len(found["boards"]) == boards
    assert [i["quantity"] for i in found["takeoff"] if i["unit"] == "board"] == [bought]


def test_last_metric_board_keeps_its_rest_whole() -> None:
    held = figures(plan_of(samples() / "tide_gauge.yaml"))["boards"][-1]["held"]
    assert held == [[[1760, 0], [2400, 0], [2400, 1200], [1760, 1200]]]


@pytest.mark.parametrize(("name", "below_head", "from_free_edge", "trim", "height"), [
    ("frost_watch", 29 * 25.4, 4 * 25.4, 0.75 * 25.4, 60 * 25.4), ("tide_gauge", 540, 100, 20, 1150)])
def test_latch_holes_stand_at_one_height(name: str, below_head: float, from_free_edge: float, trim: float,
                                         height: float) -> None:
    found = figures(plan_of(samples() / f"{name}.yaml"))
    holes = {leaf["mark"]: (leaf, hole) for leaf in found["leaves"] for hole in leaf["holes"]}
    assert len(holes) == 4
    for leaf, hole in holes.values():
        top = max(y for _, y in leaf["outline"])
        free = max(abs(x) for x, _ in leaf["outline"])
        assert top - hole["y"] == pytest.approx(below_head)
        assert free - abs(hole["x"]) == pytest.approx(from_free_edge)
        above_ground = hole["y"] + (trim if leaf["door"] else 0)
        assert above_ground == pytest.approx(height - below_head)
