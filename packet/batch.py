"""Several projects at once: the same function, mapped over this process, the machine's processors or a cluster.

A job carries the text of its project and gives back the PDF or the sheets, so a worker needs no disk in common with
the one who asks. Outcomes come in the order of the jobs, one at a time: memory does not grow with their number.
"""

from __future__ import annotations

import os
import traceback
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import islice
from multiprocessing import parent_process
from multiprocessing.connection import wait
from pathlib import Path
from threading import Thread
from typing import Protocol

from packet.description.problems import ProjectError
from packet.drawing.lettering import GlyphError
from packet.drawing.page import FinishedSheet
from packet.drawing.room import LayoutError
from packet.ledger.store import Ledger, LedgerError
from packet.words import SentenceError


@dataclass(frozen=True, slots=True)
class Job:
    """One project to print: its text, the file it was read from, other paper if any, its ledger, and whether its sheets are
    wanted (to be bound with others) instead of a PDF."""

    project: Path
    text: str
    paper: str | None = None
    bound: bool = False
    ledger: Ledger | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a job. `refused`: what the user has to mend; `broken`: what only a programmer can."""

    job: Job
    title: str = ""
    count: int = 0
    pdf: bytes = b""
    sheets: tuple[FinishedSheet, ...] = ()
    warnings: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    broken: str = ""

    @property
    def done(self) -> bool:
        return not self.refused and not self.broken


def run(job: Job) -> Outcome:
    """Print one project. Never raises for a fault of the project: one that fails does not stop the others."""
    from packet.description.loading import describe
    from packet.description.paper import with_paper
    from packet.description.reading import read_text
    from packet.ledger.joined import plan_with
    from packet.printing import drawn, pdf_of

    try:
        description = describe(read_text(job.text, job.project))
        plan = plan_with(with_paper(description, job.paper) if job.paper else description, job.ledger)
        sheets = drawn(plan)
        warnings = tuple(str(finding) for finding in plan.findings)
        given = {"sheets": sheets} if job.bound else {"pdf": pdf_of(plan, sheets)}
        return Outcome(job, description.title, len(sheets), warnings=warnings, **given)
    except ProjectError as fault:
        return Outcome(job, refused=fault.rendered())
    except GlyphError as fault:
        return Outcome(job, refused=(f"{job.project}: {fault}. Write the text with Latin letters.",))
    except (LayoutError, LedgerError, SentenceError) as fault:
        return Outcome(job, refused=(f"{job.project}: {fault}",))
    except Exception:
        return Outcome(job, broken=f"{job.project}: {traceback.format_exc()}")


def run_all(jobs: Iterable[Job], workers: int = 1, scheduler: str | None = None) -> Iterator[Outcome]:
    """Outcomes in the order of the jobs. `scheduler` is the address of a dask scheduler; without one, `workers`
    processes of this machine, or this process alone where there is one.

    Raises BrokenProcessPool when a process is killed, OSError when no scheduler answers.
    """
    if scheduler:
        from packet.cluster import run_on

        yield from run_on(scheduler, run, jobs)
    elif workers <= 1:
        yield from map(run, jobs)
    else:
        with ProcessPoolExecutor(workers, initializer=_end_with_parent) as pool:
            yield from in_order(lambda job: pool.submit(run, job), jobs, 2 * workers)


def _end_with_parent() -> None:
    """In a worker: without this, one whose parent was killed would wait for work for ever."""
    parent = parent_process()

    def watch() -> None:
        if parent is not None:
            wait([parent.sentinel])
            os._exit(1)

    Thread(target=watch, daemon=True).start()


class Promised(Protocol):
    """An outcome that may not be there yet."""

    def result(self) -> Outcome: ...


def in_order(submit: Callable[[Job], Promised], jobs: Iterable[Job], ahead: int) -> Iterator[Outcome]:
    """Results in order, with at most `ahead` jobs handed out or waiting to be taken."""
    rest = iter(jobs)
    waiting = deque(submit(job) for job in islice(rest, ahead))
    while waiting:
        yield waiting.popleft().result()
        waiting.extend(submit(job) for job in islice(rest, 1))
