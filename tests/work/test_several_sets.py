"""Several sets of one order at the tables: work, counts, labels and strips are those of all sets."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from packet.description import load
from packet.description.paper import parse_paper
from packet.description.terms import Language
from packet.drawing.page import finish_all
from packet.plan import Plan, make_plan
from packet.sheets import checklist, labels, parts, station_cards, strips
from packet.work.effort import Work, efforts
from packet.work.tasks import tasks
from tests.conftest import SAMPLES
from tests.sheets.drawn import faults, kit_of, prose, texts

FILES = {path.stem: path for path in SAMPLES}


def sets(name: str, quantity: int) -> Plan:
    return make_plan(replace(load(FILES[name]), quantity=quantity))


def worked(plan: Plan) -> Counter[Work]:
    found: Counter[Work] = Counter()
    for effort in efforts(plan, tasks(plan)):
        found.update(dict(effort.quantities))
    return found


@pytest.mark.parametrize(("name", "quantity"), [("frost_watch", 3), ("fish_box", 4)])
def test_work_is_that_of_all_sets(name: str, quantity: int) -> None:
    """Tape goes with the sets exactly; what is cut and snapped is what the boards of the order bear."""
    one, several = worked(sets(name, 1)), sets(name, quantity)
    all_sets = worked(several)
    for work in (Work.STRIP, Work.FOIL, Work.SLIT, Work.FOLD, Work.HOLE):
        assert all_sets[work] == pytest.approx(quantity * one[work])
    assert all_sets[Work.LINE] == sum(len(board.cuts) for board in several.boards)
    assert all_sets[Work.TALK] == one[Work.TALK] + (quantity - 1) * (one[Work.TALK] - 1)  # one briefing for all


@pytest.mark.parametrize(("name", "quantity"), [("frost_watch", 3), ("fish_box", 4)])
def test_a_label_for_every_piece_that_is_cut(name: str, quantity: int) -> None:
    plan = sets(name, quantity)
    cut = {piece.mark for board in plan.boards for piece in board.pieces}
    assert len(cut) == quantity * len(plan.assembly.leaves)
    found = Counter(text for sheet in labels.draw(plan, kit_of(plan)) for text in texts(sheet))
    assert [mark for mark in cut if found[mark] != 1] == []


@pytest.mark.parametrize(("name", "quantity"), [("frost_watch", 3), ("fish_box", 4)])
def test_pages_tell_the_sets(name: str, quantity: int) -> None:
    plan = sets(name, quantity)
    kit = kit_of(plan)
    for draw in (checklist.draw, labels.draw, station_cards.draw, strips.draw, parts.draw):
        assert list(faults(plan, draw)) == []
    told = " ".join(prose(sheet) for sheet in checklist.draw(plan, kit))
    assert f"Brief the crew ({quantity} sets)" not in told and f"({quantity} sets)" in told
    cards = " ".join(prose(sheet) for sheet in station_cards.draw(plan, kit))
    assert f"of each of {quantity} sets" in cards
    sums = " ".join(prose(sheet) for sheet in strips.draw(plan, kit))
    for need in plan.needs:
        assert plan.form.feet(need.net) in sums


@pytest.mark.parametrize(("name", "paper"), [("frost_watch", "letter"), ("frost_watch", "a4"), ("ticket_booth", "letter")])
def test_many_sets_in_the_longer_language_find_room(name: str, paper: str) -> None:
    """Names of hold points and what stands beside a title grow with the language and with the sets."""
    plan = make_plan(replace(load(FILES[name]), quantity=8, language=Language.ES, paper=parse_paper(paper, "in")[0]))
    kit = kit_of(plan)
    for sheet in (checklist, strips, labels, station_cards):
        drawn = sheet.draw(plan, kit)
        assert finish_all(drawn, kit.identity, kit.paper, kit.lettering, kit.system)
        assert not list(faults(plan, sheet.draw))
