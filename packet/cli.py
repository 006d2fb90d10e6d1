"""Commands. No geometry and no drawing here; heavy imports wait until a command needs them.

Exit codes: 0 done, 1 a fault of the program or the machine, 2 something in the project file or the
command line that the user can mend.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

if TYPE_CHECKING:
    from collections.abc import Callable

    from packet.description.problems import ProjectError
    from packet.drawing.page import FinishedSheet
    from packet.plan import Plan

app = typer.Typer(
    name="packet",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Build packets for folding shelters made of rigid foam boards and tape.\n\n"
    "Write a project file (packet start hut.yaml), see whether it closes, folds and packs "
    "(packet check hut.yaml), then print the packet (packet print hut.yaml).",
    epilog="Exit codes: 0 done; 1 a fault of the program or the machine; 2 something to mend in the "
    "project file or on the command line.",
)

Project = Annotated[Path, typer.Argument(help="The project file (YAML).", show_default=False)]
Paper = Annotated[
    str | None,
    typer.Option(help="Other paper: letter, legal, tabloid, a3, a4 or a size such as \"24 x 36 in\"."),
]
Out = Annotated[Path | None, typer.Option("--out", "-o", help="The PDF to write; beside the project file by default.")]


@app.command()
def start(
    file: Annotated[Path, typer.Argument(help="The project file to write.", show_default=False)],
    units: Annotated[str, typer.Option(help="in or mm: sizes and units of the starter file.")] = "in",
) -> None:
    """Write a commented project file that prints as it is.

    Example: packet start hut.yaml --units mm
    """
    from packet.description.starter import starter_text
    from packet.units import System

    if units not in tuple(System):
        _refuse(f"--units: {units!r} is not a unit system (limit: in or mm). Write --units in or --units mm.")
    try:
        with file.open("x", encoding="utf-8") as out:
            out.write(starter_text(System(units)))
    except FileExistsError:
        _refuse(f"{file}: there is a file already, and it stays as it is. Give another name or move it away first.")
    except OSError as fault:
        _refuse(f"{file}: cannot be written ({fault.strerror}). Give a name in a folder that exists and can be written.")
    typer.echo(f"Wrote {file}. Next: packet check {file}")


@app.command()
def check(project: Project) -> None:
    """Does it close, fold and pack? Headline figures and warnings; writes nothing.

    Example: packet check hut.yaml
    """
    from packet.summary import summary

    plan = _plan(project)
    for line in summary(plan):
        typer.echo(line)
    _warn(plan)


@app.command("print")
def print_packet(project: Project, out: Out = None, paper: Paper = None) -> None:
    """Print the whole packet as one PDF.

    Example: packet print hut.yaml -o hut.pdf --paper a4
    """
    from packet.printing import print_sheets

    began = time.perf_counter()
    target = out or project.with_suffix(".pdf")
    plan = _plan(project, paper)
    finished = _write(target, lambda: print_sheets(plan, target, progress=_progress))
    _warn(plan)
    typer.echo(f"Wrote {target}: {len(finished)} sheets in {time.perf_counter() - began:.1f} s")


@app.command()
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

    plan = _plan(project, paper)
    wanted = mark.strip().lower().removeprefix("board").strip()
    marks = [b.mark for b in plan.boards]
    if wanted not in marks:
        _refuse(f"board {mark!r}: {project} has no such board (limit: {marks[0]} to {marks[-1]}). "
                "Give the number that stands at the top of the marking sheet.")
    target = out or project.with_name(f"{project.stem}-board-{wanted}.pdf")
    finished = _write(target, lambda: print_sheets(plan, target, board=wanted))
    _warn(plan)
    typer.echo(f"Wrote {target}: " + "; ".join(f"sheet {s.number}, serial {s.serial}" for s in finished))


@app.command()
def figures(
    project: Project,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object: mm, m2, m3, degrees, kg, N, s.")] = False,
) -> None:
    """Every number the packet rests on.

    Example: packet figures hut.yaml --json
    """
    import json

    from packet.figures import figures as compute
    from packet.summary import summary

    plan = _plan(project)
    if as_json:
        typer.echo(json.dumps(compute(plan), indent=1, ensure_ascii=False))
        return
    for line in summary(plan, everything=True):
        typer.echo(line)
    _warn(plan)


def _plan(project: Path, paper: str | None = None) -> Plan:
    """The plan of a project file; ends the program with exit code 2 where the file must be mended."""
    from packet.description import ProjectError, load
    from packet.description.paper import with_paper
    from packet.plan import make_plan

    try:
        description = load(project)
        return make_plan(with_paper(description, paper) if paper else description)
    except ProjectError as fault:
        _report(fault)


def _write(target: Path, draw: Callable[[], tuple[FinishedSheet, ...]]) -> tuple[FinishedSheet, ...]:
    """Run what draws and writes; a target that cannot be written or a text that cannot be set is the user's to mend."""
    from packet.drawing.lettering import GlyphError

    if target.is_dir():
        _refuse(f"{target}: is a folder (limit: a file name). Give the name of a PDF file in it.")
    try:
        return draw()
    except OSError as fault:
        _refuse(f"{target}: cannot be written ({fault.strerror}); what was there is unchanged. "
                "Give a name in a folder that exists, can be written and has room.")
    except GlyphError as fault:
        _refuse(f"{fault}. Write the text with Latin letters.")
    finally:
        _progress("")


def _progress(name: str) -> None:
    """One line on a terminal that says what is being drawn; nothing where the output goes to a file."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[Kdrawing {name} ..." if name else "\r\x1b[K")
        sys.stderr.flush()


def _report(fault: ProjectError) -> NoReturn:
    for text in fault.rendered():
        typer.echo(text, err=True)
    count = len(fault.problems)
    typer.echo(f"{count} problem{'s' if count > 1 else ''}; nothing was written.", err=True)
    raise typer.Exit(2)


def _refuse(message: str) -> NoReturn:
    typer.echo(message, err=True)
    raise typer.Exit(2)


def _warn(plan: Plan) -> None:
    for finding in plan.findings:
        typer.echo(f"Warning: {finding}", err=True)


def main() -> None:
    """Entry point of the command `packet`."""
    app()
