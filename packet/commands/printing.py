"""Commands that print: the whole packet, or a part of it again."""

from __future__ import annotations

import os
import re
import time
from pathlib import Path
from typing import Annotated

import typer

from packet.commands.common import (
    Open,
    Out,
    Paper,
    Project,
    opened,
    pdf_name,
    plan_of,
    progress,
    refuse,
    say,
    show,
    warn,
    written,
)
from packet.places import is_folder


def print_packet(
    projects: Annotated[list[Path], typer.Argument(help="Project files, or folders of them.", show_default=False,
                                                   metavar="PROJECT...")],
    out: Annotated[Path | None, typer.Option("--out", "-o", help="The PDF to write, or with several projects the folder "
                                             "for them; beside each project file by default.")] = None,
    paper: Paper = None,
    bound: Annotated[Path | None, typer.Option(help="Bind all projects into this one PDF.")] = None,
    jobs: Annotated[int, typer.Option(min=1, max=256, help="Processes; as many as there are processors by default.",
                                      show_default=False)] = os.cpu_count() or 1,
    scheduler: Annotated[str | None, typer.Option(help="Address of a dask scheduler to print on instead.")] = None,
    open_it: Open = False,
) -> None:
    """Print the whole packet as one PDF. Of several projects each has its own, or all are bound into one.

    Example: packet print hut.yaml -o hut.pdf --paper a4

    Example: packet print hut.yaml booth.yaml season/ --bound all.pdf
    """
    if len(projects) > 1 or bound or scheduler or is_folder(projects[0]):
        from packet.commands.many import print_many

        print_many(projects, out, paper, bound, jobs, scheduler)
        return
    from packet.printing import print_packet as print_one

    (project,) = projects
    began = time.perf_counter()
    target = pdf_name(out or project.with_suffix(".pdf"), project)
    plan = plan_of(project, paper)
    finished = written(target, lambda: print_one(plan, target, processes=jobs, progress=progress))
    warn(plan)
    say(f"Wrote {target}: {len(finished)} sheets in {time.perf_counter() - began:.1f} s")
    show(target, open_it)


def board(
    project: Project,
    mark: Annotated[str, typer.Argument(help="Mark of the board, such as 4.", show_default=False)],
    out: Out = None,
    paper: Paper = None,
) -> None:
    """Print one board's marking again. Each sheet has the serial that it has in the whole packet.

    A page that went out before, by the ledger, says which copy it is.

    Example: packet board hut.yaml 4
    """
    from packet.ledger.standing import next_copies
    from packet.printing import SUBJECT, one_board, print_finished

    if out:
        pdf_name(out, project)
    plan, ledger = opened(project, paper)
    wanted = mark.strip().lower().removeprefix("board").strip()
    marks = [b.mark for b in plan.boards]
    if wanted not in marks:
        refuse(f"board {mark!r}: {project} has no such board (limit: {marks[0]} to {marks[-1]}). "
                "Give the number that stands at the top of the marking sheet.")
    target = out or project.with_name(f"{project.stem}-board-{wanted}.pdf")
    finished = written(target, lambda: print_finished(plan, one_board(plan, wanted), target, SUBJECT, next_copies(ledger)))
    warn(plan)
    say(f"Wrote {target}: " + "; ".join(f"sheet {s.number}, serial {s.serial}" for s in finished))


def sheet(
    project: Project,
    name: Annotated[str, typer.Argument(help="Number of a page, such as H-02, or name of a sheet, such as relief.",
                                        show_default=False)],
    out: Out = None,
    paper: Paper = None,
) -> None:
    """Print one sheet again. The others are not drawn; it has the serial that it has in the whole packet.

    A page that went out before, by the ledger, says which copy it is.

    Example: packet sheet hut.yaml H-02
    """
    from packet.ledger.standing import next_copies
    from packet.printing import one_sheet, print_finished

    if out:
        pdf_name(out, project)
    plan, ledger = opened(project, paper)
    wanted = name.strip()
    plain = "-".join(re.findall(r"\w+", wanted.lower()))
    target = out or project.with_name(f"{project.stem}-{plain}.pdf")
    found = written(target, lambda: one_sheet(plan, wanted))
    if not found:
        refuse(f"sheet {name!r}: {project} has no such sheet (limit: the page numbers in the register on the cover, or a "
               "name such as checklist, order, strips, relief, fold, erect). Give one of these.")
    written(target, lambda: print_finished(plan, found, target, "Sheets printed again", next_copies(ledger)))
    warn(plan)
    say(f"Wrote {target}: " + "; ".join(f"sheet {s.number}, serial {s.serial}" for s in found))
