"""Who does what, and the words with their pictures."""

from __future__ import annotations

import pytest

from packet.drawing.marks import Line, Path
from packet.drawing.room import Room
from packet.plan import Plan
from packet.sheets.briefing import draw
from packet.sheets.word_pictures import DARK, STRONG, picture_of, seen
from packet.work.facts import facts, holds
from packet.work.tasks import tasks
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose
from tests.zoo import zoo_plan

NAMES = ("four left thick", "twelve inch", "five", "long screen", "cool-box")
PLANS = {**{path.stem: plan_of(path) for path in SAMPLES}, **{name: zoo_plan(name) for name in NAMES}}
ROOM = Room(0.0, 0.0, 70.0, 30.0)


@pytest.fixture(params=PLANS)
def plan(request: pytest.FixtureRequest) -> Plan:
    return PLANS[request.param]


def test_every_word_has_its_picture_and_every_station_its_row(plan: Plan) -> None:
    kit = kit_of(plan)
    who, *words = draw(plan, kit)
    said = " ".join(prose(sheet) for sheet in words)
    terms = [entry for entry in kit.words.entry("terms") if holds(entry.get("when", []), facts(plan))]
    assert all(f"{entry['word']} :" in said or f"{entry['word']}:" in said for entry in terms)
    for task in tasks(plan):
        assert f"{task.station.word.title()}:" in prose(who)


def test_what_is_meant_is_marked(plan: Plan) -> None:
    """A leaf or a wall is dark in the view, as many leaves as the word says; an edge is one strong line."""
    kit = kit_of(plan)
    made = seen(plan, kit)
    known = facts(plan)
    names = {entry["picture"] for entry in kit.words.entry("terms") if holds(entry.get("when", []), known)}
    for name in names & {"leaf", "wall", "gore", "jamb", "half"}:
        assert any(isinstance(mark, Path) and mark.fill == DARK for mark in picture_of(made, name, ROOM)), name
    for name in names & {"seam", "mid", "corner", "hip", "eave", "releasable"}:
        assert sum(isinstance(mark, Line) and mark.pen == STRONG for mark in picture_of(made, name, ROOM)) == 1, name
