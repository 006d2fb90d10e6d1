"""Readings of the boards that came, one board after another, at the table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Project, counted, ledger_of, recorded, refuse, report, say, tell

if TYPE_CHECKING:
    from packet.description.resolved import Description
    from packet.ledger.entries import Measured
    from packet.ledger.store import Ledger

LARGEST = 100
"""Boards of one order that can be measured."""


def measured(
    project: Project,
    board: Annotated[int | None, typer.Option(min=1, max=LARGEST, help="Record this board alone, without questions.",
                                              show_default=False)] = None,
    length: Annotated[str | None, typer.Option(help="Its length.", show_default=False)] = None,
    breadth: Annotated[str | None, typer.Option(help="Its breadth.", show_default=False)] = None,
    diagonals: Annotated[str | None, typer.Option(help='Both diagonals: "107-1/4, 107-3/8".', show_default=False)] = None,
    thickness: Annotated[str | None, typer.Option(help='Thickness at the four corners: "1, 1, 1-1/16, 1".',
                                                  show_default=False)] = None,
    set_aside: Annotated[bool, typer.Option("--set-aside", help="That board is not used: its readings count no more.")
                         ] = False,
) -> None:
    """Take the readings of the boards that came. The leaves are fitted to the smallest.

    Asks for one board after another; an empty length ends. Each board is recorded as soon as it is read, so that the
    work can be broken off and taken up again.

    Example: packet measured hut.yaml

    Example: packet measured hut.yaml --board 3 --length 95-7/8 --breadth 48

    Example: packet measured hut.yaml --board 3 --set-aside
    """
    from packet.description import ProjectError, load
    from packet.ledger.joined import decisions

    try:
        description = load(project)
    except ProjectError as fault:
        report(fault)
    book = ledger_of(project)
    try:
        decisions(book)  # nothing is recorded beside what does not read
    except ProjectError as fault:
        report(fault)
    if set_aside:
        from packet.ledger.entries import SetAside

        if board is None:
            refuse("--set-aside: which board? Give --board and its number.")
        recorded(book, [SetAside(str(board))])
        say(f"Recorded: board {board} is set aside.")
        return
    if board is not None:
        if length is None or breadth is None:
            refuse(f"--board {board}: length and breadth are needed. Give --length and --breadth.")
        one = _reading(description, board, length, breadth, diagonals or "", thickness or "")
        book = recorded(book, [one])
        _tell(description, book, one)
        return
    _ask_all(description, book)


def _ask_all(description: Description, book: Ledger) -> None:
    from packet.ledger.joined import with_ledger

    number = len(with_ledger(description, book).boards.measured) + 1
    unit = description.system
    tell(f"Readings in {unit}; an empty length ends. Measured so far: {number - 1}.")
    while number <= LARGEST:
        given = _ask(f"board {number}: length")
        if not given:
            break
        try:
            one = _asked(description, number, given)
        except typer.Exit:
            continue  # told; the same board is asked for again
        book = recorded(book, [one])
        _tell(description, book, one)
        number += 1


DIAGONALS = ("first diagonal (or nothing)", "second diagonal")
CORNERS = ("thickness at corner 1 (or nothing)", *(f"thickness at corner {corner}" for corner in (2, 3, 4)))
"""Asked one by one, as they are read; nothing for the first leaves them all out, all at once does as well."""


def _asked(description: Description, number: int, length: str) -> Measured:
    """The readings of a board, each checked as it is given and asked for again where it is none."""
    from packet.ledger.entries import Measured

    (long,) = _lengths(description, "length", length, 1)
    (broad,) = _again(description, "breadth", ("breadth",), needed=True)
    return Measured(str(number), long, broad, _again(description, "diagonals", DIAGONALS),
                    _again(description, "thickness", CORNERS))


def _again(description: Description, name: str, asked: tuple[str, ...], needed: bool = False) -> tuple[float, ...]:
    """A length for each question; none at all where nothing is given for the first of those that may be left out."""
    found: list[float] = []
    while len(found) < len(asked):
        text = _ask(asked[len(found)])
        if not text and not found and not needed:
            return ()
        try:
            at_once = not found and "," in text.replace(";", ",")
            found += _lengths(description, name, text, len(asked) if at_once else 1)
        except typer.Exit:
            continue  # told; the same reading is asked for again
    return tuple(found)


def _ask(what: str) -> str:
    try:
        return str(typer.prompt(what, default="", show_default=False)).strip()
    except typer.Abort:
        tell("")
        say("Broken off; what was recorded stays.")
        raise SystemExit(0) from None


def _reading(description: Description, board: int, length: str, breadth: str, diagonals: str, thickness: str) -> Measured:
    from packet.ledger.entries import Measured

    (long,) = _lengths(description, "length", length, 1)
    (broad,) = _lengths(description, "breadth", breadth, 1)
    return Measured(str(board), long, broad, _lengths(description, "diagonals", diagonals, 2),
                    _lengths(description, "thickness", thickness, 4))


def _lengths(description: Description, name: str, text: str, count: int) -> tuple[float, ...]:
    """So many lengths within what a board can have; none where nothing was given for a reading that may be left out."""
    from packet.description.models import reading_bounds
    from packet.units import Format, parse_length

    if not text and count > 1:
        return ()
    parts = [part for part in text.replace(";", ",").split(",") if part.strip()]
    if len(parts) != count:
        refuse(f"{name} {text!r}: {len(parts)} given (limit: {count}, parted by commas). Measure again.")
    least, most = reading_bounds(name, description.system)
    found = []
    for part in parts:
        try:
            value = parse_length(part, description.system)
        except ValueError as fault:
            refuse(f"{name} {part.strip()!r}: {fault}")
        if not least <= value <= most:
            form = Format(description.system)
            refuse(f"{name} {part.strip()!r}: no board has this (limit: {form.length_unit(least)} to "
                   f"{form.length_unit(most)}). Measure again.")
        found.append(value)
    return tuple(found)


def _tell(description: Description, book: Ledger, one: Measured) -> None:
    """Whether the board is within the limits, and what all boards so far give."""
    from packet.boards.delivered import size_measured, skew, smallest, thickness
    from packet.description.resolved import MeasuredBoard
    from packet.findings import board_faults
    from packet.ledger.joined import with_ledger
    from packet.units import Format

    form, limits = Format(description.system), description.limits
    joined = with_ledger(description, book)
    plain = MeasuredBoard(one.length, one.breadth, one.diagonals, one.thickness)
    said = []
    if one.diagonals and abs(one.diagonals[0] - one.diagonals[1]) > limits.diagonal:
        said.append(f"out of square, leans {form.length_unit(skew(plain))} over its breadth: measure from one long edge "
                    "and mark it as the datum")
    faults: Sequence[str] = [str(fault) for fault in board_faults(joined)]
    size = size_measured(joined.boards, plain)
    for name, read, bought in zip(("breadth", "length"), (one.breadth, one.length), joined.boards.sizes[size], strict=True):
        if abs(read - bought) > limits.board_spread:
            said.append(f"its {name} is {form.length_unit(abs(read - bought))} {'under' if read < bought else 'over'} the "
                        f"{form.length_unit(bought)} that was ordered: read it again, or set it aside")
    length, breadth = smallest(joined.boards, size)
    own = joined.boards.sizes[size]
    say(f"Recorded board {one.board}. {'; '.join(said)}".rstrip(" .") + ".")
    alike = sum(size_measured(joined.boards, board) == size for board in joined.boards.measured)
    which = f", {alike} of {form.size(*own)}" if joined.boards.also else ""
    say(f"  All so far: {counted(len(joined.boards.measured), 'board')}{which}, smallest {form.size(breadth, length)}, "
        f"thickest {form.length_unit(thickness(joined.boards))}")
    for fault in faults:
        tell(fault, err=True)

