"""What the graph says a project has, so that words and sheets speak of that and of nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from packet.assembly.records import Assembly, LeafKind, SeamKind, overall
from packet.description.terms import Face, Swing
from packet.plan import Plan
from packet.tape.strips import ON_GROUND, Role

TALL = 1000.0
"""mm of height above which wind and hands tip a thing that stands (assumption)."""

CLOSED = 0.8
"""Share of the plan under a lid from which a thing counts as closed (assumption); a shelf covers less."""

LEVEL = 0.95
"""Least upright part of a level leaf's unit normal: within 18 degrees (assumption)."""


@lru_cache(maxsize=2)  # nearly every sheet asks
def facts(plan: Plan) -> dict[str, bool]:
    """Each fact by its name, as templates and `holds` ask for it.

    `enterable`: people can be inside, since it has swing leaves or a roof. `panelled`: one of these is no door, but a
    panel. `covered`: level leaves lie over
    it, as the lid of a box; a shelf is none. `mids`, `corners`, `hips`: it has such hinges. `listed`: it has hinges of no
    such kind. `halved`: it is built as halves that are joined; `columns`: its pack has two or more.
    """
    assembly = plan.assembly
    kinds = {seam.kind for seam in assembly.bonded()}
    roof = bool(assembly.of_kind(LeafKind.ROOF))
    doors = bool(assembly.doors)
    return {
        "doors": doors, "panelled": bool(panels(plan)), "roof": roof, "enterable": doors or roof,
        "covered": not (doors or roof) and _covered(assembly), "tall": overall(assembly)[2] > TALL,
        "mids": SeamKind.WALL_MID in kinds, "corners": SeamKind.CORNER in kinds, "hips": SeamKind.HIP in kinds,
        "listed": SeamKind.SEAM in kinds, "halved": len(assembly.halves) > 1, "columns": len(plan.pack.columns) > 1,
        "bridged": bool(plan.pack.flat_seams), "sill": any(strip.role is Role.SILL for strip in plan.strips),
        "relief": bool(plan.relief), "openings": any(leaf.openings for leaf in assembly.leaves),
        "removable": any(seam.removable for seam in assembly.seams),
        "spliced": any(leaf.splices for leaf in assembly.leaves),
        "sealed": any(strip.role is Role.SEAL for strip in plan.strips),
    }


def panels(plan: Plan) -> tuple[str, ...]:
    """Marks of the swing leaves that nobody walks through: the first is a door, the others what the project says."""
    doors = plan.description.doors
    if doors is None or doors.second is Swing.DOOR:
        return ()
    return tuple(leaf.mark for leaf in plan.assembly.doors[1:])


def holds(when: str | list[str], known: Mapping[str, bool]) -> bool:
    """Whether all the named facts are so; `no roof` asks for the contrary. Raises KeyError for an unknown fact."""
    named = [when] if isinstance(when, str) else when
    return all(known[name.removeprefix("no ")] != name.startswith("no ") for name in named)


def _covered(assembly: Assembly) -> bool:
    """Whether level leaves higher than a board above the ground lie over most of what the inner faces enclose."""
    from shapely import MultiPoint, Polygon, unary_union

    corners = {leaf.mark: [leaf.open_pose.place(point, leaf.depth(Face.INNER))[:2] for point in leaf.hinged]
               for leaf in assembly.leaves}
    over = [
        Polygon(corners[leaf.mark]) for leaf in assembly.leaves
        if abs(leaf.open_pose.z[2]) > LEVEL
        and min(leaf.open_pose.place(point)[2] for point in leaf.hinged) > ON_GROUND + leaf.thickness]
    enclosed = MultiPoint([point for points in corners.values() for point in points]).convex_hull.area
    return bool(over) and unary_union(over).area > CLOSED * enclosed
