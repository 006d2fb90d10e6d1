"""Where the words and the sample projects lie: inside an installed package, or beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def templates() -> Path:
    """The folder of templates."""
    return _folder("templates")


def languages() -> tuple[str, ...]:
    """Languages of which there are sentences, the first of them English."""
    found = sorted(folder.name for folder in templates().iterdir() if folder.is_dir())
    return tuple(sorted(found, key=lambda name: (name != "en", name)))


def sentences(language: str) -> Path:
    """The folder of one language's sentences."""
    return templates() / language


def samples() -> Path:
    """The folder of sample projects."""
    return _folder("sample_projects")


def _folder(name: str) -> Path:
    for parent in (_PACKAGE, _PACKAGE.parent):
        if (parent / name).is_dir():
            return parent / name
    raise FileNotFoundError(f"the folder {name} is missing from this installation: install the program again")
