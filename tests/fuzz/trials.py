"""One trial each of a project file, a ledger and a command line: what is wrong with how the program took it."""

from __future__ import annotations

import contextlib
import io
import os
import random
import signal
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import typer

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # waiting threads would burn the time of a run that yields to others

from packet.cli import app
from packet.commands.asking import check
from packet.commands.printing import print_packet
from packet.ledger.store import Ledger
from packet.resources import samples
from tests.fuzz import commands, ledgers, mutations
from tests.zoo import SCREEN, plain_zoo, releasable_zoo, zoo

LONGEST = 10  # seconds of processor time for one file; a refusal takes milliseconds


def seeds() -> tuple[str, ...]:
    texts = [path.read_text(encoding="utf-8") for path in sorted(samples().glob("*.yaml"))]
    return (*texts, *zoo().values(), *plain_zoo().values(), *releasable_zoo().values())


class TooLong(BaseException):
    """The alarm rang."""


def _ring(*_: Any) -> None:
    raise TooLong


def taken(do: Callable[[], object], told: str = "") -> tuple[str, int]:
    """What is wrong with an exit code and what was said (empty: nothing), and the code; `told` is typed in."""
    out, err, before = io.StringIO(), io.StringIO(), sys.stdin
    code: Any = 0
    signal.signal(signal.SIGPROF, _ring)
    signal.setitimer(signal.ITIMER_PROF, LONGEST)
    sys.stdin = io.StringIO(told)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            do()
    except typer.Exit as end:
        code = end.exit_code
    except SystemExit as end:
        code = end.code or 0
    except (Exception, TooLong) as fault:
        return "".join(traceback.format_exception(fault)), 1
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        sys.stdin = before
    if code not in (0, 2):
        return f"exit code {code}", code
    if code == 2 and not (out.getvalue() + err.getvalue()).strip():
        return "a refusal without words", code
    if any(mark in out.getvalue() + err.getvalue() for mark in ("\x1b", "\x00", "\x07")):
        return "control characters sent to the terminal", code
    return "", code


def trial(content: bytes, folder: Path, printing: bool = False) -> tuple[str, int]:
    """A project file through `check`, or through `print`."""
    file, target = folder / "hut.yaml", folder / "hut.pdf"
    file.write_bytes(content)
    wrong, code = taken(lambda: print_packet([file], out=target) if printing else check(file))
    left = sorted(path.name for path in folder.iterdir() if path not in (file, target))
    whole = target.exists()
    target.unlink(missing_ok=True)
    if not wrong and (left or (whole and code)):
        return f"files left behind: {left or target.name}", code
    return wrong, code


READERS = ("ledger PROJECT", "ledger PROJECT --json", "check PROJECT", "figures PROJECT --json", "done PROJECT A2",
           "measured PROJECT --board 3 --length 2400 --breadth 1200", "collect PROJECT K3F-9QZ1", "board PROJECT 1",
           "measured PROJECT", "miscut PROJECT A2 --width 490", "gauge PROJECT --across 99.2 --up 100.1")


def ledger_trial(number: int, folder: Path) -> tuple[str, int]:
    """A mutated ledger beside a folding screen, read by one of the commands. It is only ever appended to."""
    content = ledgers.one(number)
    words = random.Random(number).choice(READERS).split()
    return _beside(content, words, "2399\n1199\n\n\n", folder)


def command_trial(number: int, folder: Path) -> tuple[str, int]:
    """A command line and answers, on a folding screen of which something is recorded already."""
    words, said = commands.one(number)
    content = ledgers.chained([body for each in ledgers.texts()[:1] for body in each])
    return _beside(content, words, said, folder)


def _beside(content: bytes, words: list[str], said: str, folder: Path) -> tuple[str, int]:
    for path in folder.iterdir():
        path.unlink()
    file, ledger = folder / "hut.yaml", folder / "hut.ledger"
    file.write_text(SCREEN, encoding="utf-8")
    ledger.write_bytes(content)
    wrong, code = taken(lambda: app([str(file) if word == "PROJECT" else word for word in words]), said)
    after = ledger.read_bytes()
    if wrong:
        return f"{words}\n{wrong}", code
    if not after.startswith(content):
        return f"{words}\nthe ledger was not only appended to", code
    if code == 2 and after != content and words[0] != "measured":  # there each board is recorded as it is read
        return f"{words}\nrefused, and recorded all the same", code
    strays = [path.name for path in folder.iterdir() if not path.name.startswith("hut") or path.name.endswith(".part")]
    if strays:
        return f"{words}\nfiles left behind: {strays}", code
    if after != content:
        Ledger.of(file)
    return "", code


def project_trial(number: int, folder: Path, printing: bool, texts: tuple[str, ...]) -> tuple[str, int]:
    return trial(mutations.one(texts, number), folder, printing)
