"""The table of speeds: python -m tests.bench.run [ROUNDS]. Ratios in one run, medians of whole processes.

Each row stands against its floor, measured in turn with it: a bare process that imports what the command needs and draws
the same marks with plain reportlab calls (`replay.py`), or a lazy typer program for --help. Run it on an idle machine; what
counts is the ratio. Nothing here is a test: clocks make bad ones.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from packet.cli import app
from packet.description import load
from packet.plan import make_plan
from packet.printing import drawn
from packet.resources import samples
from tests.bench.recording import record

HERE = Path(__file__).parent
BARE = ("typer", "yaml", "numpy")
DRAWING = (*BARE, "shapely", "jinja2.sandbox")
BATCHES = (1, 10, 30)


@dataclass(frozen=True, slots=True)
class Taken:
    """Seconds and megabytes of one process."""

    seconds: float
    megabytes: float


def measure(command: Sequence[str]) -> Taken:
    """One process, by its own resource use."""
    began = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                               env={**os.environ, "OPENBLAS_NUM_THREADS": "1"})
    _, status, used = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - began
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{' '.join(command)} ended with {process.returncode}")
    return Taken(seconds, used.ru_maxrss / 1024)


def pair(command: Sequence[str], floor: Sequence[str], rounds: int) -> tuple[Taken, Taken]:
    """Medians of both, measured in turn so that a busy moment falls on both."""
    taken: tuple[list[Taken], list[Taken]] = ([], [])
    for _ in range(rounds):
        for each, one in zip(taken, (command, floor), strict=True):
            each.append(measure(one))
    first, second = (Taken(statistics.median(one.seconds for one in each), max(one.megabytes for one in each))
                     for each in taken)
    return first, second


def packet(*arguments: object) -> list[str]:
    return [sys.executable, "-m", "packet", *map(str, arguments)]


def replay(marks: Path, target: Path, modules: Sequence[str]) -> list[str]:
    return [sys.executable, str(HERE / "replay.py"), str(marks), str(target), ",".join(modules)]


def row(name: str, one: Taken, floor: Taken | None, target: str = "", note: str = "") -> None:
    ratio = f"{one.seconds / floor.seconds:.2f}" if floor else ""
    least = f"{floor.seconds:.3f}" if floor else ""
    print(f"| {name} | {one.seconds:.3f} | {least} | {ratio} | {target} | {one.megabytes:.0f} | {note} |", flush=True)


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    print("| what | s | floor s | ratio | target | MB | note |\n|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        count = str(len(app.registered_commands))
        lazy = [sys.executable, str(HERE / "lazy_program.py"), count, "--help"]
        row(f"--help of {count} commands", *pair(packet("--help"), lazy, rounds), "1.2")
        imports = [sys.executable, "-c", f"import {', '.join(BARE)}"]
        six = next(path for path in sorted(samples().glob("*.yaml")) if path.stem == "frost_watch")
        row("check", *pair(packet("check", six), imports, rounds))
        row("figures --json", *pair(packet("figures", six, "--json"), imports, rounds))
        _samples(folder, rounds)
        _board(folder, six, rounds)
        _batches(folder, six, rounds)


def _samples(folder: Path, rounds: int) -> None:
    for path in sorted(samples().glob("*.yaml")):
        plan = make_plan(load(path))
        sheets = drawn(plan)
        marks, target, floor = folder / "marks", folder / "own.pdf", folder / "floor.pdf"
        record(sheets, plan.description.title, marks)
        own, least = pair(packet("print", path, "-o", target), replay(marks, floor, DRAWING), rounds)
        size = target.stat().st_size / floor.stat().st_size
        row(f"print {path.stem}, {len(sheets)} sheets", own, least, "1.5",
            f"{target.stat().st_size // 1000} kB, {size:.2f} of the replay's (target 0.85)")


def _board(folder: Path, project: Path, rounds: int) -> None:
    from packet.pdf.fonts import lettering
    from packet.sheets.kit import make_kit
    from packet.sheets.register import draw_board

    plan = make_plan(load(project))
    marks = folder / "marks"
    record(draw_board(plan, make_kit(plan, lettering()), "4"), plan.description.title, marks)
    row("one board", *pair(packet("board", project, "4", "-o", folder / "own.pdf"),
                           replay(marks, folder / "floor.pdf", DRAWING), rounds), "1.2")


def _batches(folder: Path, project: Path, rounds: int) -> None:
    """Many shelters in one process; then the slope per further sheet, all told and of the writing alone."""
    plan = make_plan(load(project))
    sheets = drawn(plan)
    text = project.read_text(encoding="utf-8")
    ends: list[tuple[Taken, Taken]] = []
    for count in BATCHES:
        place = folder / f"batch{count}"
        place.mkdir()
        for number in range(count):
            (place / f"hut{number}.yaml").write_text(text, encoding="utf-8")
        marks = folder / "marks"
        record(sheets, plan.description.title, marks, copies=count)
        taken = pair(packet("print", place, "--jobs", 1), replay(marks, folder / "floor.pdf", DRAWING), max(1, rounds // 2))
        row(f"{count} shelter{'s' if count > 1 else ''} in one process", *taken)
        ends.append(taken)
    further = (BATCHES[-1] - BATCHES[0]) * len(sheets)
    own, least = ((last.seconds - first.seconds) / further * 1000 for first, last in zip(ends[0], ends[-1], strict=True))
    written = _writing(plan.description.title, sheets)
    print(f"\nPer further sheet: {own:.2f} ms with plan and layout, {written:.2f} ms to write; the replay takes {least:.2f} ms "
          f"(target: at most as much; ratio {own / least:.2f}, of the writing {written / least:.2f}).")


def _writing(title: str, sheets: Sequence[object]) -> float:
    """Milliseconds that the writer takes for one sheet more."""
    import io

    from packet.pdf.writer import Packet, write_bound

    def taken(copies: int) -> float:
        began = time.perf_counter()
        write_bound((Packet(title, sheets) for _ in range(copies)), io.BytesIO(), title)  # type: ignore[arg-type]
        return time.perf_counter() - began

    taken(1)
    return (taken(9) - taken(1)) / 8 / len(sheets) * 1000


if __name__ == "__main__":
    main()
