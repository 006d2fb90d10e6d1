"""What the README shows runs as it stands."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

from packet.description import load

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def block(kind: str) -> str:
    (found,) = re.findall(rf"^```{kind}\n(.*?)^```", README, re.S | re.M)
    return str(found)


def test_the_ten_line_project_and_every_command(tmp_path: Path) -> None:
    commands = block("console").splitlines()
    assert len(commands) >= 8
    for command in commands:
        shown, _, target = command.partition(" > ")
        name, *arguments = shlex.split(shown)
        assert name == "packet"
        done = subprocess.run([sys.executable, "-m", "packet", *arguments], cwd=tmp_path, capture_output=True,
                              text=True, check=False)
        assert (done.returncode, done.stderr) == (0, ""), command
        if target:
            (tmp_path / target).write_text(done.stdout, encoding="utf-8")
    assert {p.name for p in tmp_path.iterdir()} >= {
        "hut.yaml", "hut.pdf", "hut-board-2.pdf", "hut-full-size-A3.pdf", "packet.schema.json", "pictures", "tables",
        "hut.ledger"}
    own = tmp_path / "own.yaml"
    own.write_text(block("yaml"), encoding="utf-8")
    assert len(block("yaml").splitlines()) == 10
    assert load(own).title == "Seed exchange hut"
    checked = subprocess.run([sys.executable, "-m", "packet", "check", "own.yaml"], cwd=tmp_path, capture_output=True,
                             text=True, check=False)
    assert (checked.returncode, checked.stderr) == (0, "")


def test_lengths_as_the_readme_writes_them() -> None:
    from packet.units import parse_length

    (sentence,) = re.findall(r"written as people write them: (.*?)\.\n`units", README, re.S)
    lengths = re.findall(r"`(.*?)`", sentence)
    inches = [round(parse_length(text, "in") / 25.4, 4) for text in lengths]
    assert inches == [24, 24, 2.5, 2.5, 50.5, 23.622, 47.2441]


def test_every_command_is_told_of() -> None:
    from packet.cli import app

    for command in app.registered_commands:
        name = command.name or command.callback.__name__  # type: ignore[union-attr]
        assert f"packet {name} " in README.replace("\n", " ").replace("   ", " ")
