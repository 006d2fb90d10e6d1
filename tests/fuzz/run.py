"""The long run: python -m tests.fuzz.run COUNT [FIRST] [PRINT_EVERY]. Ends with 1 where anything was found.

Each mutated project goes through `check`, and every so many through `print`, in this process. What counts as found: any
exception but a refusal, an exit code other than 0 and 2, more than LONGEST seconds, a refusal without words, a file left
behind where none should be. What it found is written to the current folder as `found-NUMBER.yaml`.
"""

from __future__ import annotations

import contextlib
import io
import os
import resource
import signal
import sys
import tempfile
import time
import traceback
from pathlib import Path
from typing import Any

import typer

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # waiting threads would burn the time of a run that yields to others

from packet.commands.asking import check
from packet.commands.printing import print_packet
from packet.resources import samples
from tests.fuzz.mutations import one
from tests.zoo import plain_zoo, releasable_zoo, zoo

LONGEST = 10  # seconds of processor time for one file; a refusal takes milliseconds
MEMORY = 1_500_000_000  # bytes of address space


def seeds() -> tuple[str, ...]:
    texts = [path.read_text(encoding="utf-8") for path in sorted(samples().glob("*.yaml"))]
    return (*texts, *zoo().values(), *plain_zoo().values(), *releasable_zoo().values())


class TooLong(BaseException):
    """The alarm rang."""


def _ring(*_: Any) -> None:
    raise TooLong


def trial(content: bytes, folder: Path, printing: bool = False) -> tuple[str, int]:
    """What is wrong with how one file was taken (empty: nothing), and the exit code."""
    file, target = folder / "hut.yaml", folder / "hut.pdf"
    file.write_bytes(content)
    out, err = io.StringIO(), io.StringIO()
    code = 0
    signal.signal(signal.SIGPROF, _ring)
    signal.setitimer(signal.ITIMER_PROF, LONGEST)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            print_packet([file], out=target) if printing else check(file)
    except typer.Exit as end:
        code = end.exit_code
    except (Exception, TooLong) as fault:
        return "".join(traceback.format_exception(fault)), 1
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
    left = sorted(path.name for path in folder.iterdir() if path not in (file, target))
    whole = target.exists()
    target.unlink(missing_ok=True)
    if code not in (0, 2):
        return f"exit code {code}", code
    if code == 2 and not err.getvalue().strip():
        return "a refusal without words", code
    if left or (whole and code):
        return f"files left behind: {left or target.name}", code
    if any(mark in out.getvalue() + err.getvalue() for mark in ("\x1b", "\x00", "\x07")):
        return "control characters sent to the terminal", code
    return "", code


def main() -> None:
    given = [int(text) for text in sys.argv[1:4]]
    count, first, every = given + [1000, 0, 50][len(given):]
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    texts = seeds()
    codes: dict[int, int] = {}
    found = 0
    printed = 0
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        for number in range(first, first + count):
            printing = bool(every) and number % every == 0
            wrong, code = trial(one(texts, number), Path(name), printing)
            codes[code] = codes.get(code, 0) + 1
            printed += printing
            if wrong:
                found += 1
                Path(f"found-{number}.yaml").write_bytes(one(texts, number))
                print(f"--- {number}{' (printing)' if printing else ''}\n{wrong}", flush=True)
            if number % 1000 == 999:  # enough to go on from here when a run is broken off
                print(f"up to {number}: exit codes {dict(sorted(codes.items()))}, {printed} printed, {found} found, "
                      f"{time.monotonic() - began:.0f} s", flush=True)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{count} project files, {printed} of them printed: exit codes {dict(sorted(codes.items()))}, {found} found, "
          f"{time.monotonic() - began:.0f} s, {peak} MB at most")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
