"""The ledger beside a project file: what went out, was measured, made, spoiled and decided.

`hut.yaml` has `hut.ledger`, lines of JSON that are only ever appended. The first line names the format; every further
line is one act with its running number, the time (UTC), its entries, and a checksum that also covers the line before.
An act is one line, written at once and flushed to the disk under an exclusive lock on the file. So an act is there
whole or not at all, and two commands at once never interleave.

What a crash leaves of a line is recognised (it is not whole, and the checksums pass over it) and told as a notice; the
next act begins on a line of its own. Anything else that does not read is an error: the ledger is never mended silently.

Format 1 held one entry to a line; format 2 holds an act of several. An old ledger is read as it is, and continued in
the present format behind a new format line.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from io import FileIO
from pathlib import Path
from typing import Any

from packet.ledger.entries import Item, from_data, to_data
from packet.places import is_special, leads_out

FORMAT = 2
_SUM = 16  # hex digits
_TIME = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z")
LARGEST = 20_000_000  # bytes; a season of a large crew takes a hundredth of it


class LedgerError(Exception):
    """The ledger cannot be read, or not be written. The message says where, what and what to do."""


class LedgerMoved(LedgerError):
    """Another command wrote to the ledger since it was read."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: the number of its act, when (ISO 8601, UTC), and what."""

    act: int
    at: str
    item: Item


@dataclass(frozen=True, slots=True)
class Ledger:
    """What a ledger held when it was read. `notices` tell of lines that a crash left torn."""

    path: Path
    entries: tuple[Entry, ...] = ()
    notices: tuple[str, ...] = ()
    acts: int = 0

    @staticmethod
    def of(project: Path) -> Ledger:
        """The ledger beside a project file; an empty one where there is none yet. Raises LedgerError."""
        path = project.with_suffix(".ledger")
        if leads_out(path):
            raise LedgerError(f"{path}: is a link that leads out of its folder (limit: a file beside the project). Put the "
                              "ledger itself there.")
        if is_special(path):
            raise LedgerError(f"{path}: is a pipe or a device (limit: a file). Move it away.")
        try:
            with path.open("rb") as stream:
                content = stream.read(LARGEST + 1)
        except FileNotFoundError:
            return Ledger(path)
        except OSError as fault:
            raise LedgerError(f"{path}: cannot be read ({fault.strerror}). Let this user read it.") from None
        if len(content) > LARGEST:
            raise LedgerError(f"{path}: is too large for a ledger (limit: {LARGEST:,} bytes). Bring back the file as it "
                              "was, or move it away.")
        return _read(path, content).ledger

    def append(self, items: Sequence[Item], at: datetime | None = None) -> Ledger:
        """Record an act of these entries, and give the ledger that has it.

        Raises LedgerMoved when another act was recorded since this was read, LedgerError or OSError when the file
        cannot be read or written or an entry is none that would be read again; then nothing is recorded.
        """
        for item in items:  # what would not read must never be written: no command could mend it
            try:
                from_data(to_data(item))
            except ValueError as fault:
                raise LedgerError(f"{self.path}: this cannot be recorded ({fault}), and nothing was. Give what stands there "
                                  "on paper or was measured.") from None
        when = (at or datetime.now(UTC)).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        with _locked(self.path) as file:
            content = file.read()
            state = _read(self.path, content)
            if state.ledger.acts != self.acts:
                raise LedgerMoved(
                    f"{self.path}: another command recorded something meanwhile (act {state.ledger.acts}, "
                    f"this one had read {self.acts}). Nothing was recorded; run the command again.")
            lines = b"" if not content or content.endswith(b"\n") else b"\n"
            if state.format != FORMAT:
                lines += _line({"ledger": "packet", "format": FORMAT})
            body = {"act": self.acts + 1, "at": when, "entries": [to_data(item) for item in items]}
            lines += _line({**body, "sum": _sum(state.sum, body)})
            start = file.seek(0, os.SEEK_END)
            try:
                left = memoryview(lines)
                while left:  # a disk that fills up takes a part first, and says so only when asked again
                    left = left[file.write(left):]
                os.fsync(file.fileno())
            except OSError:
                file.truncate(start)  # a full disk must not leave half a line
                raise
            return _read(self.path, content + lines).ledger


@dataclass(frozen=True, slots=True)
class _State:
    ledger: Ledger
    format: int
    sum: str


def _read(path: Path, content: bytes) -> _State:
    entries: list[Entry] = []
    notices: list[str] = []
    found, last, acts = 0, "", 0
    for number, line in enumerate(content.split(b"\n"), 1):
        if not line.strip():
            continue
        where = f"{path}, line {number}"
        try:
            data = json.loads(line)
        except RecursionError:
            raise LedgerError(f"{where}: is nested deeper than a ledger is. Bring back the file as it was, or move it "
                              "away.") from None
        except ValueError:
            notices.append(f"{where}: was not written to its end, and counts for nothing.")
            continue
        if not isinstance(data, dict):
            raise LedgerError(f"{where}: is no line of a ledger. Bring back the file as it was, or move it away.")
        if "ledger" in data:
            found = _format(data, where)
            continue
        if not found:
            raise LedgerError(f"{where}: the line that names the format is missing before it (limit: format {FORMAT} or "
                              "older). Bring back the file as it was, or move it away.")
        body = {key: value for key, value in data.items() if key != "sum"}
        if data.get("sum") != _sum(last, body) or body.get("act") != acts + 1:
            raise LedgerError(f"{where}: was changed, or lines before it are missing: its checksum is not that of what "
                              "was written. Bring back the file as it was, or move it away.")
        last, acts = data["sum"], acts + 1
        records = body.get("entries") if found > 1 else [body.get("entry")]
        at = body.get("at")
        if not isinstance(at, str) or not _TIME.fullmatch(at) or not isinstance(records, list):
            raise LedgerError(f"{where}: is no act with its time and its entries. Bring back the file as it was, or use the "
                              "version of the program that wrote it.")
        entries += [Entry(acts, at, _item(record, where)) for record in records]
    return _State(Ledger(path, tuple(entries), tuple(notices), acts), found, last)


def _format(data: dict[str, Any], where: str) -> int:
    version = data.get("format")
    if data["ledger"] != "packet" or not isinstance(version, int) or version < 1:
        raise LedgerError(f"{where}: names no format of a ledger. Bring back the file as it was, or move it away.")
    if version > FORMAT:
        raise LedgerError(f"{where}: the ledger has format {version} (limit: {FORMAT}), written by a newer version of "
                          "the program. Use that version.")
    return version


def _item(record: Any, where: str) -> Item:
    try:
        return from_data(record)
    except ValueError as fault:
        raise LedgerError(f"{where}: an entry does not read ({fault}). Bring back the file as it was, or use the version "
                          "of the program that wrote it.") from None


def _line(data: dict[str, Any]) -> bytes:
    return json.dumps(data, ensure_ascii=False, separators=(", ", ": ")).encode() + b"\n"


def _sum(before: str, body: dict[str, Any]) -> str:
    text = before + json.dumps(body, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:_SUM]


@contextmanager
def _locked(path: Path) -> Iterator[FileIO]:
    """The file open to read and append, for this process alone; waits for another that has it."""
    fresh = not path.exists()
    with FileIO(path, "a+") as file:
        if os.name == "nt":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)  # type: ignore[attr-defined]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
            if fresh:
                _flush_folder(path.parent)
        file.seek(0)
        yield file


def _flush_folder(folder: Path) -> None:
    """A new name is only safe on the disk once its folder is."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
