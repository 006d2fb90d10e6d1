"""A project as it stands: what its file says, and what the ledger beside it adds.

Readings of boards join those in the file: board 3 is the third in the file's list. A later reading of a board counts
instead of an earlier one, and the ledger's instead of the file's; a board that was set aside counts no more. Times that
were taken turn the rates of the project into those of this crew.
"""

from __future__ import annotations

from dataclasses import replace

from packet.description.decided import Decision
from packet.description.problems import cannot_read
from packet.description.resolved import Description, MeasuredBoard
from packet.ledger.entries import Decided, SetAside
from packet.ledger.standing import readings, serials_issued, tasks_done
from packet.ledger.store import Ledger
from packet.plan import Plan, make_plan


def with_ledger(description: Description, ledger: Ledger) -> Description:
    """The description with the boards that were measured at the table and the answers that were taken.

    Raises ProjectError for an answer that does not read.
    """
    description = replace(description, decided=decisions(ledger))
    found = readings(ledger)
    if not found:
        return description
    measured = {board.mark: board for board in description.boards.measured}
    for mark, one in found.items():
        if isinstance(one, SetAside):
            measured.pop(mark, None)
        else:
            measured[mark] = MeasuredBoard(one.length, one.breadth, one.diagonals, one.thickness, mark)
    in_order = tuple(measured[mark] for mark in sorted(measured, key=int))
    return replace(description, boards=replace(description.boards, measured=in_order))


def decisions(ledger: Ledger) -> tuple[Decision, ...]:
    """The answers to spoiled parts that were taken, in their order. Raises ProjectError for one that does not read."""
    found = []
    for entry in ledger.entries:
        if isinstance(entry.item, Decided):
            try:
                found.append(Decision.of(entry.item.decision))
            except (KeyError, TypeError, ValueError):
                raise cannot_read(ledger.path, f"act {entry.act}: a decision does not read",
                                  "Use the version of the program that wrote it") from None
    return tuple(found)


def plan_with(description: Description, ledger: Ledger | None) -> Plan:
    """The plan of a project as it stands. Raises ProjectError as `make_plan` does."""
    if ledger is None:
        return make_plan(description)
    plan = replace(make_plan(with_ledger(description, ledger)), issued=serials_issued(ledger))
    timed = [(key, number, done.minutes) for (key, number), done in tasks_done(ledger).items() if done.minutes]
    if not timed:
        return plan
    from packet.work.effort import efforts, learned_rates, share
    from packet.work.mending import whole_work

    rates, sets = plan.description.rates, plan.description.quantity
    known = {effort.task.key: effort for effort in efforts(plan, whole_work(plan))}
    pairs = [(share(known[key], sets) if number else known[key], took) for key, number, took in timed if key in known]
    return replace(plan, description=replace(plan.description, rates=learned_rates(pairs, rates)))
