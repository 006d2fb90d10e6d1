"""A file that is replaced survives any failure."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from packet.pdf.files import clear_away, write_atomically


def test_it_replaces_and_leaves_nothing_beside(tmp_path: Path) -> None:
    target = tmp_path / "hut.pdf"
    target.write_bytes(b"old")
    target.chmod(0o640)
    write_atomically(target, b"new")
    assert target.read_bytes() == b"new"
    assert target.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize("call", ["fsync", "fdopen"])
def test_a_failure_keeps_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str) -> None:
    target = tmp_path / "hut.pdf"
    target.write_bytes(b"old")
    handles: list[int] = []

    def full(handle: int, *rest: object) -> None:
        handles.append(handle)
        raise OSError("no space left")

    monkeypatch.setattr(os, call, full)
    with pytest.raises(OSError, match="no space left"):
        write_atomically(target, b"new")
    assert handles
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_a_missing_folder_is_an_error_of_the_system(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_atomically(tmp_path / "nowhere" / "hut.pdf", b"new")


def test_a_link_is_followed(tmp_path: Path) -> None:
    real, link = tmp_path / "real.pdf", tmp_path / "link.pdf"
    real.write_bytes(b"old")
    link.symlink_to(real)
    write_atomically(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


KILLED = """
import sys, time
from pathlib import Path
from packet.pdf.files import flushed
with flushed(Path(sys.argv[1]), b"half of it", sys.argv[2]) as part:
    print(part.name, flush=True)
    time.sleep(60)
"""


def begun(target: Path, ending: str = ".part") -> tuple[subprocess.Popen[str], str]:
    """A run that has its file beside the target on the disk and goes on, and the name of that file."""
    process = subprocess.Popen([sys.executable, "-c", KILLED, str(target), ending], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    return process, process.stdout.readline().strip()


@pytest.mark.skipif(os.name == "nt", reason="without locks leftovers stay")
def test_what_a_killed_run_left_is_cleared_away_and_what_a_living_one_holds_is_not(tmp_path: Path) -> None:
    target = tmp_path / "hut.pdf"
    living, held = begun(target)
    dead, left = begun(target)
    dead.kill()
    dead.communicate()
    others = [".hut.pdf.abcdefgh.pages.part", ".hut.pdf.part", ".hut.pdf2.abcdefgh.part", "hut.pdf.abcdefgh.part"]
    for name in others:
        (tmp_path / name).write_bytes(b"not ours")
    assert (tmp_path / left).exists()
    write_atomically(target, b"new")
    assert {path.name for path in tmp_path.iterdir()} == {"hut.pdf", held, *others}
    living.kill()
    living.communicate()
    write_atomically(target, b"newer")
    assert {path.name for path in tmp_path.iterdir()} == {"hut.pdf", *others}
    assert target.read_bytes() == b"newer"


@pytest.mark.skipif(os.name == "nt", reason="without locks leftovers stay")
def test_pages_that_a_decision_waits_for_are_kept(tmp_path: Path) -> None:
    target = tmp_path / "hut-reissue-1.pdf"
    names = []
    for _ in range(2):
        process, name = begun(target, ".pages.part")
        process.kill()
        process.communicate()
        names.append(name)
    write_atomically(target, b"printed onto it")
    clear_away(target, ".pages.part", {names[0]})
    assert {path.name for path in tmp_path.iterdir()} == {target.name, names[0]}


def test_many_runs_onto_one_file_never_take_each_others(tmp_path: Path) -> None:
    """Threads stand in for processes: a lock belongs to an open file, not to a process."""
    target = tmp_path / "hut.pdf"
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda number: write_atomically(target, b"%d" % number * 1000), range(200)))
    assert [path.name for path in tmp_path.iterdir()] == ["hut.pdf"]
    assert target.read_bytes() in {b"%d" % number * 1000 for number in range(200)}
