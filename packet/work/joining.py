"""Tasks on the whole shelter: fold, join, erect, finish, strike, sign (stations J, X, L)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packet.assembly.records import LeafKind, Seam, SeamKind, overall, seam_gap
from packet.assembly.views import opening_height
from packet.description.terms import Face
from packet.plan import Plan
from packet.tape.strips import Role, door_hinge
from packet.work.hinging import in_half, leaves_of, of_seams, with_foil
from packet.work.limits import apex_limit, flats_limit, overall_limits
from packet.work.roofing import table_keys
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task


def whole_tasks(plan: Plan) -> Iterator[Task]:
    """From the first fold of a half, or of the whole, to the lead's inspection."""
    for half in plan.assembly.halves:
        yield _fold(plan, half)
    ready = tuple(f"fold:{half}" for half in plan.assembly.halves)
    if len(plan.assembly.halves) > 1:
        joined = _interlock(plan, ready)
        yield joined
        ready = (joined.key,)
    for task in _hips(plan, ready):
        yield task
        ready = (task.key,)
    yield _erect(plan, ready)
    yield from _finish(plan)


def _fold(plan: Plan, half: str) -> Task:
    """The seams fold in the order of the leaves they start from."""
    seams = in_half(plan, half, SeamKind.WALL_MID, SeamKind.CORNER, SeamKind.SEAM)
    place = {leaf.mark: index for index, leaf in enumerate(plan.assembly.of_kind(LeafKind.WALL))}
    chain = sorted(seams, key=lambda seam: min(place[mark] for mark in seam.leaves))
    layers = {plan.pack.flats[leaf.mark].layer for leaf in plan.assembly.leaves if leaf.half == half}
    return Task(
        f"fold:{half}", Station.J, leaves_of(seams), (sheet_number("fold"),), table_keys(plan, half),
        {"half": half, "order": tuple(seam.mark for seam in chain if seam.angle_packed == 0.0),
         "flat": tuple(seam.mark for seam in chain if seam.angle_packed != 0.0), "layers": len(layers),
         "stack": len(layers) * plan.assembly.thickness, "closing": _closing(chain)}, hold=True)


def _closing(seams: list[Seam]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Face that closes, with the folded seams of no named kind for which it does."""
    folded = [seam for seam in seams if seam.kind is SeamKind.SEAM and seam.angle_packed == 0.0]
    return tuple((str(face), tuple(seam.mark for seam in folded if seam.closing_face is face))
                 for face in dict.fromkeys(seam.closing_face for seam in folded))


def _interlock(plan: Plan, after: tuple[str, ...]) -> Task:
    """Two columns: the last wall leaf of each half lies in the other half's column. One: stack on stack."""
    pack, by_mark = plan.pack, plan.assembly.by_mark
    low, high = pack.columns[0], pack.columns[-1]
    lower, upper = by_mark[low[0]].half, by_mark[high[-1]].half
    values: dict[str, Any] = {"columns": pack.columns, "lower": lower, "upper": upper,
                              "pack": (pack.width, pack.length, pack.thickness)}
    if len(pack.columns) > 1:
        values |= {"under": low[0], "over": high[-1], "stack_over": low[1:], "stack_under": high[:-1]}
    else:
        values |= {"below": tuple(mark for mark in low if by_mark[mark].half == lower),
                   "above": tuple(mark for mark in low if by_mark[mark].half == upper)}
    return Task("interlock", Station.J, (), (sheet_number("fold"),), after, values, hold=True)


def _hips(plan: Plan, after: tuple[str, ...]) -> Iterator[Task]:
    """Hips by the two layers they join, top pair first; a pair that lies lowest after the pack is turned over."""
    pairs: dict[tuple[int, int], list[Seam]] = {}
    for seam in plan.assembly.bonded(SeamKind.HIP):
        lower, upper = sorted(plan.pack.flats[mark].layer for mark in seam.leaves)
        pairs.setdefault((upper, lower), []).append(seam)
    ordered = sorted(pairs, reverse=True)
    for upper, lower in ordered:
        seams = pairs[upper, lower]
        key = f"hips:{upper}-{lower}"
        yield Task(
            key, Station.J, leaves_of(seams), (sheet_number("recipe.hip"), sheet_number("fold")), after,
            {"upper": upper, "lower": lower, "seams": tuple(seam.mark for seam in seams),
             "turned": len(ordered) > 1 and lower == 1},
            strips=with_foil(plan, of_seams(plan, seams, Role.WRAP)))
        after = (key,)


def _erect(plan: Plan, after: tuple[str, ...]) -> Task:
    values: dict[str, Any] = {"removable": removable(plan)}
    if plan.ring is not None:
        values |= {"rim": opening_height(plan.assembly, Face.INNER), "apex_limit": apex_limit(plan),
                   "flats_limit": flats_limit(plan)}
    else:
        angles: dict[float, list[str]] = {}
        for seam in plan.assembly.seams:
            angles.setdefault(round(seam.angle_open, 3), []).append(seam.mark)
        gaps: dict[Face, dict[float, list[str]]] = {}
        for seam in plan.assembly.bonded():
            gap = round(seam_gap(plan.assembly.thickness, seam.angle_open), 3)
            if gap:
                gaps.setdefault(seam.opening_face, {}).setdefault(gap, []).append(seam.mark)
        values |= {
            "angles": tuple((angle, tuple(marks)) for angle, marks in angles.items()),
            "gaps": tuple((str(face), tuple((gap, tuple(marks)) for gap, marks in found.items()))
                          for face, found in gaps.items()),
            "over_all": tuple(zip(overall(plan.assembly), overall_limits(plan), strict=True))}
    return Task("erect", Station.X, (), (sheet_number("erect"), sheet_number("arrangement")), after, values, hold=True)


def removable(plan: Plan) -> tuple[str, ...]:
    """Seams closed with a strip that comes off again."""
    return tuple(seam.mark for seam in plan.assembly.seams if seam.removable)


def _finish(plan: Plan) -> Iterator[Task]:
    done = ["erect"]
    for task in (*_hip_flats(plan), *_releasable(plan), *_patches(plan), *_door_doublers(plan)):
        done.append(task.key)
        yield task
    yield _strike(plan, tuple(done))
    yield Task("inspect", Station.L, (), (sheet_number("inspection"), sheet_number("cautions"), sheet_number("arrangement")),
               ("strike",))


def _hip_flats(plan: Plan) -> Iterator[Task]:
    hips = plan.assembly.bonded(SeamKind.HIP)
    flats = of_seams(plan, hips, Role.FLAT)
    if flats:
        yield Task("hip_flats", Station.X, leaves_of(hips), (sheet_number("recipe.hip"), sheet_number("erect")),
                   ("erect",), {"count": len(hips), "length": flats[0].length},
                   strips=tuple(strip.mark for strip in flats))


def _releasable(plan: Plan) -> Iterator[Task]:
    """The last to be closed, with a strip that is taken off before folding and so is no part of the shelter."""
    for seam in plan.assembly.seams:
        if seam.removable:
            yield Task(f"release:{seam.mark}", Station.X, seam.leaves,
                       (sheet_number("recipe.release"), sheet_number("erect")), ("hip_flats",),
                       {"seam": seam.mark, "length": seam.length})


def _door_doublers(plan: Plan) -> Iterator[Task]:
    for door in plan.assembly.doors:
        hinge = door_hinge(plan.assembly, door)
        laid = of_seams(plan, (hinge,), Role.DOUBLER)
        yield Task(f"doubler:{door.mark}", Station.X, hinge.leaves, (sheet_number("door"),), ("erect",),
                   {"door": door.mark, "seam": hinge.mark}, strips=with_foil(plan, laid))


def _patches(plan: Plan) -> Iterator[Task]:
    patches = [strip for strip in plan.strips if strip.role is Role.PATCH]
    tips = tuple(strip.mark for strip in plan.strips
                 if strip.role is Role.SEAL and any(strip.edge == f"{mark} tip" for mark in strip.leaves))
    if not patches:
        return
    free = tuple(seam for seam in plan.assembly.seams if seam.kind is SeamKind.CORNER and not seam.bonded)
    by_corner = {strip.edge: strip.leaves for strip in patches}
    yield Task(
        "patches", Station.X, tuple(dict.fromkeys(mark for strip in patches for mark in strip.leaves)),
        (sheet_number("erect"),), ("hip_flats",),
        {"count": len(patches), "size": patches[0].width, "tips": len(tips),
         "door_corners": tuple((seam.mark, by_corner[f"corner {seam.mark}"]) for seam in free
                               if f"corner {seam.mark}" in by_corner)},
        strips=(*(strip.mark for strip in patches), *tips))


def _strike(plan: Plan, after: tuple[str, ...]) -> Task:
    """Where to press: walls that fold, without a door and without a jamb."""
    assembly, pack = plan.assembly, plan.pack
    doors = {door.mark for door in assembly.doors}
    barred = doors | {assembly.jamb_of(door).mark for door in assembly.doors}
    press = tuple(seam.mark for seam in assembly.bonded(SeamKind.WALL_MID)
                  if seam.angle_packed == 0.0 and not barred & set(seam.leaves))
    return Task("strike", Station.X, tuple(sorted(doors)), (sheet_number("erect"), sheet_number("fold")), after,
                {"doors": tuple(sorted(doors)), "press": press, "removable": removable(plan),
                 "shut": tuple(seam.mark for seam in assembly.bonded() if seam.angle_packed == 0.0),
                 "flat": tuple(seam.mark for seam in assembly.bonded() if seam.angle_packed != 0.0),
                 "pack": (pack.width, pack.length, pack.thickness)})
