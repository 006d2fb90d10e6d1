"""Station cards, table tents and labels, read as data; and what is handed from table to table."""

from __future__ import annotations

import pytest

from packet.drawing.marks import Text
from packet.plan import Plan
from packet.sheets import labels, station_cards, tents
from packet.work.cautions import cautions
from packet.work.facts import facts
from packet.work.passing import handed_on, passings, received
from packet.work.stations import Station
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo_plan

NAMES = ("four inch", "twelve metric", "five", "screen", "cool-box")
PLANS = {**{path.stem: plan_of(path) for path in (*SAMPLES, CHECK_CASE)}, **{name: zoo_plan(name) for name in NAMES}}


@pytest.fixture(params=PLANS)
def plan(request: pytest.FixtureRequest) -> Plan:
    return PLANS[request.param]


def test_every_leaf_goes_from_the_first_table_to_the_last(plan: Plan) -> None:
    """Each leaf leaves the cutting table once, ends at station X, and comes to a table no oftener than it leaves."""
    found = passings(plan, tasks(plan))
    leaves = {leaf.mark for leaf in plan.assembly.leaves}
    assert received(found, Station.C)[0].parts == tuple(board.mark for board in plan.boards)
    cut = [mark for each in handed_on(found, Station.C) for mark in each.parts]
    assert sorted(cut) == sorted(leaves)
    assert {mark for each in received(found, Station.X) for mark in each.parts} == leaves
    assert not handed_on(found, Station.X)
    for station in (Station.H, Station.J):
        came = {mark for each in received(found, station) for mark in each.parts}
        went = {mark for each in handed_on(found, station) for mark in each.parts}
        assert came == went == leaves
    for each in found:
        assert each.boards or {plan.assembly.by_mark[mark].half for mark in each.parts} == {each.half}


def test_cards_hold_the_cautions_and_the_counts_of_their_station(plan: Plan) -> None:
    kit = kit_of(plan)
    found = passings(plan, tasks(plan))
    for station in {task.station for task in tasks(plan)}:
        said = " ".join(prose(sheet) for sheet in station_cards.draw(plan, kit) if sheet.number.startswith(str(station)))
        for caution in cautions(kit.words, facts(plan)):
            assert (f"{caution.signal}: {caution.hazard}." in said) == (station in caution.stations), caution.key
        counts = [text for sheet in station_cards.draw(plan, kit) if sheet.number.startswith(str(station))
                  for text in texts(sheet)]
        for each in (*received(found, station), *handed_on(found, station)):
            assert str(len(each.parts)) in counts


def test_a_label_for_every_leaf_and_four_blank_ones(plan: Plan) -> None:
    said = [text for sheet in labels.draw(plan, kit_of(plan)) for text in texts(sheet)]
    assert all(said.count(leaf.mark) == 1 for leaf in plan.assembly.leaves)
    assert said.count("mark") >= 4
    assert said.count("UP") == len(plan.assembly.leaves) + said.count("mark")


def test_labels_tell_hand_half_and_layer() -> None:
    """Layers of the check case worked out by hand: B4 lies in layer 4, column 1; A1R is mid left as its number is odd."""
    plan = plan_of(CHECK_CASE)
    said = [text for sheet in labels.draw(plan, kit_of(plan)) for text in texts(sheet)]
    at = said.index("A1")
    assert said[at + 1:at + 4] == ["half A, layer 5", "face: INNER", "door"]
    assert said.count("roof, mid left") == said.count("roof, mid right") == 6


def test_a_tent_reads_the_same_from_both_sides() -> None:
    plan = plan_of(CHECK_CASE)
    for sheet in tents.draw(plan, kit_of(plan)):
        marks = [mark for mark in sheet.marks if isinstance(mark, Text)]
        upright, turned = ([mark.string for mark in marks if mark.angle == angle] for angle in (0.0, 180.0))
        assert upright == turned
        assert max(mark.style.height for mark in marks) == 20.0
