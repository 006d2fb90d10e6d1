"""Files are written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_atomically(path: Path, content: bytes) -> None:
    """Write a file so that a failure leaves what was there before: a temporary file beside it, flushed to the
    disk, then renamed over it. Raises OSError."""
    path = path.resolve()
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        part.chmod(_mode(path))
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _mode(path: Path) -> int:
    """The mode of the file that is replaced, or what a new file would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
