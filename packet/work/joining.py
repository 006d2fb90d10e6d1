"""Tasks on the whole shelter: fold, join, erect, finish, strike, sign (stations J, X, L)."""

from __future__ import annotations

from collections.abc import Iterator

from packet.assembly.records import LeafKind, Seam, SeamKind
from packet.plan import Plan
from packet.tape.strips import Role, door_hinge
from packet.work.hinging import in_half, leaves_of, of_seams, with_foil
from packet.work.limits import apex_limit, flats_limit
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task


def whole_tasks(plan: Plan) -> Iterator[Task]:
    """From the first fold of a half to the lead's inspection."""
    for half in plan.assembly.halves:
        yield _fold(plan, half)
    yield _interlock(plan)
    hips = tuple(_hips(plan))
    yield from hips
    yield _erect(plan, hips[-1].key)
    yield from _finish(plan)


def _fold(plan: Plan, half: str) -> Task:
    walls = in_half(plan, half, SeamKind.WALL_MID, SeamKind.CORNER)
    place = {leaf.mark: index for index, leaf in enumerate(plan.assembly.of_kind(LeafKind.WALL))}
    chain = sorted(walls, key=lambda seam: place[seam.leaves[0]])
    columns = [[mark for mark in column if plan.assembly.by_mark[mark].half == half]
               for column in plan.pack.columns]
    layers = max(len(column) for column in columns)
    return Task(
        f"fold:{half}", Station.J, leaves_of(walls), (sheet_number("fold"),), (f"relief:{half}",),
        {"half": half, "order": tuple(seam.mark for seam in chain if seam.angle_packed == 0.0),
         "flat": tuple(seam.mark for seam in chain if seam.angle_packed != 0.0), "layers": layers,
         "stack": layers * plan.geometry.thickness}, hold=True)


def _interlock(plan: Plan) -> Task:
    """The last wall leaf of each half lies in the other half's column."""
    pack, by_mark = plan.pack, plan.assembly.by_mark
    low, high = pack.columns[0], pack.columns[1]
    return Task(
        "interlock", Station.J, (), (sheet_number("fold"),),
        tuple(f"fold:{half}" for half in plan.assembly.halves),
        {"columns": pack.columns, "lower": by_mark[low[0]].half, "upper": by_mark[high[-1]].half,
         "under": low[0], "over": high[-1], "stack_over": low[1:], "stack_under": high[:-1],
         "pack": (pack.width, pack.length, pack.thickness)}, hold=True)


def _hips(plan: Plan) -> Iterator[Task]:
    """Hips by the two layers they join, top pair first; the last pair after the pack is turned over."""
    pairs: dict[tuple[int, int], list[Seam]] = {}
    for seam in plan.assembly.bonded(SeamKind.HIP):
        lower, upper = sorted(plan.pack.flats[mark].layer for mark in seam.leaves)
        pairs.setdefault((upper, lower), []).append(seam)
    previous = "interlock"
    ordered = sorted(pairs, reverse=True)
    for upper, lower in ordered:
        seams = pairs[upper, lower]
        key = f"hips:{upper}-{lower}"
        yield Task(
            key, Station.J, leaves_of(seams), (sheet_number("recipe.hip"), sheet_number("fold")), (previous,),
            {"upper": upper, "lower": lower, "seams": tuple(seam.mark for seam in seams),
             "turned": len(ordered) > 1 and (upper, lower) == ordered[-1]},
            strips=with_foil(plan, of_seams(plan, seams, Role.WRAP)))
        previous = key


def _erect(plan: Plan, after: str) -> Task:
    return Task(
        "erect", Station.X, (), (sheet_number("erect"), sheet_number("arrangement")), (after,),
        {"apex_limit": apex_limit(plan), "flats_limit": flats_limit(plan)}, hold=True)


def _finish(plan: Plan) -> Iterator[Task]:
    hips = plan.assembly.bonded(SeamKind.HIP)
    flats = of_seams(plan, hips, Role.FLAT)
    sheet = sheet_number("erect")
    yield Task("hip_flats", Station.X, leaves_of(hips), (sheet_number("recipe.hip"), sheet), ("erect",),
               {"count": len(hips), "length": flats[0].length}, strips=tuple(strip.mark for strip in flats))
    yield _patches(plan)
    for door in plan.assembly.doors:
        hinge = door_hinge(plan.assembly, door)
        laid = of_seams(plan, (hinge,), Role.DOUBLER)
        yield Task(f"doubler:{door.mark}", Station.X, hinge.leaves, (sheet_number("door"),), ("erect",),
                   {"door": door.mark, "seam": hinge.mark}, strips=with_foil(plan, laid))
    yield _strike(plan)
    yield Task("inspect", Station.L, (), (sheet_number("cautions"), sheet_number("arrangement")), ("strike",))


def _patches(plan: Plan) -> Task:
    patches = [strip for strip in plan.strips if strip.role is Role.PATCH]
    tips = tuple(strip.mark for strip in plan.strips
                 if strip.role is Role.SEAL and any(strip.edge == f"{mark} tip" for mark in strip.leaves))
    free = tuple(seam for seam in plan.assembly.seams if seam.kind is SeamKind.CORNER and not seam.bonded)
    by_corner = {strip.edge: strip.leaves for strip in patches}
    return Task(
        "patches", Station.X, tuple(dict.fromkeys(mark for strip in patches for mark in strip.leaves)),
        (sheet_number("erect"),), ("hip_flats",),
        {"count": len(patches), "size": patches[0].width, "tips": len(tips),
         "door_corners": tuple((seam.mark, by_corner[f"corner {seam.mark}"]) for seam in free)},
        strips=(*(strip.mark for strip in patches), *tips))


def _strike(plan: Plan) -> Task:
    """Where to press: walls that fold, without a door and without a jamb."""
    doors = {door.mark for door in plan.assembly.doors}
    press = tuple(seam.mark for seam in plan.assembly.bonded(SeamKind.WALL_MID)
                  if seam.angle_packed == 0.0 and not doors & set(seam.leaves))
    after = ("patches", *(f"doubler:{door.mark}" for door in plan.assembly.doors))
    pack = plan.pack
    return Task("strike", Station.X, tuple(sorted(doors)), (sheet_number("erect"), sheet_number("fold")), after,
                {"doors": tuple(sorted(doors)), "press": press, "pack": (pack.width, pack.length, pack.thickness)})
