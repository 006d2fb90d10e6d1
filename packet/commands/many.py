"""Printing many projects: one PDF each, or all bound into one."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import typer

from packet.batch import Job, Outcome, run_all
from packet.cluster import NoClusterError
from packet.commands.common import pdf_name, progress, refuse, say, tell, warn_of
from packet.commands.faults import told_of
from packet.description.problems import ProjectError
from packet.description.reading import read_file
from packet.ledger.store import Ledger, LedgerError
from packet.pdf.files import write_atomically
from packet.places import is_folder

SUFFIXES = (".yaml", ".yml")

MOST = 1000
"""Project files of one folder: more are hardly meant, and each that is none would be told."""


def print_many(projects: Sequence[Path], out: Path | None, paper: str | None, bound: Path | None, jobs: int,
               scheduler: str | None) -> None:
    """Print them all; one that cannot be printed does not stop the others, and is listed at the end (exit code 2)."""
    gc.enable()  # memory must not grow with the number of projects
    files = _files(projects)
    if bound:
        if out:
            refuse(f"--out {out}: all projects go into {bound} (limit: --out or --bound). Leave --out out.")
        if is_folder(bound):
            refuse(f"--bound {bound}: is a folder (limit: a file name). Give the name of a PDF file in it.")
        pdf_name(bound, *files)
    targets = {} if bound else _targets(files, out)
    failed: dict[Path, str] = {}
    outcomes = _outcomes(files, paper, bool(bound), min(jobs, len(files)), scheduler, failed)
    try:
        if bound:
            _bind(outcomes, bound, failed, len(files))
        else:
            _write_each(outcomes, targets, failed)
    except BrokenProcessPool:
        tell("A process was killed from outside, perhaps for want of memory; packets written so far are whole. "
             "Run the command again with a smaller --jobs.", err=True)
        raise typer.Exit(1) from None
    except NoClusterError as fault:
        refuse(f"--scheduler {scheduler}: {fault}.")
    finally:
        progress("")
    if failed:
        tell(f"{len(failed)} of {len(files)} projects not printed:", err=True)
        for file, why in failed.items():
            tell(f"  {file}: {why}", err=True)
        raise typer.Exit(1 if BROKEN in failed.values() else 2)


BROKEN = "a fault of the program"


def _files(projects: Sequence[Path]) -> tuple[Path, ...]:
    """The project files named, and those in the folders named, each once."""
    found: list[Path] = []
    for project in projects:
        if is_folder(project):
            try:
                inside = sorted(path for path in project.iterdir() if path.suffix.lower() in SUFFIXES and not path.is_dir())
            except OSError as fault:
                refuse(f"{project}: this folder cannot be read ({fault.strerror}). Let this user read it.")
            if not inside:
                refuse(f"{project}: there is no project file in this folder (limit: *.yaml or *.yml). "
                       "Name the folder that holds them.")
            if len(inside) > MOST:
                refuse(f"{project}: {len(inside):,} files here have the name of a project (limit: {MOST:,}). Name the folder "
                       "that holds the projects, or put them into several folders.")
            found += inside
        else:
            found.append(project)
    return tuple(dict.fromkeys(found))


def _targets(files: Sequence[Path], out: Path | None) -> dict[Path, Path]:
    """Where each packet goes. Two that would go to one file are refused before anything is printed."""
    if out and not is_folder(out):
        refuse(f"--out {out}: is no folder (limit: with several projects, a folder that exists). "
               "Make it first, or bind them into one PDF with --bound.")
    targets = {file: (out / file.name if out else file).with_suffix(".pdf") for file in files}
    taken: dict[Path, Path] = {}
    for file, target in targets.items():
        pdf_name(target, *files)
        other = taken.setdefault(target.resolve(), file)
        if other != file:
            refuse(f"{target}: {other} and {file} would both be printed here (limit: a file for each). "
                   "Rename one of them, or bind them with --bound.")
    return targets


def _outcomes(files: Sequence[Path], paper: str | None, bound: bool, jobs: int, scheduler: str | None,
              failed: dict[Path, str]) -> Iterator[Outcome]:
    """What became of each, told as soon as it is known; those that failed are noted."""
    def read() -> Iterator[Job]:
        for file in files:
            try:
                yield Job(file, read_file(file), paper, bound, Ledger.of(file))
            except ProjectError as fault:
                _tell(file, fault.rendered(), failed)
            except LedgerError as fault:
                _tell(file, (str(fault),), failed)

    for outcome in run_all(read(), jobs, scheduler):
        if outcome.done:
            progress(outcome.job.project.name)
            warn_of(outcome.warnings, outcome.job.project)
        else:
            _tell(outcome.job.project, outcome.refused or (told_of(outcome.broken),), failed)
            if outcome.broken:
                failed[outcome.job.project] = BROKEN
        yield outcome


def _tell(file: Path, texts: Sequence[str], failed: dict[Path, str]) -> None:
    for text in texts:
        tell(text, err=True)
    count = len(texts)
    failed[file] = f"{count} problem{'s' if count > 1 else ''}"


def _write_each(outcomes: Iterator[Outcome], targets: dict[Path, Path], failed: dict[Path, str]) -> None:
    for outcome in outcomes:
        if not outcome.done:
            continue
        file = outcome.job.project
        try:
            write_atomically(targets[file], outcome.pdf)
        except OSError as fault:
            failed[file] = f"{targets[file]} cannot be written ({fault.strerror}); what was there is unchanged"
        else:
            say(f"Wrote {targets[file]}: {outcome.count} sheets")


def _bind(outcomes: Iterator[Outcome], target: Path, failed: dict[Path, str], count: int) -> None:
    """One file, whole or not at all: a binder that lacks a shelter would mislead."""
    from packet.pdf.writer import Packet, write_bound

    def packets() -> Iterator[Packet]:
        for outcome in outcomes:
            if outcome.done:
                yield Packet(outcome.title, outcome.sheets)
        if failed:
            raise _Incomplete

    try:
        pages = write_bound(packets(), target, f"{count} build packets", subject="Build packets")
    except _Incomplete:
        tell(f"{target}: nothing was written, since not every project could be printed.", err=True)
    except OSError as fault:
        refuse(f"{target}: cannot be written ({fault.strerror}); what was there is unchanged. "
               "Give a name in a folder that exists, can be written and has room.")
    else:
        say(f"Wrote {target}: {count} projects, {pages} pages")


class _Incomplete(Exception):
    """A project failed, so there is nothing to bind."""
