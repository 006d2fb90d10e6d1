"""One task of the work: what a person ticks off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from packet.tape.relief import ReliefCut
from packet.work.stations import Station

CutKey = tuple[str, int]
"""A cut on a board: (board mark, cut number)."""


ONCE = ("brief", "print_check", "materials", "receive", "mark", "cut", "first_pieces", "keep", "first_hinge")
"""Steps that are done once for the whole order; every other one is done for each set of it, but what answers a spoiled
part."""


@dataclass(frozen=True, slots=True)
class Task:
    """One line of the checklist, or one hold point.

    `key` is `step:what`; the words of `step` are in `templates/en/steps.yaml`. `marks` are the parts
    touched, `sheets` the sheet numbers to look at, `values` what the sentences ask for beyond the
    figures of the shelter (mm, degrees, marks). `after` holds the keys of the tasks that must be done
    before. `strips` (marks) and `cuts` say which tape is laid and what is cut in this task, `relief` what is slit in its
    strips (filled in for all tasks at once).
    """

    key: str
    station: Station
    marks: tuple[str, ...]
    sheets: tuple[str, ...]
    after: tuple[str, ...]
    values: Mapping[str, Any] = field(default_factory=dict)
    hold: bool = False
    strips: tuple[str, ...] = ()
    cuts: tuple[CutKey, ...] = ()
    relief: tuple[ReliefCut, ...] = ()

    @property
    def step(self) -> str:
        """The key of the task's words."""
        return self.key.partition(":")[0]

    @property
    def each_set(self) -> bool:
        """Whether it is done again for every set of the order."""
        return self.step not in ONCE and "told" not in self.values
