"""Where the words and the sample projects lie: inside an installed package, or beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def templates() -> Path:
    """The folder of templates."""
    return _folder("templates")


def samples() -> Path:
    """The folder of sample projects."""
    return _folder("sample_projects")


def _folder(name: str) -> Path:
    for parent in (_PACKAGE, _PACKAGE.parent):
        if (parent / name).is_dir():
            return parent / name
    raise FileNotFoundError(f"the folder {name} is missing from this installation: install the program again")
