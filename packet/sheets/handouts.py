"""The packet taken apart by stations: each table's own pages, with their serials of the whole packet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from packet.drawing.page import FinishedSheet
from packet.plan import Plan
from packet.sheets.checklist import stations_on
from packet.sheets.kit import Kit
from packet.work.handouts import needs, place_of
from packet.work.mending import mending_tasks
from packet.work.sheet_numbers import binding_order, sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks


def handouts(plan: Plan, kit: Kit, packet: Sequence[FinishedSheet]) -> dict[Station, tuple[FinishedSheet, ...]]:
    """The pages of every station that has any. First its card, then its pages of the checklist, then the sheets it
    works by as they are bound, and its table tent last. The lead has every page that is no one else's as well.

    Links that would lead out of a handout are left out of it.
    """
    work = tasks(plan)
    added = mending_tasks(plan)
    looked_at = {**needs(plan, (*work, *added)),
                 place_of(sheet_number("added")): frozenset(task.station for task in added)}
    listed = stations_on(plan, kit)
    found: dict[Station, list[FinishedSheet]] = {}
    for sheet in packet:
        for station in {Station(sheet.number[0]), *looked_at.get(place_of(sheet.number), ()),
                        *listed.get(sheet.number, ())}:
            found.setdefault(station, []).append(sheet)
    return {station: _bound(found[station], station) for station in Station if station in found}


def _bound(sheets: Sequence[FinishedSheet], station: Station) -> tuple[FinishedSheet, ...]:
    card, tent = (place_of(sheet_number(f"{name}.{station}")) for name in ("passing", "tent"))

    def turn(sheet: FinishedSheet) -> tuple[int, tuple[int, int, str]]:
        place = place_of(sheet.number)
        return {card: 0, tent: 2}.get(place, 1), binding_order(sheet.number)

    inside = {sheet.number for sheet in sheets}
    return tuple(replace(sheet, links=tuple(link for link in sheet.links if link.target in inside))
                 for sheet in sorted(sheets, key=turn))
