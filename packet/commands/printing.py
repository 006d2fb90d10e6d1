"""Commands that print: the whole packet, or a part of it again."""

from __future__ import annotations

import time
from typing import Annotated

import typer

from packet.commands.common import Out, Paper, Project, plan_of, progress, refuse, warn, written


def print_packet(project: Project, out: Out = None, paper: Paper = None) -> None:
    """Print the whole packet as one PDF.

    Example: packet print hut.yaml -o hut.pdf --paper a4
    """
    from packet.printing import print_sheets

    began = time.perf_counter()
    target = out or project.with_suffix(".pdf")
    plan = plan_of(project, paper)
    finished = written(target, lambda: print_sheets(plan, target, progress=progress))
    warn(plan)
    typer.echo(f"Wrote {target}: {len(finished)} sheets in {time.perf_counter() - began:.1f} s")


def board(
    project: Project,
    mark: Annotated[str, typer.Argument(help="Mark of the board, such as 4.", show_default=False)],
    out: Out = None,
    paper: Paper = None,
) -> None:
    """Print one board's marking again, each sheet with the serial it has in the whole packet.

    Example: packet board hut.yaml 4
    """
    from packet.printing import print_sheets

    plan = plan_of(project, paper)
    wanted = mark.strip().lower().removeprefix("board").strip()
    marks = [b.mark for b in plan.boards]
    if wanted not in marks:
        refuse(f"board {mark!r}: {project} has no such board (limit: {marks[0]} to {marks[-1]}). "
                "Give the number that stands at the top of the marking sheet.")
    target = out or project.with_name(f"{project.stem}-board-{wanted}.pdf")
    finished = written(target, lambda: print_sheets(plan, target, board=wanted))
    warn(plan)
    typer.echo(f"Wrote {target}: " + "; ".join(f"sheet {s.number}, serial {s.serial}" for s in finished))
