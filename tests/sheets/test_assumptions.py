"""Every assumption key of the project file in turn: what rests on it changes, and nothing that keeps people whole goes."""

from __future__ import annotations

from collections import Counter
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.models import RingProject
from packet.description.reading import read_text
from packet.drawing.page import Sheet
from packet.plan import Plan, make_plan
from packet.sheets.inputs import input_values
from packet.work.cautions import cautions
from packet.work.facts import facts
from tests.conftest import CHECK_CASE
from tests.sheets.drawn import kit_of, texts

BASE = {
    "boards": {"size": "48 x 96", "thickness": "1"},
    "wind": {"anchor_capacity": "300"},
    "taping": {"least": "50"},
    "tape": {"land": "2", "stock": "[4, 6]"},
    "prices": {"date": "2031-05-02", "currency": "EUR", "board": "30", "sleeve": "1", "weather_strip": "1", "tools": "0",
               "rolls": "[{tape: strapping, width: 4, price: 10}, {tape: strapping, width: 6, price: 15}, "
                        "{tape: foil, width: 3, price: 9}]"},
}

OTHER = {
    "wind": {"speed": "45", "terrain": "2", "exposure": "0.8", "drag": "1.6", "uplift": "1", "uplift_open": "2",
             "friction": "0.2", "load_factor": "2", "weight_factor": "0.5", "anchor_capacity": "250", "wet_factor": "0.3",
             "strike_share": "0.5"},
    "lift": {"reach": "20", "height": "4", "travel": "36", "turn": "90", "per_minute": "4", "hours": "6", "grip": "good"},
    "air": {"people": "7", "fresh": "3", "warmer": "20", "discharge": "0.4"},
    "taping": {"least": "60", "spread": "9"},
    "transport": {"openings": "[{name: van, opening: 54 x 40}]"},
    "site": {"ground_sheet": "4", "stake_out": "40", "trench": "72", "wind_from": "SW", "uphill": "E", "inspect_days": "3",
             "conductivity": "0.3", "strapping_mass": "0.1", "foil_mass": "0.1"},
    "assume": {"density": "1.3", "tape_thickness": "0.03", "foil_thickness": "0.02", "hinge_bulk": "1"},
    "tape": {"land": "2-1/2", "stock": "[4, 6, 8]", "sill_land": "2", "combine": "no", "roll": "30 yd", "allowance": "60",
             "join": "20"},
    "foil": {"stock": "[2]", "margin": "3", "overlap": "2", "roll": "30 yd"},
    "limits": {"board_spread": "1/2", "thickness_spread": "1/4", "mark": "1/8", "cut": "1/4", "diagonal": "1/4",
               "steep": "1.5"},
    "prices": {"date": "2032-01-01", "currency": "NZD", "board": "31", "rolls": "[{tape: foil, width: 3, price: 8}]",
               "sleeve": "2", "weather_strip": "2", "tools": "9"},
}

SHEETS = {"wind": "wind site cards", "lift": "carry", "air": "air", "taping": "weather", "transport": "carry",
          "site": "site keep air carry wind", "assume": "carry order", "tape": "order strips recipes", "foil": "order strips",
          "limits": "receiving inspection checklist", "prices": "order"}

UNSEEN = {"limits.steep": "how steep a sensitivity is warned of: it changes the findings, see tests/test_steep.py",
          "tape.combine": "strips wide enough need no second beside them: two thicknesses of board do"}
"""Keys that change nothing on these sheets of this project, and why."""


@cache
def plan_with(group: str = "", name: str = "", value: str = "") -> Plan:
    groups = {key: dict(entries) for key, entries in BASE.items()}
    if group:
        groups.setdefault(group, {})[name] = value
    head = CHECK_CASE.read_text(encoding="utf-8").partition("boards:")[0]
    text = head + "".join(f"{key}:\n" + "".join(f"  {each}: {said}\n" for each, said in entries.items())
                          for key, entries in groups.items())
    return make_plan(describe(read_text(text, Path("assumed.yaml"))))


def drawn(plan: Plan, group: str) -> list[Sheet]:
    kit = kit_of(plan)
    return [sheet for name in SHEETS[group].split() for sheet in import_module(f"packet.sheets.{name}").draw(plan, kit)]


@cache
def before(group: str) -> tuple[tuple[str, ...], ...]:
    return tuple(texts(sheet) for sheet in drawn(plan_with(), group))


def said_by(plan: Plan) -> set[str]:
    kit = kit_of(plan)
    return {" ".join((each.hazard, each.consequence, *each.avoid, each.signal)) for each in cautions(kit.words, facts(plan))}


def test_every_key_is_tried() -> None:
    for group, values in OTHER.items():
        model = RingProject.model_fields[group].annotation
        assert set(values) == set(model.model_fields), group  # type: ignore[union-attr]


@pytest.mark.parametrize(("group", "name"), [(group, name) for group, values in OTHER.items() for name in values
                                             if f"{group}.{name}" not in UNSEEN])
def test_changing_an_assumption_changes_more_than_its_own_line(group: str, name: str) -> None:
    plan = plan_with(group, name, OTHER[group][name])
    after = drawn(plan, group)
    values = input_values(plan, kit_of(plan))
    old = Counter(text for page in before(group) for text in page)
    new = Counter(text for sheet in after for text in texts(sheet))
    assert set(new - old) - {values.get(f"{group}.{name}", "")}
    # Whatever a key says, the sheets stay, and every caution word for word.
    assert len(after) >= len(before(group))
    assert said_by(plan) >= said_by(plan_with())
