"""A decision outlives kill -9: python -m tests.bench.take_kills COUNT. Ends with 1 where it did not.

`packet miscut --take` is run over and over on a folding screen, each run killed at a random moment. After every kill the
ledger must still hold all that it held, every PDF that bears a name must be whole, and a decision must have its pages.
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from packet.ledger.entries import Decided
from packet.ledger.store import Ledger
from packet.reissue import REISSUE, completed
from tests.zoo import SCREEN

EACH = 5
"""Decisions after which a new project is begun, so that the runs stay alike."""


def command(project: Path) -> list[str]:
    return [sys.executable, "-m", "packet", "miscut", str(project), "A2", "--lost", "--take", "8"]


def fresh(folder: Path) -> Path:
    folder.mkdir()
    project = folder / "screen.yaml"
    project.write_text(SCREEN, encoding="utf-8")
    return project


def sound(project: Path) -> Ledger:
    """What the ledger holds once the next command has looked at it. Raises AssertionError for what a kill spoiled."""
    from pypdf import PdfReader

    ledger = Ledger.of(project)
    completed(ledger)
    recorded = {entry.item.decision[REISSUE] for entry in ledger.entries if isinstance(entry.item, Decided)}
    there = {path.name for path in project.parent.glob("*.pdf")}
    assert there == recorded, f"pages {sorted(there)}, decisions {sorted(recorded)}"
    for name in recorded:
        reader = PdfReader(project.parent / name, strict=True)
        assert len(reader.pages) == len(reader.page_labels) > 2, f"{name} is not whole"
        assert all(page["/Contents"].get_object() for page in reader.pages)
    return ledger


def survive(count: int, folder: Path, seed: int = 0) -> dict[str, int]:
    """How often a killed run had recorded its decision, and how often not."""
    dice = random.Random(seed)
    project = fresh(folder / "0")
    began = time.monotonic()
    subprocess.run(command(project), check=True, capture_output=True)
    usual = time.monotonic() - began
    entries = sound(project).entries
    seen = {"recorded": 0, "not recorded": 0, "pages put in place afterwards": 0}
    for turn in range(count):
        # Half of the kills fall into the end of a run, where decision and pages are written.
        moment = dice.uniform(0, 1.1 * usual) if turn % 2 else dice.uniform(0.8 * usual, 1.1 * usual)
        began = time.monotonic()
        process = subprocess.Popen(command(project), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            process.wait(moment)
            usual = 0.8 * usual + 0.2 * (time.monotonic() - began)  # a busy machine gets slower and faster
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        waiting = {path.name for path in project.parent.glob("*.pdf")}
        ledger = sound(project)
        assert ledger.entries[:len(entries)] == entries, f"kill {turn} after {moment:.3f} s lost an entry"
        more = len(ledger.entries) > len(entries)
        seen["recorded" if more else "not recorded"] += 1
        seen["pages put in place afterwards"] += len({path.name for path in project.parent.glob("*.pdf")} - waiting)
        entries = ledger.entries
        if sum(isinstance(entry.item, Decided) for entry in entries) >= EACH:
            project, entries = fresh(folder / str(turn + 1)), ()
    return seen


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        print(survive(int(sys.argv[1]) if len(sys.argv) > 1 else 200, Path(name)))
