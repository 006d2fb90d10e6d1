"""Every argument and option with every value that means harm: python -m tests.fuzz.hostile_options.

Each in a fresh folder with a folding screen. What is wrong: any exception but a refusal, an exit code other than 0 and 2, a
refusal without words or that leaves a file, anything outside the folder but what was named, a control character shown, a
ledger that does not read afterwards, more than LONGEST.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from typer.testing import CliRunner

from packet.cli import app
from packet.ledger.store import Ledger, LedgerError
from tests.zoo import SCREEN

LONGEST = 1.0
"""Seconds of processor time to a refusal; what is taken may draw."""

VALUES = ("nan", "inf", "-inf", "-1", "0", "1e308", "9" * 5000, "1000000000", "1/0", "", "a\x07b", "\u202eabc", "a" * 10_000,
          "(x) Tj ET Q", "../../outside", "{{ 7*7 }}", "[[[[", "1e-320", "\udcff", "0x10", "\u0967\u0968")
LINES = (
    "done P cut:1 --minutes=V", "done P cut:1 --quantity=V", "done P cut:1 --hands=V", "done P cut:1 --set=V",
    "done P A2 --state=V", "done P A2 --page=V", "done P A2 --width=V", "done P A2 --height=V", "done P V",
    "measured P --board=V --length=2400 --breadth=1200", "measured P --board=1 --length=V --breadth=1200",
    "measured P --board=1 --length=2400 --breadth=V", "measured P --board=1 --length=2400 --breadth=1200 --diagonals=V",
    "measured P --board=1 --length=2400 --breadth=1200 --thickness=V", "gauge P --across=V --up=100",
    "gauge P --across=100 --up=V", "issue P --to=V --sheet=C-01", "issue P --to=me --sheet=V", "collect P V",
    "collect P x --from=V", "verify P V", "miscut P V", "miscut P A2 --width=V", "miscut P A2 --height=V",
    "miscut P A2 --short=V", "miscut P A2 --hole=V", "miscut P A2 --out-of-square=V", "miscut P A2 --lost --take=V",
    "board P V", "sheet P V", "sheet P C-01 --paper=V", "full-size P V", "full-size P A2 --roll=V", "handout P --station=V",
    "preview P --pages=V", "preview P --pages=1 --dpi=V", "print P --jobs=V", "print P --paper=V", "board P 1 --out=V",
    "print P --bound=V", "explain V", "start V", "check V", "V",
)
"""P stands for the project, V for the value."""


def cases() -> Iterator[tuple[str, list[str]]]:
    """The line, and its words."""
    for line in LINES:
        for value in VALUES:
            yield line, ["hut.yaml" if word == "P" else value if word == "V" else word.replace("=V", f"={value}")
                         for word in line.split()]


def faults(words: list[str], folder: Path) -> list[str]:
    """What is wrong with how it was taken."""
    every = folder / "run"
    place = every / "outer" / "inner"
    shutil.rmtree(every, ignore_errors=True)
    place.mkdir(parents=True)
    (place / "hut.yaml").write_text(SCREEN, encoding="utf-8")
    before = Path.cwd()
    os.chdir(place)
    try:
        began = time.process_time()
        said = CliRunner().invoke(app, words)
        took = time.process_time() - began
    finally:
        os.chdir(before)
    found = []
    if said.exception and not isinstance(said.exception, SystemExit):
        found.append(repr(said.exception)[:300])
    if said.exit_code not in (0, 2):
        found.append(f"exit code {said.exit_code}")
    if not all(mark.isprintable() or mark in "\n\t" for mark in said.output):
        found.append("control characters are shown")
    files = {str(path.relative_to(every)) for path in every.rglob("*") if path.is_file()}
    if said.exit_code == 2:
        found += [what for what, wrong in (
            ("no words", not said.output.strip()), (f"files left: {sorted(files)}", files != {"outer/inner/hut.yaml"}),
            (f"{took:.1f} s", took > LONGEST), (f"{len(said.output)} characters", len(said.output) > 50_000)) if wrong]
    named = {"outside"} if words[0] == "start" else set()  # two folders up, as was asked for
    if any(not name.startswith("outer/inner/") for name in files - named):
        found.append(f"files outside: {sorted(files)}")
    try:
        Ledger.of(place / "hut.yaml")
    except LedgerError as fault:
        found.append(f"the ledger is ruined: {fault}")
    return found


def main() -> None:
    tried = wrong = 0
    with tempfile.TemporaryDirectory() as name:
        for _, words in cases():
            tried += 1
            if found := faults(words, Path(name)):
                wrong += 1
                print(f"{[word[:40] for word in words]}: {'; '.join(found)}", flush=True)
    print(f"{tried} command lines, {wrong} wrong")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
