"""All work, from the briefing to the inspection, derived from the graph."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from packet.plan import Plan
from packet.work.bench import bench_tasks
from packet.work.edging import edging_tasks
from packet.work.hinging import hinging_tasks, relief_on
from packet.work.joining import whole_tasks
from packet.work.order import in_order
from packet.work.roofing import roofing_tasks
from packet.work.task import Task


@lru_cache(maxsize=2)  # many sheets ask
def tasks(plan: Plan) -> tuple[Task, ...]:
    """Every task in the order of the checklist; each strip, cut and slit is in exactly one of them."""
    work = (*bench_tasks(plan), *hinging_tasks(plan), *edging_tasks(plan), *roofing_tasks(plan), *whole_tasks(plan))
    return in_order(tuple(replace(task, relief=relief_on(plan, task.strips)) for task in work))
