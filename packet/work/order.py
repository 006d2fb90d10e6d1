"""The order of the work: every task after what it waits for, station by station as far as that allows."""

from __future__ import annotations

from collections.abc import Iterable

from packet.work.stations import Station
from packet.work.task import Task


def in_order(found: Iterable[Task]) -> tuple[Task, ...]:
    """A topological order by `Task.after`, the same for the same input.

    A station keeps the work as long as one of its tasks is ready; then the work passes to the first
    station, in the order of Station, that has a ready one. Tasks of a station keep their given order.
    Raises ValueError when two tasks share a key, when a task waits for one that is not there, and
    when tasks wait for each other in a circle.
    """
    waiting = _by_key(found)
    stations = list(Station)
    done: dict[str, Task] = {}
    here: Station | None = None
    while waiting:
        ready = [task for task in waiting.values() if all(key in done for key in task.after)]
        if not ready:
            raise ValueError(f"these tasks wait for each other: {', '.join(_circle(waiting))}")
        if all(task.station is not here for task in ready):
            here = min((task.station for task in ready), key=stations.index)
        task = next(task for task in ready if task.station is here)
        done[task.key] = waiting.pop(task.key)
    return tuple(done.values())


def _by_key(found: Iterable[Task]) -> dict[str, Task]:
    tasks: dict[str, Task] = {}
    for task in found:
        if task.key in tasks:
            raise ValueError(f"two tasks are called {task.key}")
        tasks[task.key] = task
    for task in tasks.values():
        missing = [key for key in task.after if key not in tasks]
        if missing:
            raise ValueError(f"{task.key} waits for {missing[0]}, which is no task")
    return tasks


def _circle(waiting: dict[str, Task]) -> list[str]:
    """The keys of one circle: from any waiting task, back along what it waits for until a key repeats."""
    path = [next(iter(waiting))]
    while True:
        before = next(key for key in waiting[path[-1]].after if key in waiting)
        if before in path:
            return path[path.index(before):]
        path.append(before)
