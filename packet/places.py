"""Names on the disk that are not what they seem: files and folders come by mail, and a link is a file of an archive too."""

from __future__ import annotations

from pathlib import Path


def leads_out(path: Path) -> bool:
    """Whether this is a link to something outside its own folder, there or not. A folder that is a link itself counts as
    what it leads to: whoever works in it chose it."""
    try:
        return path.is_symlink() and not path.resolve().is_relative_to(path.parent.resolve())
    except (OSError, RuntimeError):  # links in a circle
        return True


def is_folder(path: Path) -> bool:
    """Whether this is a folder; a name that the system cannot have is none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def is_special(path: Path) -> bool:
    """Whether this is a pipe or a device: to read it could take for ever."""
    return path.exists() and not path.is_file() and not path.is_dir()
