"""Pages as pictures, and the viewer that is asked to show what was written."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner, Result

from packet.cli import app
from packet.resources import samples

BOX = samples() / "fish_box.yaml"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


def test_pages_are_written_as_pictures_of_their_paper(tmp_path: Path) -> None:
    from PIL import Image

    done = run("preview", BOX, "--pages", "1-2,C-01", "--out", tmp_path / "look", "--dpi", 50)
    assert done.exit_code == 0
    names = sorted(path.name for path in (tmp_path / "look").iterdir())
    assert [name.split("-", 1)[1] for name in names] == ["L-01.png", "L-2B.png", "C-01.png"] or len(names) == 3
    with Image.open(tmp_path / "look" / names[0]) as picture:
        assert picture.size == pytest.approx((297 / 25.4 * 50, 210 / 25.4 * 50), abs=1)
        assert picture.convert("L").getextrema() == (0, 255)


@pytest.mark.parametrize("pages", ["0", "9999", "3-2", "Q-01", "1;2", "-"])
def test_pages_that_are_none_are_refused(tmp_path: Path, pages: str) -> None:
    done = run("preview", BOX, "--pages", pages, "--out", tmp_path / "look")
    assert done.exit_code == 2
    assert "is no page of this packet (limit: 1 to" in done.stderr
    assert not (tmp_path / "look").exists()


def test_without_the_library_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    done = run("preview", BOX, "--out", tmp_path / "look")
    assert done.exit_code == 2
    assert f"{sys.executable} -m pip install pypdfium2" in done.stderr
    assert not (tmp_path / "look").exists()


@pytest.mark.parametrize(("found", "said"), [(0, ""), (3, "Open it yourself")])
def test_what_was_written_is_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, found: int, said: str) -> None:
    shown: list[str] = []
    monkeypatch.setattr(typer, "launch", lambda path: shown.append(path) or found)
    target = tmp_path / "box.pdf"
    done = run("print", BOX, "-o", target, "--open")
    assert done.exit_code == 0
    assert shown == [str(target)]
    assert said in done.stderr
    run("print", BOX, "-o", target)
    assert len(shown) == 1
