"""The sheets of one packet drawn side by side, by as many processes as there are processors.

Sheets need nothing of each other, so each process takes the next file of sheets that nobody has taken and gives back its
pages as they will stand in the PDF. Which process drew a page is not to be seen: a page by itself has the bytes that it has
among others. Processes are forks of this one, which know the plan already; where that is not safe, this one draws alone.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import BinaryIO

from packet.drawing.full_size import Correction
from packet.pdf.content import PageContent, content_of
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.register import ORDER, Progress, draw_cover, draw_file, in_order
from packet.work.following import Following

MOST = 4
"""Processes that draw one packet: more would wait for the longest of the files."""

FIRST = ("checklist", "recipes", "parts", "marking", "fold", "cards", "crew", "halves", "briefing", "inspection")
"""Files that take longest are begun first, so that nobody waits long for the last."""


Pages = Callable[[str], tuple[PageContent, ...]]
"""Draws the file of that name."""


class ProcessEnded(RuntimeError):
    """Another process was ended from outside before it had drawn its share."""


@dataclass(frozen=True, slots=True)
class _Share:
    """What one process drew, and the first of its files that could not be drawn, by its place in the order taken."""

    pages: tuple[PageContent, ...]
    fault: tuple[int, Exception] | None = None


def pages_of(plan: Plan, kit: Kit, processes: int, progress: Progress = lambda name: None,
             correction: Correction | None = None) -> tuple[PageContent, ...]:
    """Every page of the packet, cover first, drawn by up to so many processes. `progress` is told the name of each file
    that this one draws; `correction` as in `content_of`.

    Raises what drawing raises (GlyphError, LayoutError, SentenceError), the same whoever drew it, and ProcessEnded when
    another process was ended from outside.
    """
    names = (*FIRST, *(name for name in ORDER if name not in FIRST))
    following = Following(plan)

    def pages(name: str) -> tuple[PageContent, ...]:
        return tuple(content_of(sheet, correction) for sheet in draw_file(name, plan, kit, following))

    shares = _drawn(names, pages, min(processes, MOST) if _may_fork() else 1, progress)
    faults = [share.fault for share in shares if share.fault]
    if faults:
        raise min(faults, key=lambda fault: fault[0])[1]
    found = in_order(page for share in shares for page in share.pages)
    progress("cover")
    return (*map(content_of, draw_cover(plan, kit, found, following)), *found)


def _may_fork() -> bool:
    """A fork of a process with threads has locks that nobody will ever open; elsewhere than on Linux, system libraries do
    not stand it."""
    return sys.platform == "linux" and threading.active_count() == 1


def _drawn(names: Sequence[str], pages: Pages, processes: int, progress: Progress) -> list[_Share]:
    """The shares of all processes, this one's first."""
    if processes == 1:
        return [_share(range(len(names)), names, pages, progress)]
    # A pipe with a byte for each file: who reads a byte has the file to draw, and nobody else has it.
    taking, giving = os.pipe()
    os.write(giving, bytes(range(len(names))))
    os.close(giving)
    others: list[_Other] = []
    try:
        with suppress(OSError):  # the machine gives no more processes or pipes: those there are draw it all
            others += (_fork(taking, names, pages) for _ in range(processes - 1))
        own = _share(_taking(taking), names, pages, progress)
        return [own, *(other.share() for other in others)]
    finally:
        os.close(taking)
        for other in others:
            other.end()


def _taking(places: int) -> Iterator[int]:
    while byte := os.read(places, 1):
        yield byte[0]


def _share(places: Iterable[int], names: Sequence[str], pages: Pages, progress: Progress) -> _Share:
    """Draw files as long as there are any and none fails. Those before a failing one are all taken by somebody."""
    found: list[PageContent] = []
    for place in places:
        progress(names[place])
        try:
            found += pages(names[place])
        except Exception as fault:
            return _Share(tuple(found), (place, fault))
    return _Share(tuple(found))


@dataclass(slots=True)
class _Other:
    """A process that draws its share, and where its answer is read."""

    process: int
    answer: BinaryIO

    def share(self) -> _Share:
        """What it drew, once it is done."""
        said = self.answer.read()
        status = self._ended()
        if status:
            raise ProcessEnded(f"a process that drew sheets was ended from outside (exit status {status})")
        found: _Share = pickle.loads(said)  # noqa: S301  written by a fork of this process
        return found

    def end(self) -> None:
        """Nothing stays behind, whatever happened."""
        if self.process:
            os.kill(self.process, signal.SIGKILL)
            self._ended()
        self.answer.close()

    def _ended(self) -> int:
        _, status = os.waitpid(self.process, 0)
        self.process = 0
        return os.waitstatus_to_exitcode(status)


def _fork(places: int, names: Sequence[str], pages: Pages) -> _Other:
    """A process that draws beside this one. It says nothing but its answer, and leaves without touching what this one has
    open."""
    receiving, sending = os.pipe()
    try:
        process = os.fork()
    except OSError:
        os.close(receiving)
        os.close(sending)
        raise
    if process:
        os.close(sending)
        return _Other(process, os.fdopen(receiving, "rb"))
    status = 1
    try:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        os.close(receiving)
        with os.fdopen(sending, "wb") as answer:
            answer.write(_said(_share(_taking(places), names, pages, lambda name: None)))
        status = 0
    finally:
        os._exit(status)


def _said(share: _Share) -> bytes:
    """A share as bytes. A fault goes with the place where it arose, which bytes would lose."""
    if share.fault:
        place, fault = share.fault
        fault.add_note("".join(traceback.format_exception(fault)))
        try:
            pickle.loads(pickle.dumps(fault))  # noqa: S301  its own
        except Exception:
            share = replace(share, fault=(place, RuntimeError("".join(traceback.format_exception(fault)))))
    return pickle.dumps(share)
