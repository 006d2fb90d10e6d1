"""What each task takes: hands, quantities, minutes at the project's rates. Derived from the graph, never listed.

Which rate counts for which step is this module's rule; how fast anyone works is an assumption of the project file
(`rates:`), overridden there or learned from the times that were written down.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from packet.description.crew_values import Rates
from packet.plan import Plan
from packet.tape.strips import Role
from packet.work.network import Job
from packet.work.stations import Station
from packet.work.task import Task


class Work(StrEnum):
    """Kinds of work; each has a rate of the same name."""

    CUT = "cut"
    STRIP = "strip"
    FOIL = "foil"
    LINE = "line"
    SLIT = "slit"
    PIECE = "piece"
    BOARD = "board"
    FOLD = "fold"
    CHECK = "check"
    HOLE = "hole"
    TALK = "talk"


LENGTHS = (Work.CUT, Work.STRIP, Work.FOIL)
"""Counted in mm, with rates in mm a minute; the others are counted, with rates in minutes for one."""

Quantities = Mapping[Work, float]


@dataclass(frozen=True, slots=True)
class Effort:
    """A task with the hands it takes, whether the lead is there, its quantities and its minutes."""

    task: Task
    hands: int
    lead: bool
    quantities: Quantities
    minutes: float
    waits: float = 0.0
    """Minutes on the clock, day and night, that must pass after what it waits for before it begins: glue sets."""

    @property
    def tape(self) -> bool:
        """Whether tape is laid, so that rain and cold stop it."""
        return any(work in self.quantities for work in (Work.STRIP, Work.FOIL))

    @property
    def job(self) -> Job:
        return Job(self.task.key, self.minutes, (self.waiting,) if self.waits else self.task.after)

    @property
    def waiting(self) -> str:
        """The key of the time that passes before it."""
        return f"{self.task.key} waits"


AT_A_TABLE = 2
"""Pairs of hands at a table: one works, one holds. Boards are carried by two, for the wind (common practice)."""


def efforts(plan: Plan, work: Iterable[Task], rates: Rates | None = None) -> tuple[Effort, ...]:
    """The effort of every task, in the same order, at these rates or at the project's."""
    at = rates or plan.description.rates
    found = []
    for task in work:
        quantities = _quantities(plan, task)
        found.append(Effort(task, _hands(plan, task), task.hold or task.station is Station.L, quantities,
                            minutes(quantities, at), 60.0 * task.values.get("wait", 0.0)))
    return tuple(found)


def share(effort: Effort, sets: int) -> Effort:
    """What of the effort for all sets falls to one."""
    return replace(effort, quantities={work: amount / sets for work, amount in effort.quantities.items()},
                   minutes=effort.minutes / sets)


def minutes(quantities: Quantities, rates: Rates) -> float:
    """Minutes that the quantities take at the rates."""
    return sum(_minutes(work, amount, rates) for work, amount in quantities.items())


def _minutes(work: Work, amount: float, rates: Rates) -> float:
    rate: float = getattr(rates, work.value)
    return amount / rate if work in LENGTHS else amount * rate


def learned_rates(timed: Iterable[tuple[Effort, float]], rates: Rates) -> Rates:
    """The rates as the times that were taken say: (effort, minutes it really took).

    A task's time is laid to the kind of work that takes most of it. A kind becomes as much faster or slower as its
    tasks were, all together; a kind that was not timed keeps its rate.
    """
    told: dict[Work, tuple[float, float]] = {}
    for effort, took in timed:
        if not effort.quantities or took <= 0:
            continue
        most = max(effort.quantities, key=lambda work: _minutes(work, effort.quantities[work], rates))
        planned, real = told.get(most, (0.0, 0.0))
        told[most] = planned + minutes(effort.quantities, rates), real + took
    changed = {}
    for work, (planned, real) in told.items():
        if planned > 0:
            factor = planned / real if work in LENGTHS else real / planned
            changed[work.value] = getattr(rates, work.value) * factor
    return replace(rates, **changed)


def _hands(plan: Plan, task: Task) -> int:
    """Two at a table; more to steady a half or the whole; none where the lead checks alone."""
    step = task.step
    if step in ("first_pieces", "first_hinge", "relief", "brief", "print_check"):
        return 0
    if step in ("fold", "roof", "eave_outer"):
        leaves = sum(leaf.half == task.values["half"] for leaf in plan.assembly.leaves)
        return _steady(plan, leaves)
    if step in ("interlock", "hips", "erect", "strike", "inspect"):
        return _steady(plan, len(plan.assembly.leaves))
    return AT_A_TABLE


def _steady(plan: Plan, leaves: int) -> int:
    return max(AT_A_TABLE, math.ceil(leaves / plan.description.crew.leaves_to_hand))


def _quantities(plan: Plan, task: Task) -> Quantities:
    """What the task's tape, cuts and slits come to, and what its step adds, for all sets of the order; kinds that come
    to nothing left out."""
    found = dict.fromkeys(Work, 0.0)
    strips = {strip.mark: strip for strip in plan.strips}
    for mark in task.strips:
        strip = strips[mark]
        kind = Work.FOIL if strip.role in (Role.FOIL, Role.SEAL) else Work.STRIP
        found[kind] += strip.length * len(strip.tapes)
    boards = (*plan.boards, *(recut.board for recut in plan.mended.recuts))
    lengths = {(board.mark, cut.number): cut.length for board in boards for cut in board.cuts}
    found[Work.CUT] += sum(lengths[key] for key in task.cuts)
    found[Work.SLIT] += len(task.relief)
    if task.hold:
        found[Work.CHECK] += 1
    if task.step in _MORE:
        for kind, amount in _MORE[task.step](plan, task).items():
            found[kind] += amount
    times = plan.description.quantity if task.each_set else 1
    return {kind: amount * times for kind, amount in found.items() if amount}


def _folds(seams: Iterable[object]) -> Quantities:
    return {Work.FOLD: float(len(tuple(seams)))}


_MORE: dict[str, Callable[[Plan, Task], Quantities]] = {
    "brief": lambda plan, task: {Work.TALK: 1},
    "print_check": lambda plan, task: {Work.CHECK: 1},
    "materials": lambda plan, task: {Work.BOARD: len(plan.boards) + plan.description.boards.spare},
    "receive": lambda plan, task: {Work.BOARD: len(plan.boards) + plan.description.boards.spare},
    "mark": lambda plan, task: {
        Work.LINE: task.values["lines"] * task.values["count"], Work.BOARD: task.values["count"]},
    "cut": lambda plan, task: {Work.BOARD: task.values["count"]},
    "first_pieces": lambda plan, task: {Work.CHECK: len(task.values["some"]) - 1},
    "mend_use": lambda plan, task: {Work.PIECE: 1},
    "mend_slot": lambda plan, task: {Work.PIECE: 2},
    "mend_spare": lambda plan, task: {Work.PIECE: 2},
    "mend_cut": lambda plan, task: {Work.LINE: task.values["lines"], Work.PIECE: 2},
    "mend_glue": lambda plan, task: {Work.LINE: 2, Work.CUT: task.values["cut"], Work.PIECE: 2},
    "mend_trim": lambda plan, task: {Work.LINE: task.values["lines"], Work.CUT: task.values["cut"],
                                     Work.PIECE: len(task.marks)},
    "keep": lambda plan, task: {Work.PIECE: 1 + len(task.values["held"])},
    "sort": lambda plan, task: {Work.PIECE: len(task.marks)},
    "splice": lambda plan, task: {Work.PIECE: len(task.marks), Work.CHECK: task.values["count"]},
    "surface": lambda plan, task: {Work.PIECE: len(plan.assembly.leaves)},
    "door": lambda plan, task: {Work.HOLE: len(plan.assembly.by_mark[task.marks[0]].holes)},
    "jamb": lambda plan, task: {Work.HOLE: len(plan.assembly.by_mark[task.marks[0]].holes)},
    "opening": lambda plan, task: {
        Work.HOLE: len(plan.assembly.by_mark[task.marks[0]].openings),
        Work.CUT: sum(opening.perimeter for opening in plan.assembly.by_mark[task.marks[0]].openings)},
    "roof": lambda plan, task: {Work.PIECE: len(task.marks)},
    "eave_outer": lambda plan, task: {Work.PIECE: 1},
    "hinge_wall_mid": lambda plan, task: _folds(task.values["seams"]),
    "hinge_corner": lambda plan, task: _folds(task.values["seams"]),
    "hinge_gore_mid": lambda plan, task: _folds(task.values["seams"]),
    "hinge_seam": lambda plan, task: _folds(task.values["seams"]),
    "fold": lambda plan, task: _folds(task.values["order"]),
    "interlock": lambda plan, task: {Work.FOLD: 4},
    "hips": lambda plan, task: {Work.FOLD: 1 + task.values["turned"]},
    "erect": lambda plan, task: _folds(plan.assembly.bonded()),
    "release": lambda plan, task: {Work.STRIP: task.values["length"]},
    "strike": lambda plan, task: _folds(task.values["shut"]),
    "inspect": lambda plan, task: {
        **_folds(seam for seam in plan.assembly.bonded() if seam.angle_packed == 0.0), Work.CHECK: 1, Work.TALK: 1},
}
"""What a step takes besides its tape, cuts and slits."""
