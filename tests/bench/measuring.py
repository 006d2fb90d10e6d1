"""Whole processes in turn with their floors, and the rows of the table."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent
BARE = ("typer", "pydantic.main", "pydantic.type_adapter", "yaml", "numpy")
"""What reading a command line and a project takes: pydantic gives up its parts only by name; its models read the project, its
adapters are what typer reads arguments with."""
CHECKING = (*BARE, "shapely")
DRAWING = (*CHECKING, "jinja2.sandbox")
HEAD = "| what | s | floor s | ratio | target | MB | note |\n|---|---|---|---|---|---|---|"


@dataclass(frozen=True, slots=True)
class Taken:
    """Seconds and megabytes of one process."""

    seconds: float
    megabytes: float


def measure(command: Sequence[str]) -> Taken:
    """One process by its own time and its own memory. Raises RuntimeError where it fails."""
    launcher = [sys.executable, "-I", "-S", str(HERE / "launcher.py")]
    said = subprocess.run([*launcher, *command], capture_output=True, text=True, check=True,
                          env={**os.environ, "OPENBLAS_NUM_THREADS": "1"})
    code, seconds, kilobytes = said.stdout.split()
    if int(code):
        raise RuntimeError(f"{' '.join(command)} ended with {code}")
    return Taken(float(seconds), int(kilobytes) / 1024)


def pair(command: Sequence[str], floor: Sequence[str], rounds: int, before: Callable[[], object] = lambda: None
         ) -> tuple[Taken, Taken]:
    """Medians of both, measured in turn so that a busy moment falls on both; `before` runs before each."""
    taken: tuple[list[Taken], list[Taken]] = ([], [])
    for _ in range(rounds):
        for each, one in zip(taken, (command, floor), strict=True):
            before()
            each.append(measure(one))
    first, second = (Taken(statistics.median(one.seconds for one in each), max(one.megabytes for one in each))
                     for each in taken)
    return first, second


def packet(*arguments: object) -> list[str]:
    return [sys.executable, "-m", "packet", *map(str, arguments)]


def bare(script: str, *arguments: object) -> list[str]:
    """A script of this folder in a process that imports what the command needs and nothing of this program."""
    return [sys.executable, str(HERE / script), *map(str, arguments)]


def row(name: str, one: Taken, floor: Taken | None, target: str = "", note: str = "") -> None:
    ratio = f"{one.seconds / floor.seconds:.2f}" if floor else ""
    least = f"{floor.seconds:.3f}" if floor else ""
    memory = f"{one.megabytes:.0f}" if one.megabytes else ""
    print(f"| {name} | {one.seconds:.3f} | {least} | {ratio} | {target} | {memory} | {note} |", flush=True)
