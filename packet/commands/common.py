"""What every command shares: its arguments, how it gets its plan, and how it says what must be mended."""

from __future__ import annotations

import os
import sys
from contextvars import ContextVar
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn, TypeVar

import typer

from packet.places import is_folder, leads_out

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from packet.description.problems import ProjectError
    from packet.ledger.entries import Item
    from packet.ledger.store import Ledger
    from packet.plan import Plan

Drawn = TypeVar("Drawn")

QUIET: ContextVar[bool] = ContextVar("quiet", default=False)
"""Whether --quiet was given: faults only."""

Project = Annotated[Path, typer.Argument(help="The project file (YAML).", show_default=False)]
Paper = Annotated[
    str | None,
    typer.Option(help="Other paper: letter, legal, tabloid, a3, a4 or a size such as \"24 x 36 in\"."),
]
Out = Annotated[Path | None, typer.Option("--out", "-o", help="The PDF to write; beside the project file by default.")]


def options(
    quiet: Annotated[bool, typer.Option("--quiet", "-q", help="Say nothing but what must be mended.")] = False,
) -> None:
    QUIET.set(quiet)

Open = Annotated[bool, typer.Option("--open", help="Show what was written with the program the system has for it.")]


def plan_of(project: Path, paper: str | None = None) -> Plan:
    """The plan of a project as its file and its ledger say; ends the program with exit code 2 where one must be mended."""
    return opened(project, paper)[0]


def opened(project: Path, paper: str | None = None) -> tuple[Plan, Ledger]:
    """The same, and the ledger that was read with it."""
    from packet.description import ProjectError, load
    from packet.description.paper import with_paper
    from packet.ledger.joined import plan_with

    try:
        description = load(project)
        ledger = ledger_of(project)
        return plan_with(with_paper(description, paper) if paper else description, ledger), ledger
    except ProjectError as fault:
        report(fault)


def ledger_of(project: Path) -> Ledger:
    """The ledger beside a project; ends the program with exit code 2 where it does not read."""
    from packet.ledger.store import Ledger, LedgerError

    try:
        ledger = Ledger.of(project)
    except LedgerError as fault:
        refuse(str(fault))
    for notice in ledger.notices:
        tell(f"Notice: {notice}", err=True)
    _complete(ledger)
    return ledger


def _complete(ledger: Ledger) -> None:
    """Put in place the pages of a decision that a crash kept from getting their name."""
    from packet.ledger.entries import Decided

    if not any(isinstance(entry.item, Decided) for entry in ledger.entries):
        return
    from packet.reissue import completed

    try:
        for path in completed(ledger):
            tell(f"Notice: {path} was not finished when its decision was recorded; it is now.", err=True)
    except OSError as fault:
        refuse(f"{ledger.path.parent}: pages of a decision cannot be put in place ({fault.strerror}). "
               "Let this user write there.")


def recorded(ledger: Ledger, items: Sequence[Item]) -> Ledger:
    """Record an act, or end the program: nothing is recorded then."""
    from packet.ledger.store import LedgerError

    try:
        return ledger.append(items)
    except LedgerError as fault:
        refuse(str(fault))
    except OSError as fault:
        refuse(f"{ledger.path}: cannot be written ({fault.strerror}); nothing was recorded. "
               "Keep the project in a folder that can be written and has room.")


def written(target: Path, draw: Callable[[], Drawn]) -> Drawn:
    """Run what draws and writes; a target that cannot be written or a text that cannot be set is the user's to mend."""
    from packet.description.problems import ProjectError
    from packet.drawing.lettering import GlyphError
    from packet.drawing.room import LayoutError
    from packet.ledger.store import LedgerError
    from packet.side_by_side import ProcessEnded
    from packet.words import SentenceError

    if is_folder(target):
        refuse(f"{target}: is a folder (limit: a file name). Give the name of a PDF file in it.")
    try:
        return draw()
    except OSError as fault:
        refuse(f"{target}: cannot be written ({fault.strerror}); what was there is unchanged. "
                "Give a name in a folder that exists, can be written and has room.")
    except ProcessEnded as fault:
        tell(f"{target}: {fault}, perhaps for want of memory; what was there is unchanged. Close other programs, then run the "
             "command again.", err=True)
        raise typer.Exit(1) from None
    except ProjectError as fault:
        report(fault)
    except GlyphError as fault:
        refuse(f"{fault}. Write the text with Latin letters.")
    except LedgerError as fault:
        refuse(f"{fault}")
    except SentenceError as fault:
        refuse(f"{fault}. Keep what stands around each value as in the sentence that it replaces.")
    except LayoutError as fault:
        refuse(f"{fault} (limit: the room on the page). Take larger paper, or shorten sentences of the project's own.")
    finally:
        progress("")


def pdf_name(target: Path, *projects: Path) -> Path:
    """A name that a PDF may have: never that of a project, whose lines nobody could bring back."""
    for project in projects:
        if target.resolve() == project.resolve():
            refuse(f"{target}: is the project file itself, which a PDF would replace (limit: another name). "
                   f"Give a name such as {project.with_name(f'{project.stem}-packet.pdf').name} with --out.")
    if target.suffix.lower() != ".pdf" and not is_folder(target):
        refuse(f"{target}: is no name of a PDF (limit: a name that ends in .pdf). "
               f"Write {target.with_name(f'{target.stem or target.name}.pdf')}.")
    return target


def folder_beside(project: Path, ending: str) -> Path:
    """The folder beside a project that takes what is written, where no other was named; made when something is."""
    folder = project.with_name(f"{project.stem}-{ending}")
    if leads_out(folder):
        refuse(f"{folder}: is a link that leads out of its folder (limit: a folder there). Name where to write with --out.")
    return folder


def show(path: Path, wanted: bool) -> None:
    """Show a file or a folder with the system's viewer, where that is asked for."""
    if wanted and typer.launch(str(path)):
        tell(f"{path}: no program was found to show it with. Open it yourself.", err=True)


def progress(name: str) -> None:
    """One line on a terminal that says what is being drawn; nothing where the output goes to a file."""
    if sys.stderr.isatty() and not QUIET.get() and os.environ.get("TERM") != "dumb":
        sys.stderr.write(f"\r\x1b[Kdrawing {name} ..." if name else "\r\x1b[K")
        sys.stderr.flush()


def report(fault: ProjectError) -> NoReturn:
    for text in fault.rendered():
        tell(text, err=True)
    count = len(fault.problems)
    tell(f"{count} problem{'s' if count > 1 else ''}; nothing was written.", err=True)
    raise typer.Exit(2)


def say(message: str) -> None:
    """A line about what was done; nothing with --quiet."""
    if not QUIET.get():
        tell(message)


def counted(count: int, what: str) -> str:
    return f"{count} {what}{'s' if count != 1 else ''}"


def refuse(message: str) -> NoReturn:
    """End with exit code 2."""
    tell(message, err=True)
    raise typer.Exit(2)


def tell(text: str, err: bool = False) -> None:
    """Lines for people. What a terminal would obey, or reorder by, in a word of the user's own or the name of a file is
    shown as U+FFFD; so is a name that is no text."""
    typer.echo("".join(mark if mark.isprintable() or mark in "\n\t" else "\ufffd" for mark in text), err=err)


def warn(plan: Plan) -> None:
    warn_of(str(finding) for finding in plan.findings)


def warn_of(findings: Iterable[str], project: Path | None = None) -> None:
    """Warnings, with the name of the project where there are several; nothing with --quiet."""
    if not QUIET.get():
        for finding in findings:
            tell(f"Warning: {f'{project}: ' if project else ''}{finding}", err=True)
