"""The commands as a user runs them: what they say, write, refuse, and their exit codes."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from packet.cli import app
from tests.conftest import CHECK_CASE, SAMPLES


def run(*arguments: object, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "packet", *map(str, arguments)], cwd=cwd, text=True,
                          capture_output=True, check=False)


@pytest.mark.parametrize("units", ["in", "mm"])
def test_starter_file_checks_and_prints_as_it_is(tmp_path: Path, units: str) -> None:
    project = tmp_path / "hut.yaml"
    assert run("start", project, "--units", units).returncode == 0
    checked = run("check", project)
    assert (checked.returncode, checked.stderr) == (0, "")
    printed = run("print", project)
    assert printed.returncode == 0
    assert (tmp_path / "hut.pdf").read_bytes().startswith(b"%PDF-1.7")
    assert f"Wrote {tmp_path / 'hut.pdf'}" in printed.stdout
    assert "sheets in" in printed.stdout


def test_no_summary_of_a_command_is_cut_off() -> None:
    told = CliRunner().invoke(app, ["--help"], env={"COLUMNS": "80"}).stdout
    assert "..." not in told.partition("Commands:")[2]
    assert len(told.splitlines()) > len(app.registered_commands)


def test_start_keeps_what_is_there(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    project.write_text("mine", encoding="utf-8")
    refused = run("start", project)
    assert refused.returncode == 2
    assert "there is a file already" in refused.stderr
    assert project.read_text(encoding="utf-8") == "mine"
    assert run("start", tmp_path / "no" / "folder.yaml").returncode == 2
    assert run("start", tmp_path / "new.yaml", "--units", "cubits").returncode == 2
    assert not (tmp_path / "new.yaml").exists()


@pytest.mark.parametrize("command", [("print",), ("board", "1"), ("sheet", "erect"), ("full-size", "A3")])
@pytest.mark.parametrize("name", ["hut.yaml", "./hut.yaml", "hut.ledger", "hut", "notes.txt"])
def test_a_pdf_takes_the_place_of_nothing_else(tmp_path: Path, command: tuple[str, ...], name: str) -> None:
    project = tmp_path / "hut.yaml"
    shutil.copy(CHECK_CASE, project)
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "hut.ledger").write_text("", encoding="utf-8")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    refused = CliRunner().invoke(app, [command[0], str(project), *command[1:], "-o", f"{tmp_path}/{name}"])
    assert refused.exit_code == 2
    assert "limit: " in refused.stderr
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


@pytest.mark.parametrize("command", [("check",), ("print",), ("board",), ("figures",), ("figures", "--json")])
def test_a_wrong_project_writes_nothing(tmp_path: Path, command: tuple[str, ...]) -> None:
    project = tmp_path / "hut.yaml"
    project.write_text(CHECK_CASE.read_text(encoding="utf-8").replace("slant: 48", "slant: 41"), encoding="utf-8")
    extra = ("1",) if command == ("board",) else ()
    refused = run(command[0], project, *extra, *command[1:])
    assert refused.returncode == 2
    assert "Traceback" not in refused.stderr
    assert "shelter.slant" in refused.stderr or "shelter.leaf_width" in refused.stderr
    assert "nothing was written" in refused.stderr
    assert sorted(p.name for p in tmp_path.iterdir()) == ["hut.yaml"]


def test_board_prints_one_sheet_with_its_serial(tmp_path: Path) -> None:
    from pypdf import PdfReader

    whole, one = tmp_path / "whole.pdf", tmp_path / "one.pdf"
    assert run("print", CHECK_CASE, "-o", whole).returncode == 0
    said = run("board", CHECK_CASE, "board 4", "-o", one)
    assert said.returncode == 0
    serial = said.stdout.split("serial ")[1].strip()
    pages = PdfReader(one).pages
    assert len(pages) == 1
    assert serial in pages[0].extract_text()
    packet = PdfReader(whole)
    same = packet.pages[packet.page_labels.index("C-04")]
    assert same.get_contents().get_data() == pages[0].get_contents().get_data()


def test_board_prints_its_drawing_and_its_table(tmp_path: Path) -> None:
    """On A4 a metric board is drawn alone, so its table has a sheet of its own."""
    from pypdf import PdfReader

    target = tmp_path / "one.pdf"
    said = run("board", next(path for path in SAMPLES if path.stem == "tide_gauge"), "4", "-o", target)
    assert said.returncode == 0
    found = PdfReader(target)
    assert found.page_labels == ["C-04", "C-4B"]
    for number, page in zip(found.page_labels, found.pages, strict=True):
        serial = said.stdout.split(f"sheet {number}, serial ")[1].split(";")[0].strip()
        assert serial in page.extract_text()


def test_board_that_does_not_exist(tmp_path: Path) -> None:
    refused = run("board", CHECK_CASE, "9", "-o", tmp_path / "x.pdf")
    assert refused.returncode == 2
    assert "limit: 1 to 5" in refused.stderr
    assert not list(tmp_path.iterdir())


def test_paper(tmp_path: Path) -> None:
    from pypdf import PdfReader

    out = tmp_path / "out.pdf"
    for paper, size in (("a4", (841.89, 595.28)), ("tabloid", (1224, 792))):
        assert run("print", CHECK_CASE, "-o", out, "--paper", paper).returncode == 0
        box = PdfReader(out).pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.5)
    kept = out.read_bytes()
    refused = run("print", CHECK_CASE, "-o", out, "--paper", "papyrus")
    assert refused.returncode == 2
    assert "limit:" in refused.stderr
    assert out.read_bytes() == kept


def test_a_target_that_cannot_be_written(tmp_path: Path) -> None:
    for target in (tmp_path, tmp_path / "no" / "such" / "folder.pdf"):
        refused = run("print", CHECK_CASE, "-o", target)
        assert refused.returncode == 2
        assert "Traceback" not in refused.stderr
    assert not list(tmp_path.iterdir())


def test_a_missing_project() -> None:
    refused = run("check", "no_such_project.yaml")
    assert refused.returncode == 2
    assert "no_such_project.yaml" in refused.stderr
    assert "Traceback" not in refused.stderr


@pytest.mark.parametrize("project", SAMPLES, ids=lambda p: p.stem)
def test_figures_and_check_agree(project: Path) -> None:
    found = json.loads(run("figures", project, "--json").stdout)
    said = run("check", project)
    assert said.returncode == 0
    assert f"{len(found['boards'])} of " in said.stdout
    assert found["warnings"] == [
        line.removeprefix("Warning: ") for line in said.stderr.splitlines() if line.startswith("Warning: ")]


def test_same_input_same_bytes_wherever_it_runs(tmp_path: Path) -> None:
    """Another hash seed, time zone, locale without any letters beyond ASCII, folder, and a home that nobody can write to."""
    import os

    root = CHECK_CASE.parent.parent.parent
    bare = {"PYTHONHASHSEED": "77", "TZ": "Asia/Tokyo", "LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0",
            "PYTHONCOERCECLOCALE": "0", "HOME": "/proc", "XDG_CACHE_HOME": "/proc", "PYTHONPATH": str(root)}
    outputs = []
    for name, folder, settings in (("a", root, {"PYTHONHASHSEED": "1", "TZ": "UTC"}), ("b", tmp_path, bare)):
        out = tmp_path / f"{name}.pdf"
        subprocess.run([sys.executable, "-m", "packet", "print", str(CHECK_CASE), "-o", str(out)], check=True, cwd=folder,
                       capture_output=True, env={**os.environ, **settings})
        outputs.append(out.read_bytes())
    assert outputs[0] == outputs[1]
    assert {path.name for path in tmp_path.iterdir()} == {"a.pdf", "b.pdf"}


def test_only_a_call_of_a_command_leaves_the_others_out() -> None:
    every = run("--help").stdout
    assert "full-size" in every and "figures" in every
    assert run("--help", "check").stdout == run("--quiet", "--help").stdout == every
    assert "--roll" in run("-q", "full-size", "--help").stdout
    wrong = run("chek", "check")
    assert (wrong.returncode, "'chek'" in wrong.stderr, "'check'" in wrong.stderr) == (2, True, True)


def test_help_teaches_and_loads_nothing_heavy() -> None:
    said = run("--help")
    assert said.returncode == 0
    for word in ("start", "check", "print", "board", "figures", "Exit codes"):
        assert word in said.stdout
    heavy = subprocess.run(
        [sys.executable, "-c", "import sys, packet.cli; print([m for m in ('pydantic', 'reportlab', 'shapely', "
         "'numpy', 'yaml', 'jinja2') if m in sys.modules])"], text=True, capture_output=True, check=True)
    assert heavy.stdout.strip() == "[]"
