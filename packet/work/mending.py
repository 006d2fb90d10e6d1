"""Tasks that answer spoiled parts: each decision is carried out at the cutting table before the leaves are sorted.

They come on top of the planned work and leave its numbers alone: pages with ticks on them stay good.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

from packet.boards.mended import Recut
from packet.description.decided import Decision, Remedy, part_mark
from packet.plan import Plan
from packet.work.order import in_order
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.tasks import tasks

_NEXT = "sort"
"""The step that waits for the leaves to be mended."""


def mending_tasks(plan: Plan) -> tuple[Task, ...]:
    """A task for each decision, and a hold point after it where glue must set. `values["before"]` holds the numbers of the
    planned tasks that wait for it.

    A decision waits for the parts it works on, for decisions before it on the same leaves, and for the blank or the spare
    that it takes.
    """
    recuts = {recut.decision: recut for recut in plan.mended.recuts}
    planned = [(number, task) for number, task in enumerate(tasks(plan), 1) if task.step == _NEXT]
    ready = _cut_from(plan)
    found: list[Task] = []
    for one in plan.description.decided:
        recut = recuts.get(one.number)
        # A leaf that is trimmed with others is named whole, a spoiled one by its part.
        marks = tuple(dict.fromkeys(plan.owners.get(mark, mark) for mark in marks_of(one)))
        pieces = tuple(piece for mark in marks_of(one) for piece, leaf in plan.owners.items() if mark in (piece, leaf))
        parts = tuple(part_mark(piece, one.copy) for piece in pieces)
        sources = [*parts]
        if recut is not None:
            sources.append(recut.blank.board)
        elif one.remedy is Remedy.SPARE:
            sources.append(one.source)
        # A whole board that is on no marking sheet is there once the boards are received.
        after = tuple(dict.fromkeys(ready.get(source, "receive") for source in sources))
        waiting = tuple(number for number, task in planned if {*task.marks} & {*marks})
        found += _tasks(plan, one, recut, marks, after, waiting)
        ready |= dict.fromkeys(parts, found[-1].key)
        if recut is not None:
            ready |= {recut.board.mark: found[-1].key, recut.spare: found[-1].key}
        if one.keeps:
            ready[one.keeps] = found[-1].key
    return tuple(found)


@lru_cache(maxsize=2)
def whole_work(plan: Plan) -> tuple[Task, ...]:
    """The planned tasks and those of the decisions, every one after what it waits for."""
    added = mending_tasks(plan)
    return in_order((*(_waiting(task, added) for task in tasks(plan)), *added)) if added else tasks(plan)


def numbered(plan: Plan) -> dict[str, int]:
    """The number of every task on the checklist, by its key; those of decisions come behind the planned ones."""
    return {task.key: number for number, task in enumerate((*tasks(plan), *mending_tasks(plan)), 1)}


def _waiting(task: Task, added: Iterable[Task]) -> Task:
    if task.step != _NEXT:
        return task
    return replace(task, after=(*task.after, *(one.key for one in added if {*one.marks} & {*task.marks})))


def _cut_from(plan: Plan) -> dict[str, str]:
    """The cutting task of each piece and, by its mark, of each board."""
    found: dict[str, str] = {}
    for run in plan.runs:
        names = (*(board.mark for board in run.boards), *(piece.mark for board in run.boards for piece in board.pieces))
        found |= dict.fromkeys(names, f"cut:{run.first.mark}")
    return found


def marks_of(one: Decision) -> tuple[str, ...]:
    """The leaves, or parts of leaves, that a decision works on."""
    return tuple(dict.fromkeys((one.leaf, *([one.slot] if one.slot else ()), *one.trimmed)))


def _tasks(plan: Plan, one: Decision, recut: Recut | None, marks: tuple[str, ...], after: tuple[str, ...],
           before: tuple[int, ...]) -> Iterator[Task]:
    sheets = (sheet_number("mending", one.number),)
    values: dict[str, Any] = {
        "number": one.number, "before": before, "leaf": one.mark, "told": one.told, "slot": one.place, "source": one.source,
        "edge": one.edge, "amount": one.amount, "gap": one.gap, "trimmed": one.trimmed, "spare": "", "keeps": one.keeps}
    if recut is not None:
        yield Task(f"mend_cut:{one.number}", Station.C, marks, sheets, after,
                   values | {"board": one.remedy is Remedy.BOARD, "spare": recut.spare, "lines": len(recut.board.cuts)},
                   cuts=tuple((recut.board.mark, cut.number) for cut in recut.board.cuts))
    elif one.remedy is Remedy.PACKER:
        length = math.dist(*plan.parts.by_mark[one.leaf].edge(one.edge))
        hours = plan.description.repair.glue_hold
        yield Task(f"mend_glue:{one.number}", Station.C, marks, sheets, after, values | {"lines": 2, "cut": 2 * length})
        yield Task(f"mend_set:{one.number}", Station.C, marks, sheets, (f"mend_glue:{one.number}",),
                   values | {"wait": hours}, hold=True)
    elif one.remedy in (Remedy.PARTNER, Remedy.ALL):
        yield Task(f"mend_trim:{one.number}", Station.C, marks, sheets, after,
                   values | {"lines": len(one.trimmed), "cut": sum(_trimmed(plan, mark, one.edge) for mark in one.trimmed)})
    else:
        yield Task(f"mend_{one.remedy}:{one.number}", Station.C, marks, sheets, after, values)


def _trimmed(plan: Plan, mark: str, edge: str) -> float:
    """Length of the trim on a leaf, mm: along its corner edge, or along the hip of a roof leaf."""
    leaf = plan.assembly.by_mark[mark]
    return math.dist(*leaf.edge(edge if edge in leaf.edges else "hip"))
