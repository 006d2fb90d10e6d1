"""Files are written whole or not at all, and what a killed run left beside them is cleared away by the next.

A file is written under a name of its own beside the target, flushed, then renamed over it. Until then its writer holds a
lock on it. A kill lets go of the lock: so the next run onto the same target can tell what nobody needs any more.
"""

from __future__ import annotations

import errno
import os
import re
import tempfile
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from packet.places import leads_out

PART = ".part"
_LOCKS = os.name != "nt"
"""Whether a file can be locked, and renamed while it is open. Without that, leftovers stay."""


def write_atomically(path: Path, content: bytes) -> None:
    """Write a file so that a failure leaves what was there before. A link is followed within its folder. Raises OSError."""
    if leads_out(path):
        raise OSError(errno.ELOOP, f"it is a link that leads out of its folder, to {path.readlink()}", str(path))
    path = path.resolve()
    clear_away(path)
    with flushed(path, content) as part:
        part.replace(path)


@contextmanager
def flushed(path: Path, content: bytes, ending: str = PART) -> Iterator[Path]:
    """The content beside a file, on the disk and held while the block runs; gone where the block fails. Raises OSError."""
    handle, part = _begun(path, ending)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
            if not _LOCKS:
                stream.close()
            part.chmod(_mode(path))
            yield part
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def clear_away(path: Path, ending: str = PART, kept: Collection[str] = ()) -> None:
    """Remove what killed runs left beside a file under this ending, but for the names kept. What a living run holds stays."""
    if not _LOCKS:
        return
    import fcntl

    name = re.compile(rf"\.{re.escape(path.name)}\.[a-z0-9_]{{8}}{re.escape(ending)}")
    for part in path.parent.glob(f".*{ending}"):
        if name.fullmatch(part.name) and part.name not in kept:
            if part.is_symlink() or not part.is_file():
                continue
            with suppress(OSError), part.open("rb") as stream:
                fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
                part.unlink()


def _begun(path: Path, ending: str) -> tuple[int, Path]:
    """A new file beside another: its handle, which holds it, and its name."""
    while True:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=ending, dir=path.parent)
        if _LOCKS:
            import fcntl

            with suppress(OSError):  # on a drive without locks; nobody can clear away there either
                fcntl.flock(handle, fcntl.LOCK_SH)
        if os.fstat(handle).st_nlink:
            return handle, Path(name)
        os.close(handle)  # another run took it for a leftover before it was held


def _mode(path: Path) -> int:
    """The mode of the file that is replaced, or what a new file would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
