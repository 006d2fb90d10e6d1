"""Every strip of tape the shelter needs, from the assembly and the rolls in stock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly, Leaf, Point, Seam, SeamKind
from packet.assembly.splicing import strip_length
from packet.description.terms import Face
from packet.tape.hinge_law import Lay, edge_width, foil_passes, lay


class Role(StrEnum):
    SPLICE = "splice"
    FLAT = "flat"
    WRAP = "wrap"
    SILL = "sill"
    DOUBLER = "doubler"
    PATCH = "patch"
    FOIL = "foil"
    SEAL = "seal"


ON_GROUND = 0.5
"""mm above the ground that still counts as standing on it."""

STRAPPING = (Role.SPLICE, Role.FLAT, Role.WRAP, Role.SILL, Role.DOUBLER, Role.PATCH)
"""Roles laid in strapping tape; the others are foil."""


@dataclass(frozen=True, slots=True)
class Rules:
    """Lands, laps and rolls in stock, all mm. `sill_land` is the least land of a sill strip; `swollen` is by how much the
    boards came thicker than they were bought."""

    land: float
    sill_land: float
    stock: tuple[float, ...]
    combine: bool
    foil_stock: tuple[float, ...]
    foil_margin: float
    foil_overlap: float
    swollen: float = 0.0


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip as it is laid. Over a seam (`seam`) or round board edges (`edge`, one or more leaves).

    `faces` has two entries where a strip goes round an edge. `tapes` are the rolls laid side by side
    (`overlap` between them); foil counts its passes the same way. `pull` names the continuous length
    it is part of, where neighbours are laid in one go.
    """

    mark: str
    role: Role
    seam: str | None
    edge: str | None
    leaves: tuple[str, ...]
    faces: tuple[Face, ...]
    width: float
    tapes: tuple[float, ...]
    overlap: float
    length: float
    land: float
    thin: bool = False
    pull: str | None = None


def strips(assembly: Assembly, rules: Rules) -> tuple[Strip, ...]:
    """All strips in the order they are laid. Raises NoLand where a roll leaves no land."""
    strapping = [*_splices(assembly, rules), *_hinges(assembly, rules), *_sills(assembly, rules), *_doublers(assembly, rules),
                 *_patches(assembly, rules)]
    return tuple(strapping + list(_foil(strapping, rules)) + list(_seals(assembly, rules)))


def _strip(role: Role, found: Lay, length: float, leaves: tuple[str, ...], faces: tuple[Face, ...], *,
           seam: str | None = None, edge: str | None = None, pull: str | None = None,
           name: str | None = None) -> Strip:
    return Strip(name or f"{role} {seam or edge}", role, seam, edge, leaves, faces, found.width, found.tapes,
                 found.overlap, length, found.land, found.thin, pull)


def runs(assembly: Assembly) -> tuple[tuple[str, ...], ...]:
    """Leaves whose sill (and eave) strips are laid in one pull: neighbours of one half that stand on the ground.

    A swing leaf takes no sill strip and ends a run.
    """
    standing = [leaf for leaf in assembly.leaves if not leaf.door and ground_edge(leaf) is not None]
    beside = {
        leaf.mark: [other.mark for other in standing if other.half == leaf.half
                    and _side_by_side(assembly, leaf, other)]
        for leaf in standing}
    found: list[tuple[str, ...]] = []
    taken: set[str] = set()
    # Rows are walked from their ends; what then remains goes all round and is walked from its first leaf.
    for mark in (*(m for m, near in beside.items() if len(near) < 2), *beside):
        run: list[str] = []
        step: str | None = mark
        while step is not None and step not in taken:
            taken.add(step)
            run.append(step)
            step = next((m for m in beside[step] if m not in taken), None)
        if run:
            found.append(tuple(run))
    order = [leaf.mark for leaf in standing]
    return tuple(sorted(found, key=lambda run: min(order.index(m) for m in run)))


def ground_edge(leaf: Leaf) -> str | None:
    """Name of the edge on which the leaf stands when the shelter is open, if there is one."""
    heights = [leaf.open_pose.place(p)[2] for p in leaf.hinged]
    for i, name in enumerate(leaf.edges):
        if heights[i] < ON_GROUND and heights[(i + 1) % len(heights)] < ON_GROUND and max(heights) > ON_GROUND:
            return name
    return None


def _side_by_side(assembly: Assembly, a: Leaf, b: Leaf) -> bool:
    """Whether a bonded seam that reaches the ground joins the two."""
    return any(seam.bonded and set(seam.leaves) == {a.mark, b.mark}
               and min(assembly.by_mark[seam.leaves[0]].open_pose.place(p)[2] for p in seam.edge_a) < ON_GROUND
               for seam in assembly.seams)


def run_name(run: tuple[str, ...]) -> str:
    return f"{run[0]}-{run[-1]}" if len(run) > 1 else run[0]


def _splices(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    """On both faces, so that neither can open: two lands wide, as the boards lie in one plane and stay so."""
    found = lay(0.0, rules.land, rules.stock, rules.combine)
    for leaf in assembly.leaves:
        for splice in leaf.splices:
            length = strip_length(leaf, splice, found.width / 2)
            for face in (Face.INNER, Face.OUTER):
                yield _strip(Role.SPLICE, found, length, (leaf.mark,), (face,), edge=f"splice {splice.mark}",
                             name=f"splice {face} {splice.mark}")


def _hinges(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    pulls = {mark: run_name(run) for run in runs(assembly) for mark in run}
    flat = lay(0.0, rules.land, rules.stock, rules.combine)
    wrap = lay(2 * assembly.thickness, rules.land, rules.stock, rules.combine, 2 * rules.swollen)
    for kind in SeamKind:
        for seam in assembly.bonded(kind):
            pull = pulls.get(seam.leaves[0]) if kind is SeamKind.EAVE else None
            yield _strip(Role.FLAT, flat, seam.length, seam.leaves, (seam.closing_face,), seam=seam.mark, pull=pull)
            yield _strip(Role.WRAP, wrap, seam.length, seam.leaves, (seam.opening_face,), seam=seam.mark, pull=pull)


def _sills(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    found = lay(assembly.thickness, rules.sill_land, rules.stock, rules.combine, rules.swollen)
    # The land of a single roll is whatever it leaves, so the laid width is the roll's own.
    whole = Lay(found.tapes, found.overlap, edge_width(found.land, assembly.thickness), found.land, found.thin)
    for run in runs(assembly):
        length = sum(_edge_length(leaf, ground_edge(leaf) or "") for leaf in map(assembly.by_mark.__getitem__, run))
        yield _strip(Role.SILL, whole, length, run, (Face.INNER, Face.OUTER), edge=f"sill {run_name(run)}",
                     pull=run_name(run), name=f"sill {run_name(run)}")


def _edge_length(leaf: Leaf, edge: str) -> float:
    (x0, y0), (x1, y1) = leaf.edge(edge)
    return float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)


def door_hinge(assembly: Assembly, door: Leaf) -> Seam:
    """The only bonded seam of a swing leaf."""
    return next(s for s in assembly.seams_of(door.mark) if s.bonded)


def _doublers(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    flat = lay(0.0, rules.land, rules.stock, rules.combine)
    wrap = lay(2 * assembly.thickness, rules.land, rules.stock, rules.combine, 2 * rules.swollen)
    for door in assembly.doors:
        seam = door_hinge(assembly, door)
        for found, face in ((flat, seam.closing_face), (wrap, seam.opening_face)):
            yield _strip(Role.DOUBLER, found, seam.length, seam.leaves, (face,), seam=seam.mark,
                         name=f"doubler {face} {seam.mark}")


def _patches(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    """One square patch at the head of every corner, on the inner face, where the pivots lie."""
    widest = max(rules.stock)
    for seam in assembly.seams:
        if seam.kind is not SeamKind.CORNER:
            continue
        walls = [assembly.by_mark[mark] for mark in seam.leaves]
        gores = {assembly.above(leaf).mark for leaf in walls}
        if any(hip.removable for hip in assembly.seams if set(hip.leaves) == gores):
            continue  # a patch would hold the line that has to come apart
        held = tuple(leaf.mark for leaf in walls if not leaf.door) + tuple(
            assembly.above(leaf).mark for leaf in walls)
        yield Strip(f"patch {seam.mark}", Role.PATCH, None, f"corner {seam.mark}", held, (Face.INNER,),
                    widest, (widest,), 0.0, widest, widest / 2)


def _foil(strapping: list[Strip], rules: Rules) -> Iterator[Strip]:
    """Foil over all strapping that sunlight reaches: everything on an outer face."""
    for strip in strapping:
        if Face.OUTER not in strip.faces:
            continue
        needed = strip.width + rules.foil_margin
        roll, passes = foil_passes(needed, rules.foil_stock, rules.foil_overlap)
        yield Strip(f"foil over {strip.mark}", Role.FOIL, strip.seam, strip.edge, strip.leaves, (Face.OUTER,),
                    needed, (roll,) * passes, rules.foil_overlap if passes > 1 else 0.0, strip.length,
                    0.0, pull=strip.pull)


def bare_edges(assembly: Assembly) -> Iterator[tuple[Leaf, str]]:
    """Edges under no hinge and no sill strip: of swing leaves, their jambs and the edge above, tips, outer ends."""
    standing = {mark for run in runs(assembly) for mark in run}
    for leaf in assembly.leaves:
        covered = {frozenset(_rounded(edge)) for seam in assembly.seams_of(leaf.mark) if seam.bonded
                   for edge in [seam.edge_a if seam.leaves[0] == leaf.mark else seam.edge_b]}
        for name in leaf.edges:
            on_sill = leaf.mark in standing and name == ground_edge(leaf)
            if not on_sill and frozenset(_rounded(leaf.edge(name))) not in covered:
                yield leaf, name


def _rounded(edge: tuple[Point, Point]) -> tuple[Point, Point]:
    (x0, y0), (x1, y1) = edge
    return ((round(x0, 3) + 0.0, round(y0, 3) + 0.0), (round(x1, 3) + 0.0, round(y1, 3) + 0.0))


def _seals(assembly: Assembly, rules: Rules) -> Iterator[Strip]:
    """Bare board edges that weather or hands reach: all that neither a bonded seam nor a sill strip covers."""
    needed = edge_width(rules.foil_overlap, assembly.thickness)
    roll, passes = foil_passes(needed, rules.foil_stock, rules.foil_overlap)
    for leaf in assembly.leaves:
        for number, opening in enumerate(leaf.openings, 1):
            name = f"{leaf.mark} {opening.kind}" + (f" {number}" if len(leaf.openings) > 1 else "")
            yield Strip(f"seal {name}", Role.SEAL, None, name, (leaf.mark,), (Face.INNER, Face.OUTER), needed,
                        (roll,) * passes, rules.foil_overlap if passes > 1 else 0.0, opening.perimeter,
                        rules.foil_overlap)
    for leaf, edge in bare_edges(assembly):
        yield Strip(f"seal {leaf.mark} {edge}", Role.SEAL, None, f"{leaf.mark} {edge}", (leaf.mark,),
                    (Face.INNER, Face.OUTER), needed, (roll,) * passes,
                    rules.foil_overlap if passes > 1 else 0.0, _edge_length(leaf, edge), rules.foil_overlap)
