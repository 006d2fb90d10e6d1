"""The project file: what a build lead writes, read with line numbers, complete and checked.

`load` is all that a caller needs; pydantic and the YAML reader are imported only when it is called.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from packet.description.problems import Kind, Problem, ProjectError, Severity, render

if TYPE_CHECKING:
    from packet.description.resolved import Description

__all__ = ["Kind", "Problem", "ProjectError", "Severity", "load", "render"]


def load(path: Path | str) -> Description:
    """The project in a file, lengths in mm, defaults filled in. Raises ProjectError with every problem."""
    from packet.description import loading

    return loading.load(Path(path))
