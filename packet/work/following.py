"""Which sheet is taken up when a sheet is done: the next one that the work asks for."""

from __future__ import annotations

from bisect import bisect_right

from packet.plan import Plan
from packet.work.sheet_numbers import binding_order
from packet.work.tasks import tasks


class Following:
    """The sheets that tasks point to, in the order they are bound: station by station."""

    def __init__(self, plan: Plan) -> None:
        self._worked = sorted({sheet for task in tasks(plan) for sheet in task.sheets}, key=binding_order)

    def after(self, number: str) -> str:
        """The number of the next sheet the work asks for, or an empty text after the last one.

        Further pages of one sheet (`C-4B`) are passed over: the next sheet is another one.
        """
        place = bisect_right(self._worked, binding_order(number)[:2], key=lambda other: binding_order(other)[:2])
        return self._worked[place] if place < len(self._worked) else ""
