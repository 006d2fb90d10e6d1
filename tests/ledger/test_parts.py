"""A leaf made of parts in the ledger: recorded as a whole or part by part, and one part cut new."""

from __future__ import annotations

import json
from pathlib import Path

import pypdf
import pytest

from packet.description import load
from packet.ledger.entries import Piece
from packet.ledger.joined import plan_with
from packet.ledger.store import Ledger
from packet.work.mending import whole_work
from tests.ledger.test_commands import run
from tests.zoo import spliced_zoo


@pytest.fixture
def screen(tmp_path: Path) -> Path:
    path = tmp_path / "screen.yaml"
    path.write_text(spliced_zoo()["tall screen"], encoding="utf-8")
    return path


def test_a_leaf_stands_for_its_parts(screen: Path) -> None:
    assert run("done", screen, "A2", "A3b", "--state", "bonded")[0] == 0
    recorded = [entry.item.mark for entry in Ledger.of(screen).entries if isinstance(entry.item, Piece)]
    assert recorded == ["A2a", "A2b", "A3b"]


def test_a_spoiled_leaf_is_asked_for_by_its_part(screen: Path) -> None:
    code, said = run("miscut", screen, "a2", "--lost")
    assert code == 2
    assert "A2a, A2b" in said
    assert not Ledger.of(screen).entries


def test_a_part_is_cut_new(screen: Path) -> None:
    code, said = run("miscut", screen, "A2b", "--lost", "--take", "8")
    assert code == 0, said
    pages = pypdf.PdfReader(screen.with_name("screen-reissue-1.pdf")).page_labels
    assert "C-83" in pages
    plan = plan_with(load(screen), Ledger.of(screen))
    assert [recut.leaf for recut in plan.mended.recuts] == ["A2b"]
    work = {task.key: task for task in whole_work(plan)}
    assert work["mend_cut:1"].marks == ("A2",)
    sort = next(task for task in work.values() if task.step == "sort" and "A2" in task.marks)
    assert "mend_cut:1" in sort.after
    found = json.loads(run("ledger", screen, "--json")[1])
    assert found["pieces"]["A2b"]["state"] == "spoiled"
