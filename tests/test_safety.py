"""A good packet stays good: kills, a full disk, a read-only folder, two runs at once."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from packet.pdf import files
from tests.bench.kills import PROJECT, command, survive


def test_a_packet_outlives_kills_at_random_moments(tmp_path: Path) -> None:
    """A few here; `python -m tests.bench.kills 200` is the long run."""
    seen = survive(10, tmp_path, seed=4)
    assert sum(seen.values()) == 10


def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    """A limit on file sizes stands in for the full disk: the write fails in the middle in the same way."""
    target = tmp_path / "hut.pdf"
    target.write_bytes(b"the good one")
    said = subprocess.run(command(PROJECT, target), capture_output=True, text=True, check=False,
                          preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000)))
    assert said.returncode == 2
    assert "cannot be written" in said.stderr
    assert "what was there is unchanged" in said.stderr
    assert target.read_bytes() == b"the good one"
    assert [path.name for path in tmp_path.iterdir()] == ["hut.pdf"]


def test_a_full_disk_leaves_no_half_of_a_project_file(tmp_path: Path) -> None:
    said = subprocess.run([sys.executable, "-m", "packet", "start", str(tmp_path / "hut.yaml")], capture_output=True, text=True,
                          check=False, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (500, 500)))
    assert said.returncode == 2
    assert "cannot be written" in said.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only to the superuser")
def test_a_read_only_folder(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    said = subprocess.run(command(PROJECT, tmp_path / "hut.pdf"), capture_output=True, text=True, check=False)
    tmp_path.chmod(0o700)
    assert said.returncode == 2
    assert not list(tmp_path.iterdir())


def test_refused_by_the_system_before_the_rename(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever fails on the way, the old file stays and nothing is left beside it."""
    target = tmp_path / "hut.pdf"
    target.write_bytes(b"the good one")
    for name in ("fsync", "fdopen"):
        with monkeypatch.context() as patch:
            def fails(*_: object, **__: object) -> None:
                raise PermissionError(13, "Permission denied")

            patch.setattr(files.os, name, fails)
            with pytest.raises(PermissionError):
                files.write_atomically(target, b"new")
        assert target.read_bytes() == b"the good one"
        assert [path.name for path in tmp_path.iterdir()] == ["hut.pdf"]


def test_two_runs_at_once_leave_one_whole_packet(tmp_path: Path) -> None:
    target = tmp_path / "hut.pdf"
    runs = [subprocess.Popen(command(PROJECT, target), stdout=subprocess.DEVNULL) for _ in range(2)]
    assert [run.wait() for run in runs] == [0, 0]
    alone = tmp_path / "alone.pdf"
    subprocess.run([*command(PROJECT, alone)], check=True, capture_output=True)
    assert target.read_bytes() == alone.read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["alone.pdf", "hut.pdf"]


def test_the_order_of_things_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Flushed to the disk before it is renamed: else a power cut could leave an empty file under the good name."""
    done: list[str] = []
    real_sync, real_replace = os.fsync, Path.replace
    monkeypatch.setattr(files.os, "fsync", lambda number: (done.append("flush"), real_sync(number))[1])
    monkeypatch.setattr(Path, "replace", lambda self, goal: (done.append("rename"), real_replace(self, goal))[1])
    files.write_atomically(tmp_path / "hut.pdf", b"new")
    assert done[:2] == ["flush", "rename"]


def test_no_colour_and_no_control_codes_where_nobody_looks() -> None:
    said = subprocess.run([sys.executable, "-m", "packet", "check", "no-such.yaml"], capture_output=True, text=True,
                          check=False, env={**os.environ, "NO_COLOR": "1", "FORCE_COLOR": "1"})
    assert said.returncode == 2
    assert "\x1b" not in said.stdout + said.stderr
