"""A file that is replaced survives any failure."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from packet.pdf.files import write_atomically


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
