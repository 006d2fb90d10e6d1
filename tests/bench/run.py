"""The table of speeds: python -m tests.bench.run [ROUNDS] [ROW ...]. Ratios in one run, medians of whole processes.

Each row stands against its floor, measured in turn with it: a bare process that imports what the command needs and draws
the same marks with plain reportlab calls (`replay.py`), or a lazy typer program for --help. Run it on an idle machine; what
counts is the ratio. ROW is one of help, check, samples, board, miscut, tiles, layout, batches; all of them by default, which
takes some ten minutes. Nothing here is a test: clocks make bad ones.
"""

from __future__ import annotations

import compileall
import sys
import tempfile
from pathlib import Path

from packet import prepared
from packet.cli import app
from packet.description import load
from packet.plan import make_plan
from packet.printing import drawn
from packet.resources import samples
from tests.bench import orders, spoiled, tiling
from tests.bench.measuring import CHECKING, DRAWING, HEAD, bare, packet, pair, row
from tests.bench.recording import record

SIX = "frost_watch"
"""The sample of six walls."""


def _help(_: Path, __: Path, rounds: int) -> None:
    count = len(app.registered_commands)
    row(f"--help of {count} commands", *pair(packet("--help"), bare("lazy_program.py", count, "--help"), rounds), "1.2")


def _check(_: Path, project: Path, rounds: int) -> None:
    imports = [sys.executable, "-c", f"import {', '.join(CHECKING)}"]
    row("check", *pair(packet("check", project), imports, rounds))
    row("figures --json", *pair(packet("figures", project, "--json"), imports, rounds))


def _samples(folder: Path, _: Path, rounds: int) -> None:
    for path in sorted(samples().glob("*.yaml")):
        plan = make_plan(load(path))
        sheets = drawn(plan)
        marks, target, floor = folder / "marks", folder / "own.pdf", folder / "floor.pdf"
        record(sheets, plan.description.title, marks)
        own, least = pair(packet("print", path, "-o", target), bare("replay.py", marks, floor, ",".join(DRAWING)), rounds)
        size = target.stat().st_size / floor.stat().st_size
        row(f"print {path.stem}, {len(sheets)} sheets", own, least, "1.5; 150 MB" if path.stem == SIX else "",
            f"{target.stat().st_size // 1000} kB, {size:.2f} of the replay's (target 0.85)")


def _board(folder: Path, project: Path, rounds: int) -> None:
    from packet.pdf.fonts import lettering
    from packet.sheets.kit import make_kit
    from packet.sheets.register import draw_board

    plan = make_plan(load(project))
    marks = folder / "marks"
    record(draw_board(plan, make_kit(plan, lettering()), "4"), plan.description.title, marks)
    row("one board", *pair(packet("board", project, "4", "-o", folder / "own.pdf"),
                           bare("replay.py", marks, folder / "floor.pdf", ",".join(DRAWING)), rounds), "1.2")


ROWS = {"help": _help, "check": _check, "samples": _samples, "board": _board, "miscut": spoiled.rows, "tiles": tiling.rows,
        "layout": orders.layouts, "batches": orders.rows}


def _as_installed() -> None:
    """An installed program has its modules and sentences compiled; where nothing may write them while it runs, a checkout
    would compile them in every process that is measured."""
    prepared.prepare(prepared.FILE)
    if not compileall.compile_dir(prepared.FILE.parent, quiet=1):
        raise RuntimeError(f"{prepared.FILE.parent} cannot be compiled")


def main() -> None:
    rounds, *wanted = sys.argv[1:] or ["3"]
    _as_installed()
    project = samples() / f"{SIX}.yaml"
    print(HEAD)
    for name in wanted or ROWS:
        with tempfile.TemporaryDirectory() as folder:
            ROWS[name](Path(folder), project, int(rounds))


if __name__ == "__main__":
    main()
