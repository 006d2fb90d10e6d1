"""Plain data that remembers where every key and value stands: what reading hands on."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeAlias

from packet.description.problems import Problem, ProjectError

_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written, with its dotted key."""

    raw: str
    key: str
    quoted: bool = False

    @property
    def empty(self) -> bool:
        """Nothing was written, or one of the YAML words for nothing."""
        return not self.quoted and self.raw in ("", "~", "null", "Null", "NULL")


Node: TypeAlias = "Scalar | list[Node] | dict[str, Node]"


@dataclass(frozen=True, slots=True)
class Position:
    """1-based line and column of a key and of its value; a list entry has no key of its own."""

    key_line: int
    key_column: int
    line: int
    column: int


@dataclass(slots=True)
class Source:
    """What was read: the data, the position of every dotted key, and the problems met on the way."""

    file: Path
    lines: tuple[str, ...]
    data: dict[str, Node] = field(default_factory=dict)
    positions: dict[str, Position] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def report(self, mark: Any, key: str, value: str, message: str, limit: str, remedy: str) -> None:
        """Note a problem at a parser mark and go on."""
        self.problems.append(
            Problem(str(self.file), mark.line + 1, mark.column + 1, shown(key), shown(value), message, limit, remedy)
        )

    def error(self) -> ProjectError:
        """The error with every problem noted so far."""
        return ProjectError(self.problems, self.lines)


def shown(value: str) -> str:
    """A value on one line, short enough for a message and safe to send to a terminal."""
    line = re.sub(r"\s+", " ", value).strip()
    line = "".join(mark if mark.isprintable() else f"<U+{ord(mark):04X}>" for mark in line[: _LONGEST_SHOWN + 1])
    return line if len(line) <= _LONGEST_SHOWN else line[: _LONGEST_SHOWN - 3] + "..."


def join(parent: str, name: str | int) -> str:
    """The dotted key of a child."""
    return f"{parent}.{name}" if parent else str(name)


def place_of(positions: Mapping[str, Position], key: str) -> tuple[int, int]:
    """Line and column of a key's value; for a key that was not written, of the group that it would stand in."""
    if key in positions:
        return positions[key].line, positions[key].column
    while "." in key:
        key = key.rpartition(".")[0]
        if key in positions:
            return positions[key].key_line, positions[key].key_column
    return 1, 1
