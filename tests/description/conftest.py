"""A project file that is right, to be spoiled in one place at a time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from packet.description import ProjectError, load
from packet.description.problems import Problem
from packet.description.resolved import Description

#: An invented shelter; each test changes single lines of it.
RIGHT = """\
project: Beekeepers' shelter
units: in
paper: letter
revision: B
duct: 3
shelter:
  walls: 6
  releasable: no
  leaf_width: 20
  wall_height: 54
  slant: 42
  tip_trim: 4
doors:
  hand: left
  bottom_trim: 3/4
  latch_below_head: 27
  latch_from_free_edge: 4
  latch_hole: 1.315
boards:
  size: 48 x 96
  thickness: 1
  tool: saw
  spare: 1
  measured: []
tape:
  land: 2
  stock: [4, 6]
  combine: yes
  roll: 60 yd
  allowance: 5
foil:
  stock: [3]
  overlap: 1/2
limits:
  mark: 1/16
assume:
  density: 2.0
"""

Write = Callable[[str | bytes], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Writes a project file and gives its path."""

    def write_file(content: str | bytes) -> Path:
        path = tmp_path / "project.yaml"
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    return write_file


@pytest.fixture
def problems(write: Write) -> Callable[[str | bytes], tuple[Problem, ...]]:
    """The problems of a file's content; fails where there are none."""

    def find(content: str | bytes) -> tuple[Problem, ...]:
        with pytest.raises(ProjectError) as caught:
            load(write(content))
        return caught.value.problems

    return find


@pytest.fixture
def loaded(write: Write) -> Callable[[str], Description]:
    """The project in a text."""
    return lambda text: load(write(text))


def changed(old: str, new: str, content: str = RIGHT) -> str:
    """The right file with one line replaced; the line must be there, once."""
    assert f"\n{content}".count(f"\n{old}\n") == 1, old
    return f"\n{content}".replace(f"\n{old}\n", f"\n{new}\n")[1:]
