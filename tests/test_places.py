"""Folders that come by mail: pipes, links that lead out, names that steer a terminal, far too many files."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from packet.cli import app
from packet.commands import many
from packet.places import is_special, leads_out
from tests.zoo import SCREEN

pytestmark = pytest.mark.skipif(os.name == "nt", reason="links and pipes as they are elsewhere")


def run(*words: object) -> subprocess.CompletedProcess[bytes]:
    """The command as a process: one that waits for a pipe is found after a minute."""
    return subprocess.run([sys.executable, "-m", "packet", *map(os.fsencode, map(str, words))], capture_output=True,
                          check=False, timeout=60)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a project in it, beside something of the user's own."""
    made = tmp_path / "mail"
    made.mkdir()
    (made / "hut.yaml").write_text(SCREEN, encoding="utf-8")
    (tmp_path / "mine.pdf").write_bytes(b"my own")
    (tmp_path / "mine").mkdir()
    return made


def refused(folder: Path, said: subprocess.CompletedProcess[bytes], why: str) -> None:
    assert said.returncode == 2, said.stderr
    assert why in said.stderr.decode()
    assert (folder.parent / "mine.pdf").read_bytes() == b"my own"
    assert list((folder.parent / "mine").iterdir()) == []


@pytest.mark.parametrize(("name", "why"), [("hut.yaml", "a pipe or a device"), ("hut.ledger", "a pipe or a device")])
def test_nobody_waits_for_a_pipe(folder: Path, name: str, why: str) -> None:
    (folder / name).unlink(missing_ok=True)
    os.mkfifo(folder / name)
    refused(folder, run("check", folder / "hut.yaml"), why)


def test_a_pipe_in_the_place_of_what_a_killed_run_left_is_passed_over(folder: Path) -> None:
    os.mkfifo(folder / ".hut-board-1.pdf.abcdefgh.part")
    assert run("board", folder / "hut.yaml", "1").returncode == 0
    assert (folder / ".hut-board-1.pdf.abcdefgh.part").is_fifo()


@pytest.mark.parametrize(("link", "to", "command"), [
    ("hut-board-1.pdf", "../mine.pdf", ("board", "hut.yaml", "1")),
    ("hut-board-1.pdf", "../new.pdf", ("board", "hut.yaml", "1")),
    ("hut-handouts", "../mine", ("handout", "hut.yaml", "--all")),
    ("hut-preview", "../mine", ("preview", "hut.yaml", "--pages", "1")),
    ("hut.ledger", "../new.ledger", ("measured", "hut.yaml", "--board", "1", "--length", "2400", "--breadth", "1200")),
])
def test_a_link_does_not_lead_what_is_written_out_of_the_folder(folder: Path, link: str, to: str,
                                                                command: tuple[str, ...]) -> None:
    (folder / link).symlink_to(to)
    refused(folder, run(command[0], folder / command[1], *command[2:]), "a link that leads out of its folder")
    assert sorted(path.name for path in folder.parent.iterdir()) == ["mail", "mine", "mine.pdf"]


def test_links_that_lead_out_and_links_that_do_not(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    for name, to in (("near", "real"), ("below", "sub/real"), ("out", "../real"), ("round", "round"), ("whole", "/etc/hosts")):
        (tmp_path / "in" / name).symlink_to(to)
    (tmp_path / "chosen").symlink_to("in")
    found = {name: leads_out(tmp_path / "in" / name) for name in ("near", "below", "out", "whole", "nothing")}
    assert found == {"near": False, "below": False, "out": True, "whole": True, "nothing": False}
    assert not leads_out(tmp_path / "chosen" / "near")
    leads_out(tmp_path / "in" / "round")  # either, as the system tells it; it does not raise
    assert not is_special(tmp_path / "in")


@pytest.mark.parametrize("name", ["a\x1b[2Jb.yaml", "a\u202eb.yaml", "a\udcffb.yaml", "a\nb.yaml"])
@pytest.mark.parametrize("content", [SCREEN, "project: 7\n"])
def test_the_name_of_a_file_cannot_steer_a_terminal(tmp_path: Path, name: str, content: str) -> None:
    project = tmp_path / name
    project.write_text(content, encoding="utf-8")
    said = CliRunner().invoke(app, ["board", str(project), "1"])
    assert said.exit_code == (0 if content is SCREEN else 2), said.output
    assert isinstance(said.exception, SystemExit | None)
    assert all(mark.isprintable() or mark in "\n\t" for mark in said.output)


def test_a_folder_of_far_too_many_files(tmp_path: Path) -> None:
    for number in range(many.MOST + 1):
        (tmp_path / f"{number}.yaml").touch()
    said = CliRunner().invoke(app, ["print", str(tmp_path)])
    assert said.exit_code == 2
    assert "1,001 files here" in said.output
    assert "limit: 1,000" in said.output


def test_a_folder_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(_: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", fails)
    said = CliRunner().invoke(app, ["print", str(tmp_path)])
    assert said.exit_code == 2
    assert "cannot be read (Permission denied)" in said.output


def test_what_is_no_file_in_a_folder_is_told_and_the_rest_is_printed(folder: Path) -> None:
    os.mkfifo(folder / "pipe.yaml")
    (folder / "gone.yaml").symlink_to("nowhere")
    (folder / "sub.yaml").mkdir()
    said = run("print", folder, "--jobs", "1")
    assert said.returncode == 2
    assert (folder / "hut.pdf").exists()
    told = said.stderr.decode()
    assert "2 of 3 projects not printed" in told
    assert "pipe.yaml: this is a pipe or a device" in told
    assert "gone.yaml: there is no such file" in told
