"""Decisions that were taken: what is printed, what is recalled, and what a crash leaves."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from typer.testing import CliRunner

from packet.cli import app
from packet.description.decided import Decision, Remedy
from packet.ledger.entries import Decided, Piece, State
from packet.ledger.joined import decisions
from packet.ledger.store import Ledger, LedgerMoved
from packet.miscut.answers import Case, answers
from packet.miscut.damage import Damage
from packet.plan import Plan, make_plan
from packet.reissue import changed_pages, completed, pages_changed_by_boards, publish
from packet.sheets.mending import draw
from packet.work.sheet_numbers import sheet_named
from tests.bench.take_kills import survive
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.miscut.recording_decisions import PAGES
from tests.sheets.drawn import PAPERS, faults, kit_of, on_paper, prose
from tests.zoo import zoo, zoo_plan

KILLS = int(os.environ.get("PACKET_KILLS", "12"))
"""200 of them were tried: PACKET_KILLS=200."""

INCH = 25.4


def decided(plan: Plan) -> Plan:
    """The plan with an answer of every kind that is possible, each to another leaf."""
    waiting = [leaf.mark for leaf in plan.parts.leaves]
    tried = ({"shaved": ("corner", 11.0)}, {"lost": True}, {"shaved": ("hip", 9.0)})
    taken: set[str] = set()
    for damage in tried:
        for mark in waiting:
            leaf = plan.parts.by_mark[mark]
            one: dict[str, Any] = dict(damage)
            if "shaved" in one and one["shaved"][0] not in leaf.edges:
                one = {"shaved": (leaf.edges[1], 9.0)}
            new = next((a for a in answers(Case(plan, leaf, Damage(**one), "as measured"))
                        if a.decision and str(a.remedy) not in taken), None)
            if new is not None and new.decision is not None:
                taken.add(str(new.remedy))
                plan = make_plan(replace(plan.description, decided=(*plan.description.decided, new.decision)))
                waiting.remove(mark)
                break
    return plan


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", list(zoo())[::3])
def test_nothing_collides(name: str, paper: str) -> None:
    assert list(faults(on_paper(decided(zoo_plan(name)), paper), draw)) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_nothing_collides_in_the_samples(path: Path) -> None:
    plan = decided(plan_of(path))
    assert len(draw(plan, kit_of(plan))) >= 2
    assert list(faults(plan, draw)) == []


def test_a_decision_survives_the_ledger() -> None:
    for leaf in ("A3", "A3R"):
        for answer in answers(Case(plan_of(CHECK_CASE), plan_of(CHECK_CASE).assembly.by_mark[leaf],
                                   Damage(width=23.5 * INCH), "narrow")):
            if answer.decision is not None:
                assert Decision.of(answer.decision.payload()) == answer.decision


def test_taking_an_answer_reissues_what_changed_and_no_more(tmp_path: Path) -> None:
    """The blank's board, the leaf's new marking and the register; the pages that are out are named with their holders."""
    from pypdf import PdfReader

    from packet.printing import drawn

    project = tmp_path / "hut.yaml"
    copy(CHECK_CASE, project)
    before = {sheet.number: sheet.serial for sheet in drawn(plan_of(CHECK_CASE))}
    run = CliRunner()
    assert run.invoke(app, ["issue", str(project), "--to", "Table 2", "--sheet", "C-05"]).exit_code == 0
    asked = run.invoke(app, ["miscut", str(project), "A3", "--width", "23-1/2"])
    assert "> 2  ADVISED" in asked.output
    assert not list(tmp_path.glob("*reissue*"))
    refused = run.invoke(app, ["miscut", str(project), "A3", "--width", "23-1/2", "--take", "3"])
    assert refused.exit_code == 2
    assert "limit: 2, 4, 5, 6, 7, 8" in refused.output
    taken = run.invoke(app, ["miscut", str(project), "A3", "--width", "23-1/2", "--take", "4"])
    assert taken.exit_code == 0, taken.output
    reader = PdfReader(tmp_path / "hut-reissue-1.pdf")
    labels = reader.page_labels
    assert {"L-33", "L-01", "C-05", "C-83"} <= set(labels)
    assert not {"C-01", "C-02", "H-02", "E-03", "J-01"} & set(labels)
    slip = reader.pages[0].extract_text()
    assert before["C-05"] in slip
    assert "Table 2" in slip
    ledger = Ledger.of(project)
    assert [one.leaf for one in decisions(ledger)] == ["A3"]
    assert any(isinstance(e.item, Piece) and e.item.state is State.SPOILED and e.item.mark == "A3" for e in ledger.entries)
    from packet.description import load
    from packet.ledger.joined import plan_with

    after = plan_with(load(project), ledger)
    changed = {sheet.number for sheet in drawn(after) if before.get(sheet.number) != sheet.serial}
    assert changed == set(labels) - {"L-33"}
    again = answers(Case(after, after.parts.by_mark["A4"], Damage(lost=True), "lost"))
    assert "5H1H1" in {answer.decision.source for answer in again if answer.decision}


@pytest.mark.parametrize(("name", "leaf"), [("check case", "A3"), ("cool-box", "SIDE1")])
def test_pages_of_an_answer_are_known_without_drawing_the_packet(name: str, leaf: str) -> None:
    """Against all pages drawn before and after: the same, but for the register's."""
    plan = plan_of(CHECK_CASE) if name == "check case" else zoo_plan(name)
    one = plan.assembly.by_mark[leaf]
    found = {answer.remedy: answer.decision for damage in (Damage(shaved=(one.edges[1], 12.7)), Damage(height=47.5 * INCH))
             for answer in answers(Case(plan, one, damage, "as measured")) if answer.decision}
    wanted = [found[remedy] for remedy in (Remedy.SLOT, Remedy.BLANK, Remedy.PARTNER) if remedy in found]
    plans = tuple(make_plan(replace(plan.description, decided=(decision,))) for decision in wanted if decision)
    quick, drawn = pages_changed_by_boards(plan, plans), changed_pages(plan, plans)
    assert len(plans) == (3 if name == "check case" else 2)
    for few, all_of_them in zip(quick, drawn, strict=True):
        if few is None:
            assert len(all_of_them) > 30
        else:
            register = {number for number in all_of_them if sheet_named(number) == "cover"}
            assert set(few) == set(all_of_them) - register


def test_a_whole_run_that_is_killed_leaves_all_or_nothing(tmp_path: Path) -> None:
    """The command from its start to its end; 200 kills were run by tests/bench/take_kills.py."""
    assert sum(survive(max(3, KILLS // 4), tmp_path).values()) >= 3


def test_two_commands_at_once_never_interleave(tmp_path: Path) -> None:
    """Of two that read the same ledger one records its decision; the other says so and leaves nothing behind."""
    project = tmp_path / "hut.yaml"
    copy(CHECK_CASE, project)
    first = second = Ledger.of(project)
    target = tmp_path / "hut-reissue-1.pdf"
    publish(first, Decision(1, Remedy.USE, "A3", "first"), (), PAGES, target)
    with pytest.raises(LedgerMoved, match="another command"):
        publish(second, Decision(1, Remedy.USE, "A4", "second"), (), PAGES + b"other", target)
    assert [one.leaf for one in decisions(Ledger.of(project))] == ["A3"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["hut-reissue-1.pdf", "hut.ledger", "hut.yaml"]
    assert target.read_bytes() == PAGES


def test_card_tells_what_to_do() -> None:
    plan = plan_of(CHECK_CASE)
    slot = answers(Case(plan, plan.assembly.by_mark["A3"], Damage(height=47.5 * INCH), "47-1/2 in high"))[1]
    assert slot.decision is not None
    new = make_plan(replace(plan.description, decided=(slot.decision,)))
    (card,) = draw(new, kit_of(new))
    assert "Trim it to 47 in (47.00) from the eave" in prose(card)
    assert card.number == "C-83"


def test_killed_at_any_moment_a_decision_and_its_pages_stay_together(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    copy(CHECK_CASE, project)
    acts = 0
    chance = random.Random(7)
    for _ in range(KILLS):
        with subprocess.Popen([sys.executable, "-m", "tests.miscut.recording_decisions", str(project)],
                              stdout=subprocess.PIPE) as process:
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(chance.uniform(0.0, 0.05))
            process.send_signal(signal.SIGKILL)
        ledger = Ledger.of(project)
        assert ledger.acts >= acts, "an act was lost"
        acts = ledger.acts
        completed(ledger)
        recorded = {entry.item.decision["reissue"] for entry in ledger.entries if isinstance(entry.item, Decided)}
        there = {path.name: path.read_bytes() for path in tmp_path.glob("*.pdf")}
        assert there.keys() == recorded
        assert all(content == PAGES for content in there.values())
    assert acts > 0


def test_pages_get_their_name_only_once_the_decision_is_recorded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before the act nothing bears the name; a stop right after it is made good; a ledger that fails leaves nothing."""
    ledger = Ledger(tmp_path / "hut.ledger")
    target = tmp_path / "hut-reissue-1.pdf"
    decision = Decision(1, Remedy.USE, "A3", "test")
    append = Ledger.append
    seen: list[tuple[bool, list[bytes]]] = []

    def watched(own: Ledger, items: Any, at: Any = None) -> Ledger:
        seen.append((target.exists(), [path.read_bytes() for path in tmp_path.glob(".*.part")]))
        return append(own, items, at)

    def full(own: Ledger, items: Any, at: Any = None) -> Ledger:
        raise OSError(28, "No space left on device")

    def stopped(own: Path, other: Path) -> Path:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(Ledger, "append", full)
        with pytest.raises(OSError, match="No space"):
            publish(ledger, decision, (), PAGES, target)
    assert list(tmp_path.iterdir()) == []
    with monkeypatch.context() as patch:
        patch.setattr(Ledger, "append", watched)
        patch.setattr(Path, "replace", stopped)
        with pytest.raises(KeyboardInterrupt):
            publish(ledger, decision, (), PAGES, target)
    assert seen == [(False, [PAGES])]
    assert not target.exists()
    assert completed(Ledger.of(tmp_path / "hut.yaml")) == (target,)
    assert target.read_bytes() == PAGES
