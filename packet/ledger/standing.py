"""How things stand by the ledger: which pages are out, how far each piece is, what was measured and timed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from packet.ledger.entries import Collected, Done, Issued, Measured, Piece, SetAside
from packet.ledger.store import Ledger


@dataclass(frozen=True, slots=True)
class PageOut:
    """A page that somebody holds: when it was issued (ISO 8601, UTC) and in which act."""

    issued: Issued
    at: str
    act: int


def pages_out(ledger: Ledger) -> tuple[PageOut, ...]:
    """Every page that was issued and not collected, in the order of issue; one that was issued twice to one holder once."""
    out: dict[tuple[str, str], PageOut] = {}
    for entry in ledger.entries:
        if isinstance(entry.item, Issued):
            out[entry.item.serial, entry.item.holder] = PageOut(entry.item, entry.at, entry.act)
        elif isinstance(entry.item, Collected):
            out.pop((entry.item.serial, entry.item.holder), None)
    return tuple(out.values())


def serials_issued(ledger: Ledger) -> dict[str, tuple[str, ...]]:
    """The serials under which each sheet was issued, by sheet number, in the order of their latest issue."""
    found: dict[str, dict[str, None]] = {}
    for entry in ledger.entries:
        if isinstance(entry.item, Issued):
            serials = found.setdefault(entry.item.sheet, {})
            serials.pop(entry.item.serial, None)
            serials[entry.item.serial] = None
    return {sheet: tuple(serials) for sheet, serials in found.items()}


def next_copies(ledger: Ledger) -> dict[str, int]:
    """Which copy of each serial that went out the next one is."""
    return {serial: times + 1 for serial, times in Counter(
        entry.item.serial for entry in ledger.entries if isinstance(entry.item, Issued)).items()}


def sheets_of(ledger: Ledger, serial: str) -> tuple[str, ...]:
    """The sheet numbers under which a serial was ever issued."""
    return tuple(dict.fromkeys(
        entry.item.sheet for entry in ledger.entries if isinstance(entry.item, Issued) and entry.item.serial == serial))


def readings(ledger: Ledger) -> dict[str, Measured | SetAside]:
    """The latest reading of each board by its mark, or that it was set aside."""
    return {entry.item.board: entry.item for entry in ledger.entries if isinstance(entry.item, Measured | SetAside)}


def pieces(ledger: Ledger, marks: Iterable[str]) -> dict[str, Piece | None]:
    """The latest record of each piece; None for one of which nothing was recorded, so that it is still planned."""
    latest = {entry.item.mark: entry.item for entry in ledger.entries if isinstance(entry.item, Piece)}
    return {mark: latest.get(mark) for mark in marks}


def tasks_done(ledger: Ledger) -> dict[tuple[str, int], Done]:
    """The latest record of each task that was done, by its key and set."""
    return {(entry.item.task, entry.item.set): entry.item for entry in ledger.entries if isinstance(entry.item, Done)}


def sets_left(done: Iterable[tuple[str, int]], task: str, sets: int) -> tuple[int, ...]:
    """The sets of an order for which a task is still open."""
    found = {number for key, number in done if key == task}
    return () if 0 in found else tuple(number for number in range(1, sets + 1) if number not in found)
