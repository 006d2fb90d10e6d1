"""A spoiled leaf: its answers alone, and one taken, against a bare process that draws the same pages."""

from __future__ import annotations

import shutil
from pathlib import Path

from packet.description import load
from packet.drawing.page import FinishedSheet
from packet.ledger.joined import plan_with
from packet.ledger.store import Ledger
from packet.miscut.answers import Case, answers
from packet.miscut.damage import Damage
from packet.plan import make_plan
from packet.reissue import reissue, with_decision
from tests.bench.measuring import CHECKING, DRAWING, bare, packet, pair, row
from tests.bench.recording import record

LEAF = "A3"
SHORT = 0.99
"""Share of its height that the spoiled leaf has."""


def rows(folder: Path, project: Path, rounds: int) -> None:
    own = folder / "spoiled"
    own.mkdir()
    copy = own / project.name

    def fresh() -> None:
        """The project as it was before anything was decided."""
        for path in own.iterdir():
            path.unlink()
        shutil.copy(project, copy)

    fresh()
    number, height, pages = _taken(copy)
    command = packet("miscut", copy, LEAF, "--height", height)
    imports = bare("replay.py", folder / "none", folder / "floor.pdf", ",".join(CHECKING))
    record(pages[:1], "one page", folder / "none")
    row("miscut, answers; floor: imports and one page", *pair(command, imports, rounds, fresh))
    record(pages, "reissue", folder / "marks")
    row(f"miscut --take, {len(pages)} pages", *pair(
        [*command, "--take", str(number)], bare("replay.py", folder / "marks", folder / "floor.pdf", ",".join(DRAWING)),
        rounds, fresh))


def _taken(project: Path) -> tuple[int, str, tuple[FinishedSheet, ...]]:
    """The advised answer to a leaf that is too low: its number, the height as it is written, and its pages."""
    plan = make_plan(load(project))
    leaf = plan.assembly.by_mark[LEAF]
    low = round(SHORT * max(y for _, y in leaf.outline))
    found = answers(Case(plan, leaf, Damage(height=float(low)), ""))
    number = next(place for place, answer in enumerate(found, 1) if answer.possible)
    decision = found[number - 1].decision
    if decision is None:
        raise LookupError(f"no answer to a leaf {low} mm high can be taken")
    ledger = Ledger.of(project)
    return number, f"{low} mm", reissue(plan, plan_with(load(project), with_decision(ledger, decision)), (), decision)
