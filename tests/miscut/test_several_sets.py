"""A spoiled part of one of several sets: its mark says whose, and what follows speaks of that set alone."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import networkx as nx
import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from packet.boards.check import layout_faults
from packet.cli import app
from packet.description import load
from packet.description.decided import Decision, Remedy
from packet.description.problems import ProjectError
from packet.ledger.entries import Piece, State
from packet.ledger.joined import decisions, plan_with
from packet.ledger.store import Ledger
from packet.miscut.answers import Case, answers
from packet.miscut.damage import Damage
from packet.plan import Plan, make_plan
from packet.sheets import cuts, keep, mending, order
from packet.work.effort import efforts
from packet.work.mending import mending_tasks, whole_work
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE
from tests.sheets.drawn import faults, kit_of, prose

INCH = 25.4
SETS = 3


def sets() -> Plan:
    return make_plan(replace(load(CHECK_CASE), quantity=SETS))


PLAN = sets()


def taken(plan: Plan, mark: str, copy: int, remedy: Remedy, damage: Damage) -> Plan:
    found = next(one for one in answers(Case(plan, plan.assembly.by_mark[mark], damage, "as measured", (), copy))
                 if one.remedy is remedy)
    assert found.decision is not None, found.no
    assert found.decision.copy == copy
    return make_plan(replace(plan.description, decided=(*plan.description.decided, found.decision)))


def several() -> Plan:
    plan = taken(PLAN, "A3R", 2, Remedy.BLANK, Damage(lost=True))
    plan = taken(plan, "A3R", 3, Remedy.SPARE if dict(plan.mended.spares) else Remedy.BLANK, Damage(lost=True))
    plan = taken(plan, "A5", 3, Remedy.PACKER, Damage(width=23.5 * INCH))
    plan = taken(plan, "A3", 2, Remedy.SLOT, Damage(height=47.5 * INCH))
    return taken(plan, "A3", 1, Remedy.BOARD, Damage(lost=True))


def test_answers_speak_of_one_set() -> None:
    case = Case(PLAN, PLAN.assembly.by_mark["A3"], Damage(height=47.5 * INCH), "as measured", (), 2)
    found = {answer.remedy: answer for answer in answers(case)}
    assert found[Remedy.SLOT].values["slot"] == "2-A1"
    assert found[Remedy.ALL].no == "other_sets"
    narrow = {answer.remedy: answer for answer in answers(replace(case, damage=Damage(width=23.5 * INCH)))}
    assert narrow[Remedy.PARTNER].no == narrow[Remedy.ALL].no == "other_sets"
    # The leaf of another set that is taped already hinders nothing; that of this one does.
    taped = next(a for a in answers(replace(case, done=("A1", "B1"))) if a.remedy is Remedy.SLOT)
    assert taped.values.get("slot") not in ("2-A1", "2-B1")


def test_a_new_leaf_bears_the_mark_of_its_set() -> None:
    plan = several()
    made = {recut.mark: recut for recut in plan.mended.recuts}
    assert {"2-A3R", "1-A3"} <= made.keys()
    assert "2-A3R" in {piece.mark for piece in made["2-A3R"].board.pieces}
    for recut in plan.mended.recuts:
        assert all(set(cut.parts()) <= {(piece.leaf, piece.copy) for piece in recut.board.pieces}
                   for cut in recut.board.cuts)
    assert plan.boards == PLAN.boards and layout_faults(plan.cut, plan.boards, SETS) == ()


def test_its_work_is_done_once_and_waits_for_its_own_boards() -> None:
    plan = several()
    assert [task.key for task in tasks(plan)] == [task.key for task in tasks(PLAN)]
    work = whole_work(plan)
    graph = nx.DiGraph([(before, task.key) for task in work for before in task.after])
    board = next(board for board in plan.boards if any(piece.mark == "3-A5" for piece in board.pieces))
    cut = next(task.key for task in work if task.step == "cut" and (board.mark, 1) in task.cuts)
    assert cut in nx.ancestors(graph, "mend_glue:3")
    for task in mending_tasks(plan):
        assert not task.each_set
        assert task.values["leaf"] in {"2-A3R", "3-A3R", "3-A5", "2-A3", "1-A3"}
    glued = next(each for each in efforts(plan, work) if each.task.key == "mend_glue:3")
    alone = make_plan(load(CHECK_CASE))
    one = next(a for a in answers(Case(alone, alone.assembly.by_mark["A5"], Damage(width=23.5 * INCH), "as measured"))
               if a.remedy is Remedy.PACKER)
    assert one.decision is not None
    single = make_plan(replace(alone.description, decided=(one.decision,)))
    assert glued.minutes == pytest.approx(next(
        each.minutes for each in efforts(single, whole_work(single)) if each.task.key == "mend_glue:1"))


def test_its_pages_name_the_set() -> None:
    plan = several()
    kit = kit_of(plan)
    said = [prose(page) for page in mending.draw(plan, kit)]
    assert "Rub out 2-A1 on that leaf and write 2-A3" in said[3]
    assert "1-A3" in said[4] and "3-A5" in said[2]
    for draw in (mending.draw, order.draw, keep.draw, cuts.draw):
        assert list(faults(plan, draw)) == []


def test_a_decision_that_names_no_set_of_the_order_is_refused() -> None:
    for copy in (0, 4):
        with pytest.raises(ProjectError, match="order for 3"):
            make_plan(replace(PLAN.description, decided=(Decision(1, Remedy.USE, "A3", "x", copy=copy),)))
    with pytest.raises(ProjectError, match="order for 1"):
        make_plan(replace(load(CHECK_CASE), decided=(Decision(1, Remedy.USE, "A3", "x", copy=2),)))


def test_the_command_takes_an_answer_for_one_set(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    project.write_text(CHECK_CASE.read_text(encoding="utf-8") + "\nquantity: 3\n", encoding="utf-8")
    run = CliRunner()
    asked = run.invoke(app, ["miscut", str(project), "A3", "--lost", "--take", "4"])
    assert asked.exit_code == 2 and "limit: 1-A3 to 3-A3" in asked.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["hut.yaml"]
    assert run.invoke(app, ["miscut", str(project), "4-A3", "--lost"]).exit_code == 2
    done = run.invoke(app, ["miscut", str(project), "2-a3", "--lost", "--take", "8"])
    assert done.exit_code == 0, done.output
    ledger = Ledger.of(project)
    assert [(one.leaf, one.copy, one.mark) for one in decisions(ledger)] == [("A3", 2, "2-A3")]
    assert [e.item.mark for e in ledger.entries if isinstance(e.item, Piece) and e.item.state is State.SPOILED] == ["2-A3"]
    assert "2-A3" in PdfReader(tmp_path / "hut-reissue-1.pdf").pages[0].extract_text()
    # Readings at the table join the decision: the boards are laid out anew, and it still fits.
    for board in (1, 2, 3):
        assert run.invoke(app, ["measured", str(project), "--board", str(board), "--length", "96", "--breadth", "48"]
                          ).exit_code == 0
    after = plan_with(load(project), Ledger.of(project))
    assert [recut.mark for recut in after.mended.recuts] == ["2-A3"] and len(after.description.boards.measured) == 3
