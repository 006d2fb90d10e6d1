"""Several sets in an order: each has a page on which its hold points are signed, and the pages of the work say so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.description import load
from packet.description.terms import Language
from packet.plan import Plan, make_plan
from packet.sheets import checklist, erect, fold, inspection, plain_erect, set_holds
from packet.work.facts import facts
from packet.work.sheet_numbers import sheet_named, sheet_number
from packet.work.tasks import tasks
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose, texts

FILES = {path.stem: path for path in SAMPLES}


def sets(name: str, quantity: int, language: str = "en") -> Plan:
    return make_plan(replace(load(FILES[name]), quantity=quantity, language=Language(language)))


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize(("name", "quantity"), [("frost_watch", 3), ("fish_box", 2)])
def test_every_set_has_a_box_for_every_hold_point_that_is_its_own(name: str, quantity: int, language: str) -> None:
    plan = sets(name, quantity, language)
    kit = kit_of(plan)
    pages = set_holds.draw(plan, kit)
    own = {number for number, task in enumerate(tasks(plan), 1)
           if task.each_set and (task.hold or task.step == "inspect")}
    assert {"fold", "erect"} <= {task.step for task in tasks(plan) if task.each_set and task.hold}
    for number in range(1, quantity + 1):
        mine = [page for page in pages if page.subject == kit.words.text("set_holds.subject", number=number)]
        said = [text for page in mine for text in texts(page)]
        assert said.count(kit.words.text("set_holds.sign")) == len(own)
        assert own <= {int(text) for text in said if text.isdigit()}
    assert {sheet_named(page.number) for page in pages} == {"set_holds"}
    for paper in PAPERS:
        assert list(faults(on_paper(plan, paper), set_holds.draw)) == []


def test_an_order_of_one_or_of_many() -> None:
    assert set_holds.draw(plan_of(FILES["frost_watch"]), kit_of(plan_of(FILES["frost_watch"]))) == ()
    many = sets("fish_box", 24)
    pages = set_holds.draw(many, kit_of(many))
    assert len({page.subject for page in pages}) == 24


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", ["frost_watch", "fish_box"])
def test_the_pages_of_the_work_lead_to_the_set_s_own(name: str, language: str) -> None:
    plan, alone = sets(name, 3, language), sets(name, 1, language)
    kit = kit_of(plan)
    where = kit.words.text("checklist.hold.each_set", sheet=sheet_number)
    held = erect if facts(plan)["enterable"] else plain_erect
    for draw in (fold.draw, held.draw, checklist.draw):
        assert where in " ".join(prose(page) for page in draw(plan, kit))
        assert where not in " ".join(prose(page) for page in draw(alone, kit_of(alone)))
        assert list(faults(plan, draw)) == []
    looked_at = inspection.draw(plan, kit)
    assert any(kit.words.text("inspection.set", sets=3) in texts(page) for page in looked_at)
    assert list(faults(plan, inspection.draw)) == []
