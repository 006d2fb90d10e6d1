"""Tasks at the edges: sill strips, doors and jambs, openings, bare edges (stations E, and R above a door)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packet.assembly.records import Leaf, Opening, SeamKind
from packet.boards.records import CutKind
from packet.plan import Plan
from packet.tape.strips import Role
from packet.work.bench import cut_keys
from packet.work.hinging import hinge_keys, relief_on, slit_counts, with_foil
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import CutKey, Task


def edging_tasks(plan: Plan) -> Iterator[Task]:
    """Sills half by half; then doors, jambs and what is above them; openings; bare edges."""
    for half in plan.assembly.halves:
        yield from _sills(plan, half)
    for finish in (_door, _jamb, _above_door):
        yield from (finish(plan, door) for door in plan.assembly.doors)
    yield from _openings(plan)
    yield from _edges(plan)


def _sills(plan: Plan, half: str) -> Iterator[Task]:
    by_mark = plan.assembly.by_mark
    doors = tuple(door.mark for door in plan.assembly.doors if door.half == half)
    for strip in plan.strips:
        if strip.role is not Role.SILL or by_mark[strip.leaves[0]].half != half:
            continue
        cuts = relief_on(plan, (strip.mark,))
        yield Task(
            f"sill:{strip.leaves[0]}-{strip.leaves[-1]}", Station.E, strip.leaves,
            (sheet_number("recipe.sill"), *((sheet_number("relief"),) if cuts else ())),
            hinge_keys(plan, half, SeamKind.WALL_MID, SeamKind.CORNER, SeamKind.SEAM),
            {"half": half, "doors": doors, "slits": slit_counts(cuts)},
            strips=with_foil(plan, (strip,)))


def sill_keys(plan: Plan, half: str) -> tuple[str, ...]:
    return tuple(task.key for task in _sills(plan, half))


def seals_of(plan: Plan, leaf: Leaf) -> tuple[str, ...]:
    """Seal strips along a leaf's edges, its cut tip aside: that is sealed in the erected shelter."""
    return tuple(strip.mark for strip in plan.strips
                 if strip.role is Role.SEAL and strip.edge in {f"{leaf.mark} {name}" for name in leaf.edges}
                 and strip.edge != f"{leaf.mark} tip")


def _opening_seals(plan: Plan, leaf: Leaf) -> tuple[str, ...]:
    edges = {f"{leaf.mark} {name}" for name in leaf.edges}
    return tuple(strip.mark for strip in plan.strips
                 if strip.role is Role.SEAL and strip.leaves == (leaf.mark,) and strip.edge not in edges)


def _openings(plan: Plan) -> Iterator[Task]:
    """Openings are cut and sealed when the hinges of their leaf are made."""
    for leaf in plan.assembly.leaves:
        if leaf.openings:
            yield Task(f"opening:{leaf.mark}", Station.E, (leaf.mark,), (sheet_number("openings"),),
                       hinge_keys(plan, leaf.half),
                       {"leaf": leaf.mark, "openings": tuple(_placed(leaf, opening) for opening in leaf.openings)},
                       strips=_opening_seals(plan, leaf))


def bare_keys(plan: Plan, half: str) -> tuple[str, ...]:
    """Keys of the tasks on openings and bare edges of a half."""
    by_mark = plan.assembly.by_mark
    return tuple(task.key for task in (*_openings(plan), *_edges(plan)) if by_mark[task.marks[0]].half == half)


def _placed(leaf: Leaf, opening: Opening) -> dict[str, Any]:
    """An opening by size and by its centre from the two edges through the leaf's origin, mm."""
    return {"kind": opening.kind, "round": opening.round, "width": opening.width, "height": opening.height,
            "across": abs(opening.x), "up": opening.y,
            "side": _edge_on(leaf, 0), "foot": _edge_on(leaf, 1)}


def _edge_on(leaf: Leaf, axis: int) -> str:
    """Name of the edge along which that coordinate is zero; empty where none is."""
    return next((name for name in leaf.edges if all(abs(point[axis]) < 0.5 for point in leaf.edge(name))), "")


def _edges(plan: Plan) -> Iterator[Task]:
    """Bare edges of leaves that are neither door, jamb nor over a door."""
    assembly = plan.assembly
    apart = {leaf.mark for door in assembly.doors for leaf in (door, assembly.jamb_of(door), assembly.above(door))}
    for half in assembly.halves:
        bare = {leaf.mark: found for leaf in assembly.leaves
                if leaf.half == half and leaf.mark not in apart and (found := seals_of(plan, leaf))}
        if bare:
            edges = {strip.mark: strip.edge for strip in plan.strips}
            laid = tuple(mark for found in bare.values() for mark in found)
            cuts = relief_on(plan, laid)
            named = tuple((mark, tuple(str(edges[strip]).removeprefix(f"{mark} ") for strip in found))
                          for mark, found in bare.items())
            yield Task(f"seal_edges:{half}", Station.E, tuple(bare), (sheet_number("relief"),) if cuts else (),
                       hinge_keys(plan, half), {"half": half, "edges": named, "slits": slit_counts(cuts)}, strips=laid)


def _door(plan: Plan, door: Leaf) -> Task:
    trims: tuple[CutKey, ...] = tuple(
        (board.mark, cut.number) for board in plan.boards for cut in board.cuts
        if cut.kind is CutKind.DOOR and door.mark in {plan.owners[mark] for mark in cut.leaves})
    return Task(
        f"door:{door.mark}", Station.E, (door.mark,), (sheet_number("door"),),
        (*hinge_keys(plan, door.half, SeamKind.WALL_MID), *cut_keys(plan)), {"door": door.mark},
        strips=seals_of(plan, door), cuts=trims)


def _jamb(plan: Plan, door: Leaf) -> Task:
    jamb = plan.assembly.jamb_of(door)
    return Task(
        f"jamb:{jamb.mark}", Station.E, (jamb.mark,), (sheet_number("door"),),
        hinge_keys(plan, jamb.half, SeamKind.WALL_MID), {"jamb": jamb.mark, "door": door.mark},
        strips=seals_of(plan, jamb))


def _above_door(plan: Plan, door: Leaf) -> Task:
    roof = plan.assembly.above(door)
    return Task(
        f"above_door:{roof.mark}", Station.R, (roof.mark,), (sheet_number("roof"),),
        hinge_keys(plan, roof.half, SeamKind.GORE_MID), {"roof": roof.mark, "door": door.mark},
        strips=seals_of(plan, roof))
