"""Acts that are recorded beside a project, and what they change: pages, their serials, and the leaves."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from packet.cli import app
from tests.conftest import SAMPLES

RING = next(path for path in SAMPLES if path.stem == "tide_gauge")
BOX = next(path for path in SAMPLES if path.stem == "fish_box")


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


@pytest.fixture
def box(tmp_path: Path) -> Path:
    return Path(shutil.copy(BOX, tmp_path / "box.yaml"))


@pytest.fixture
def ring(tmp_path: Path) -> Path:
    return Path(shutil.copy(RING, tmp_path / "ring.yaml"))


def out(project: Path) -> dict[str, str]:
    """The serial of each page that is out, by sheet number."""
    told = json.loads(run("ledger", project, "--json").stdout)
    return {page["issued"]["sheet"]: page["issued"]["serial"] for page in told["pages_out"]}


def foot(pdf: Path, number: str) -> str:
    found = PdfReader(pdf)
    return str(found.pages[found.page_labels.index(number)].extract_text())


def test_pages_go_out_come_back_and_are_verified(box: Path) -> None:
    assert run("issue", box, "--to", "cutting table", "--sheet", "C-01").exit_code == 0
    assert list(out(box)) == ["C-01"]
    serial = out(box)["C-01"]
    current = run("verify", box, f"{serial}/C-01/00000000/WHAT A SCANNER READ")
    assert current.exit_code == 0 and f"{serial}: current, sheet C-01" in current.stdout
    unknown = run("verify", box, "000-0000")
    assert unknown.exit_code == 2 and "unknown" in unknown.stdout
    assert run("collect", box, serial).exit_code == 0
    assert out(box) == {}
    assert run("collect", box, serial).exit_code == 2


def test_a_changed_page_names_the_serial_it_replaces_and_keeps_its_own(box: Path, tmp_path: Path) -> None:
    assert run("issue", box, "--to", "lead", "--sheet", "C-01").exit_code == 0
    old = out(box)["C-01"]
    assert run("board", box, "1", "-o", tmp_path / "same.pdf").exit_code == 0
    assert foot(tmp_path / "same.pdf", "C-01").replace(f"Copy 2 of serial {old}", "").count(old) == 1
    assert run("measured", box, "--board", 1, "--length", "2497", "--breadth", "1197").exit_code == 0
    verified = run("verify", box, old)
    assert verified.exit_code == 2 and "superseded, sheet C-01 is now" in verified.stdout
    new = verified.stdout.split("is now ")[1].split(".")[0]
    assert run("board", box, "1", "-o", tmp_path / "before.pdf").exit_code == 0
    assert run("issue", box, "--to", "lead", "--sheet", "C-01").exit_code == 0
    assert out(box)["C-01"] == new
    assert run("board", box, "1", "-o", tmp_path / "after.pdf").exit_code == 0
    for pdf in ("before.pdf", "after.pdf"):
        said = foot(tmp_path / pdf, "C-01").replace(f"Copy 2 of serial {new}", "")
        assert said.count(new) == 1 and said.count(old) == 1


def test_what_was_measured_at_the_table_fits_the_leaves(ring: Path) -> None:
    """The same sizes as with the same reading in the project file, and never more than the smallest board gives."""
    before = json.loads(run("figures", ring, "--json").stdout)
    text = ring.read_text(encoding="utf-8")
    assert "measured:" not in text
    given = run("measured", ring, "--board", 1, "--length", "2380", "--breadth", "1190")
    assert given.exit_code == 0
    after = json.loads(run("figures", ring, "--json").stdout)
    assert before != after
    assert ring.read_text(encoding="utf-8") == text
    written = ring.with_name("written.yaml")
    written.write_text(text.replace("boards:\n", "boards:\n  measured:\n    - {length: 2380, breadth: 1190}\n"),
                       encoding="utf-8")
    assert json.loads(run("figures", written, "--json").stdout) == after
    assert run("measured", ring, "--board", 1, "--length", "2400", "--breadth", "1200").exit_code == 0
    assert json.loads(run("figures", ring, "--json").stdout)["boards"] == before["boards"]


def test_a_reading_that_no_board_has_is_refused_and_nothing_is_recorded(ring: Path) -> None:
    refused = run("measured", ring, "--board", 1, "--length", "20", "--breadth", "1190")
    assert refused.exit_code == 2 and "limit: " in refused.output
    assert not ring.with_suffix(".ledger").exists()


def test_readings_are_taken_one_after_another_and_taken_up_again(ring: Path) -> None:
    runner = CliRunner()
    first = runner.invoke(app, ["measured", str(ring)], input="2399\n1199\n\n\n\n")
    assert first.exit_code == 0, first.output
    second = runner.invoke(app, ["measured", str(ring)], input="2398\n1198\n2680\n26\n2682\n30\n30\n30\n29.5\n\n")
    assert second.exit_code == 0, second.output
    told = json.loads(run("ledger", ring, "--json").stdout)
    assert [(entry["board"], entry["length"], entry["diagonals"], entry["thickness"]) for entry in told["entries"]] == [
        ("1", 2399.0, [], []), ("2", 2398.0, [2680.0, 2682.0], [30.0, 30.0, 30.0, 29.5])]


def test_pieces_are_followed(box: Path) -> None:
    mark = next(iter(json.loads(run("ledger", box, "--json").stdout)["pieces"]))
    assert run("done", box, mark, "--state", "cut").exit_code == 0
    assert run("done", box, mark, "--width", "419.5", "--height", "380").exit_code == 0
    actual = json.loads(run("ledger", box, "--json").stdout)["pieces"][mark]["actual"]
    assert actual == {"width": 419.5, "height": 380.0}
    assert run("done", box, mark, "--state", "bonded").exit_code == 0
    assert json.loads(run("ledger", box, "--json").stdout)["pieces"][mark]["state"] == "bonded"
    for wrong in (("--state", "mislaid"), ("--width", "99999"), ("--hands", "2"), ("--quantity", "3")):
        refused = run("done", box, mark, *wrong)
        assert refused.exit_code == 2 and "limit: " in refused.output
    assert run("done", box, "cut:1", "--hands", "2", "--quantity", "3", "--minutes", "9").exit_code == 0
    last = json.loads(run("ledger", box, "--json").stdout)["entries"][-1]
    assert (last["hands"], last["quantity"], last["minutes"]) == (2, 3.0, 9.0)


@pytest.mark.parametrize("command", [("check",), ("print",), ("ledger",), ("verify", "K3F-9QZ1"), ("issue", "--to", "x")])
def test_a_ledger_that_does_not_read_stops_every_command(box: Path, command: tuple[str, ...]) -> None:
    box.with_suffix(".ledger").write_text("[1, 2]\n", encoding="utf-8")
    name, *rest = command
    refused = run(name, box, *rest)
    assert refused.exit_code == 2
    assert "line 1: is no line of a ledger" in refused.output
    assert sorted(path.name for path in box.parent.iterdir()) == ["box.ledger", "box.yaml"]
