"""Which station needs which sheet: its own, those its tasks look at, and what guards its people and its tape."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from packet.plan import Plan
from packet.work.effort import efforts
from packet.work.sheet_numbers import binding_order, sheet_number
from packet.work.stations import Station
from packet.work.task import Task

Place = tuple[int, int]
"""Series and count of a sheet: the same for all its pages."""


def place_of(number: str) -> Place:
    series, count, _ = binding_order(number)
    return series, count


def needs(plan: Plan, work: Iterable[Task]) -> Mapping[Place, frozenset[Station]]:
    """Stations by the sheet that their tasks look at; taping weather goes to every table where tape is laid."""
    found: dict[Place, set[Station]] = {}
    for effort in efforts(plan, work):
        looked_at = list(effort.task.sheets)
        if effort.tape:
            looked_at.append(sheet_number("weather"))
        for number in looked_at:
            found.setdefault(place_of(number), set()).add(effort.task.station)
    return {place: frozenset(stations) for place, stations in found.items()}


def station_named(text: str) -> Station | None:
    """The station of a letter or a word, `C` or `cut`, in any case."""
    wanted = text.strip().lower()
    return next((station for station in Station if wanted in (str(station).lower(), station.word.lower())), None)
