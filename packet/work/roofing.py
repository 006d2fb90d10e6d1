"""Tasks that join the roof to the walls of a half, and the count of all relief cuts (station R)."""

from __future__ import annotations

from collections.abc import Iterator

from packet.assembly.records import SeamKind
from packet.plan import Plan
from packet.tape.relief import ReliefCut
from packet.tape.strips import Role
from packet.work.edging import bare_keys, sill_keys
from packet.work.hinging import hinge_keys, in_half, leaves_of, of_seams, relief_on, slit_counts, with_foil
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task


def roofing_tasks(plan: Plan) -> Iterator[Task]:
    """Step by step, so that both halves are done alike; nothing where there is neither roof nor slit."""
    for step in (_roof, _eave_outer, _relief_hold):
        for half in plan.assembly.halves:
            yield from step(plan, half)


def _roof(plan: Plan, half: str) -> Iterator[Task]:
    doors = tuple(door for door in plan.assembly.doors if door.half == half)
    jambs = tuple(plan.assembly.jamb_of(door) for door in plan.assembly.doors)
    eaves = in_half(plan, half, SeamKind.EAVE)
    if not eaves:
        return
    flats = of_seams(plan, eaves, Role.FLAT)
    laid = tuple(strip.mark for strip in flats)
    after = (
        *hinge_keys(plan, half), *sill_keys(plan, half),
        *(f"door:{door.mark}" for door in doors), *(f"jamb:{leaf.mark}" for leaf in jambs if leaf.half == half),
        *(f"above_door:{plan.assembly.above(door).mark}" for door in doors),
    )
    yield Task(
        f"roof:{half}", Station.R, leaves_of(eaves), (sheet_number("roof"), sheet_number("relief")), after,
        {"half": half, "doors": tuple(door.mark for door in doors), "slits": slit_counts(relief_on(plan, laid))},
        strips=laid)


def _eave_outer(plan: Plan, half: str) -> Iterator[Task]:
    eaves = in_half(plan, half, SeamKind.EAVE)
    if not eaves:
        return
    wraps = of_seams(plan, eaves, Role.WRAP)
    laid = with_foil(plan, wraps)
    yield Task(
        f"eave_outer:{half}", Station.R, leaves_of(eaves), (sheet_number("recipe.eave"), sheet_number("relief")),
        (f"roof:{half}",), {"half": half, "slits": slit_counts(relief_on(plan, laid))},
        strips=laid)


def _relief_hold(plan: Plan, half: str) -> Iterator[Task]:
    """Every slit of a half, counted before anything is folded."""
    by_mark = plan.assembly.by_mark
    cuts = [cut for cut in plan.relief if by_mark[cut.between[0]].half == half]
    if not cuts:
        return
    faces = {strip.mark: strip.faces for strip in plan.strips}
    where: dict[str, list[ReliefCut]] = {}
    for cut in cuts:
        side = "" if len(faces[cut.strip]) > 1 else f" {faces[cut.strip][0]}"
        where.setdefault(f"{cut.along}{side}", []).append(cut)
    groups = tuple((name, slit_counts(found)) for name, found in where.items())
    eaves = bool(in_half(plan, half, SeamKind.EAVE))
    seals = {strip.mark for strip in plan.strips if strip.role is Role.SEAL}
    sealed = bare_keys(plan, half) if any(cut.strip in seals for cut in cuts) else ()
    yield Task(
        f"relief:{half}", Station.R if eaves else Station.E,
        tuple(dict.fromkeys(mark for cut in cuts for mark in cut.between)), (sheet_number("relief"),),
        ((f"eave_outer:{half}",) if eaves else (*hinge_keys(plan, half), *sill_keys(plan, half))) + sealed,
        {"half": half, "groups": groups, "total": len(cuts)}, hold=True)


def table_keys(plan: Plan, half: str) -> tuple[str, ...]:
    """Keys of the tasks after which a half is ready to be folded for the first time."""
    ready = [task.key for step in (_eave_outer, _relief_hold) for task in step(plan, half)]
    return (*(ready[-1:] or (*hinge_keys(plan, half), *sill_keys(plan, half))), *bare_keys(plan, half))
