"""The records that say what is wrong in a project file, where, and what to do about it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

_SHOWN = 160  # characters of a line that are shown
_SHOWN_BEFORE = 60  # of them before the column, in a long line


class Kind(StrEnum):
    """What sort of problem it is."""

    MALFORMED = "malformed"  # not to be read, unknown, or out of its range
    UNFEASIBLE = "unfeasible"  # every value can be read, but together they cannot be built
    MISSING = "missing"  # a file or a key that is needed is not there


class Severity(StrEnum):
    """An error stops the packet; a warning is printed with it."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem: file, 1-based line and column (0 where there is none), key as a dotted path, value as
    written, what is wrong, the limit that was broken, and what to do. A warning is printed in the packet's language:
    `term` names its sentences (cover.findings), `values` what they ask for, lengths in mm."""

    file: str
    line: int
    column: int
    key: str
    value: str
    message: str
    limit: str
    remedy: str
    kind: Kind = Kind.MALFORMED
    severity: Severity = Severity.ERROR
    term: str = ""
    values: tuple[tuple[str, float | str], ...] = ()

    def __str__(self) -> str:
        place = ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])
        facts = "; ".join(
            text for text in (self.value and f"value: {self.value}", self.limit and f"limit: {self.limit}") if text
        )
        key = f"{counted(self.key)}: " if self.key else ""
        remedy = f"{self.remedy[:1].upper()}{self.remedy[1:].removesuffix('.')}."
        return f"{place}: {key}{self.message}{f' ({facts})' if facts else ''}. {remedy}"


def counted(key: str) -> str:
    """A dotted key as people count: the first entry of a list is number 1."""
    return re.sub(r"\.(\d+)(?=\.|$)", lambda found: f" {int(found[1]) + 1}", key)


def render(problem: Problem, source_line: str) -> str:
    """The problem, the line it is on, and a caret below the column; the problem alone without a line.

    Characters that a terminal would obey or reorder by are shown as U+FFFD, and of a long line only what stands
    round the column."""
    if not source_line.strip() or not problem.line:
        return str(problem)
    gutter = f"{problem.line:>5} | "
    line = "".join(mark if mark.isprintable() or mark == "\t" else "\ufffd" for mark in source_line.rstrip())
    start = max(0, problem.column - 1 - _SHOWN_BEFORE) if len(line) > _SHOWN else 0
    lead = "".join("\t" if mark == "\t" else " " for mark in line[start : problem.column - 1])
    return f"{problem}\n{gutter}{line[start : start + _SHOWN]}\n{' ' * len(gutter)}{lead}^"


class ProjectError(Exception):
    """A project file that cannot be used. Holds every problem found, in the order of the file."""

    def __init__(self, problems: Iterable[Problem], source_lines: tuple[str, ...] = ()) -> None:
        self.problems = tuple(sorted(problems, key=lambda p: (p.line, p.column, p.key, p.message)))
        self._source_lines = source_lines
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def rendered(self) -> tuple[str, ...]:
        """Each problem with its line of the file and a caret."""
        return tuple(render(problem, self._line(problem.line)) for problem in self.problems)

    def _line(self, number: int) -> str:
        return self._source_lines[number - 1] if 0 < number <= len(self._source_lines) else ""


def cannot_read(file: Path | str, message: str, remedy: str, kind: Kind = Kind.MALFORMED) -> ProjectError:
    """The error for a file that cannot be read at all."""
    return ProjectError([Problem(str(file), 0, 0, "", "", message, "", remedy, kind)])
