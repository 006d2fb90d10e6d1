"""The commands that record: what they write, what they refuse, and that the plan follows what was measured."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from packet.cli import app
from packet.description import load
from packet.ledger.entries import Done, Issued, Piece, State
from packet.ledger.joined import plan_with, with_ledger
from packet.ledger.standing import pages_out
from packet.ledger.store import Ledger
from tests.zoo import zoo

INCH = 25.4


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "hut.yaml"
    path.write_text(zoo()["six outer"], encoding="utf-8")
    return path


def run(*words: object, given: str = "") -> tuple[int, str]:
    ran = CliRunner().invoke(app, [str(word) for word in words], input=given)
    assert ran.exception is None or isinstance(ran.exception, SystemExit), ran.exception
    return ran.exit_code, ran.output


def test_readings_at_the_table_reach_every_leaf(project: Path) -> None:
    nominal = plan_with(load(project), Ledger.of(project))
    code, said = run("measured", project, given="95-3/4\n48\n\n\n95-7/8\n48\n107 1/4, 107 1/4\n1/2, 1/2, 9/16, 1/2\n\n")
    assert code == 0
    assert "smallest 48 x 95-3/4 in" in said and "thickest 9/16 in" in said
    plan = plan_with(load(project), Ledger.of(project))
    assert plan.nest.stock.length == pytest.approx(95.75 * INCH)
    assert plan.assembly.thickness == pytest.approx(9 / 16 * INCH)
    assert plan.geometry.leaf_width < nominal.geometry.leaf_width
    # By hand: four leaves in 95.75 in are at most 23.9375 in wide.
    assert plan.geometry.leaf_width == pytest.approx(23.9375 * INCH)
    assert project.read_text(encoding="utf-8") == zoo()["six outer"]


def test_work_broken_off_is_taken_up_again(project: Path) -> None:
    run("measured", project, given="96\n48\n\n\n")  # the input ends in the middle
    code, said = run("measured", project, given="95-7/8\n48\n\n\n\n")
    assert code == 0 and "board 2: length" in said
    assert [board.mark for board in with_ledger(load(project), Ledger.of(project)).boards.measured] == ["1", "2"]


def test_a_later_reading_and_a_board_set_aside_count(project: Path) -> None:
    for length in ("95", "95-7/8"):
        assert run("measured", project, "--board", 1, "--length", length, "--breadth", 48)[0] == 0
    run("measured", project, "--board", 2, "--length", "94", "--breadth", 48)
    assert run("check", project)[0] == 2
    assert run("measured", project, "--board", 2, "--set-aside")[0] == 0
    (board,) = with_ledger(load(project), Ledger.of(project)).boards.measured
    assert board.length == 95.875 * INCH
    assert run("check", project)[0] == 0


@pytest.mark.parametrize(("words", "said"), [
    (("--length", "twelve", "--breadth", "48"), "length 'twelve'"),
    (("--length", "3", "--breadth", "48"), "limit: 6 in to 240 in"),
    (("--length", "96"), "length and breadth are needed"),
    (("--length", "96", "--breadth", "48", "--diagonals", "107"), "1 given (limit: 2"),
    (("--length", "96", "--breadth", "48", "--thickness", "1, 1, 1, 40"), "limit: 1/4 in to 6 in"),
])
def test_a_reading_that_cannot_be_is_refused(project: Path, words: tuple[str, ...], said: str) -> None:
    code, output = run("measured", project, "--board", 1, *words)
    assert code == 2 and said in output
    assert Ledger.of(project).acts == 0 and not project.with_suffix(".ledger").exists()


def test_pages_out_and_back(project: Path) -> None:
    assert run("issue", project, "--to", " north  table ", "--sheet", "c-01", "--sheet", "H-02")[0] == 0
    issued = [entry.item for entry in Ledger.of(project).entries]
    assert [(one.sheet, one.holder) for one in issued if isinstance(one, Issued)] == [
        ("C-01", "north table"), ("H-02", "north table")]
    assert isinstance(issued[0], Issued)
    serial = issued[0].serial
    assert run("verify", project, serial)[0] == 0
    run("measured", project, "--board", 1, "--length", "95-3/4", "--breadth", 48)
    code, said = run("verify", project, serial, "XXX-0000")
    assert code == 2
    assert f"{serial}: superseded, sheet C-01 is now" in said and "XXX-0000: unknown" in said
    assert run("collect", project, serial.lower())[0] == 0
    assert [page.issued.sheet for page in pages_out(Ledger.of(project))] == ["H-02"]
    assert run("collect", project, serial)[0] == 2


@pytest.mark.parametrize("words", [
    ("--sheet", "Q-01"), ("--station", "kitchen"), ("--to", " "), ("--to", "x" * 41), ("--to", "a\x07b")])
def test_what_cannot_be_issued_is_refused(project: Path, words: tuple[str, ...]) -> None:
    code, _ = run("issue", project, "--to", "north", *words)
    assert code == 2 and not project.with_suffix(".ledger").exists()


def test_pieces_and_times(project: Path) -> None:
    assert run("done", project, "A3", "B2R", "--state", "bonded", "--page", "k3f-9qz1")[0] == 0
    assert run("done", project, "cut:1", "--minutes", 30)[0] == 0
    items = [entry.item for entry in Ledger.of(project).entries]
    assert [(one.mark, one.state, one.serial) for one in items if isinstance(one, Piece)] == [
        ("A3", State.BONDED, "K3F-9QZ1"), ("B2R", State.BONDED, "K3F-9QZ1")]
    assert [one.minutes for one in items if isinstance(one, Done)] == [30]
    code, said = run("ledger", project)
    assert code == 0
    lines = {line.split()[0]: line for line in said.splitlines() if line.strip()}
    assert "bonded" in lines["A3"] and "planned" in lines["A4"] and "30 minutes" in lines["cut:1"]
    found = json.loads(run("ledger", project, "--json")[1])
    assert found["pieces"]["B2R"]["state"] == "bonded" and len(found["entries"]) == 3


def test_a_time_that_was_taken_changes_the_rate(project: Path) -> None:
    from packet.work.effort import efforts
    from packet.work.tasks import tasks

    before = plan_with(load(project), Ledger.of(project))
    (effort,) = (one for one in efforts(before, tasks(before)) if one.task.key == "cut:1")
    run("done", project, "cut:1", "--minutes", 3 * effort.minutes)
    after = plan_with(load(project), Ledger.of(project))
    assert after.description.rates.cut == pytest.approx(before.description.rates.cut / 3)


@pytest.mark.parametrize("words", [
    ("Z9",), ("A3", "--state", "eaten"), ("cut:1", "cut:2", "--minutes", "5"), ("A3", "--minutes", "5"),
    ("cut:1", "--state", "cut")])
def test_what_cannot_be_done_is_refused(project: Path, words: tuple[str, ...]) -> None:
    code, _ = run("done", project, *words)
    assert code == 2 and not project.with_suffix(".ledger").exists()


def test_a_damaged_ledger_stops_every_command(project: Path) -> None:
    run("done", project, "A3")
    path = project.with_suffix(".ledger")
    path.write_text(path.read_text(encoding="utf-8").replace("A3", "A4"), encoding="utf-8")
    for words in (("check", project), ("ledger", project), ("print", project), ("done", project, "A3")):
        code, said = run(*words)
        assert code == 2 and "line 2: was changed" in said


def test_a_task_is_recorded_for_each_set(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    project.write_text(zoo()["six outer"] + "quantity: 3\n", encoding="utf-8")
    assert run("done", project, "fold:A", "--set", 2, "--minutes", 30)[0] == 0
    code, said = run("ledger", project)
    assert code == 0 and "done, but for set 1, 3, 30 minutes" in said
    assert run("done", project, "fold:A", "--set", 4)[1].count("limit: 1 to 3") == 1
    assert "is done once for all sets" in run("done", project, "brief", "--set", 1)[1]
    assert "2-A3" in run("done", project, "1-A3", "--set", 1)[1]
    for number in (1, 3):
        run("done", project, "fold:A", "--set", number, "--minutes", 30)
    assert "done, 90 minutes" in run("ledger", project)[1]


def test_the_time_of_one_set_teaches_as_much_as_that_of_all(tmp_path: Path) -> None:
    """Three sets at ten minutes each are one of thirty: the rates that follow are the same."""
    found = []
    for name, times in (("one", [(2, 10)]), ("all", [(None, 30)])):
        project = tmp_path / f"{name}.yaml"
        project.write_text(zoo()["six outer"] + "quantity: 3\n", encoding="utf-8")
        for number, took in times:
            run("done", project, "fold:A", "--minutes", took, *(("--set", number) if number else ()))
        found.append(plan_with(load(project), Ledger.of(project)).description.rates)
    assert found[0] == found[1] != load(tmp_path / "one.yaml").rates
