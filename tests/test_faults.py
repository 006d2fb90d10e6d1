"""What is nobody's mistake at the table: faults of the program, and a machine that refuses."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from packet.commands import faults
from tests.conftest import CHECK_CASE

BROKEN = """
import sys
import packet.summary
def broken(*_, **__):
    raise ZeroDivisionError("a leaf without width")
packet.summary.summary = broken
from packet.cli import main
sys.argv = ["packet", "check", sys.argv[1]]
main()
"""


def test_a_fault_is_told_with_what_to_send_and_its_trace(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    project.write_bytes(CHECK_CASE.read_bytes())
    said = subprocess.run([sys.executable, "-c", BROKEN, str(project)], capture_output=True, text=True, check=False)
    assert (said.returncode, said.stdout) == (1, "")
    first, *_, last = said.stderr.splitlines()
    assert first.startswith("packet has a fault")
    for word in ("not due to your project", "Every file is whole", "the project file", "ledger"):
        assert word in first
    assert "Traceback (most recent call last)" in said.stderr
    assert last == "ZeroDivisionError: a leaf without width"
    assert [path.name for path in tmp_path.iterdir()] == ["hut.yaml"]


@pytest.mark.parametrize(("fault", "told"), [
    (OSError(28, "No space left on device", "/a/b.pdf"), "/a/b.pdf: the machine refuses to read or write: No space left"),
    (OSError(5, "Input/output error"), "The machine refuses to read or write: Input/output error."),
    (MemoryError(), "The machine has not enough memory"),
])
def test_what_the_machine_refuses_is_no_fault_of_the_program(fault: Exception, told: str,
                                                             capsys: pytest.CaptureFixture[str]) -> None:
    def refuses() -> None:
        raise fault

    with pytest.raises(SystemExit) as end:
        faults.guarded(refuses)
    said = capsys.readouterr().err
    assert end.value.code == 1
    assert said.startswith(told)
    assert "Traceback" not in said
    assert "packet has a fault" not in said


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_under_the_answer() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        said = subprocess.run([sys.executable, "-m", "packet", "check", str(CHECK_CASE)], stdout=full,
                              stderr=subprocess.PIPE, text=True, check=False)
    assert said.returncode == 1
    assert said.stderr.startswith("The machine refuses to read or write: No space left")
    assert len(said.stderr.splitlines()) == 1


def test_a_reader_that_stops_reading_gets_no_trace() -> None:
    """As `packet figures hut.yaml | head -1` does."""
    with subprocess.Popen([sys.executable, "-m", "packet", "figures", str(CHECK_CASE)], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        run.stdout.close()
        assert run.stderr is not None
        assert run.stderr.read() == ""


def test_a_console_that_lacks_letters_stops_nobody(tmp_path: Path) -> None:
    project = tmp_path / "hut.yaml"
    text = re.sub("(?m)^project: .*", "project: \u0141an", CHECK_CASE.read_text(encoding="utf-8"))
    project.write_text(text, encoding="utf-8")
    said = subprocess.run([sys.executable, "-m", "packet", "figures", str(project)], capture_output=True, encoding="cp1252",
                          check=False, env={**os.environ, "PYTHONIOENCODING": "cp1252"})
    assert (said.returncode, said.stderr) == (0, "")
    assert said.stdout.startswith("\\u0141an, revision")
