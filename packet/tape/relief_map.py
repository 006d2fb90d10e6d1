"""Where relief cuts and the strips they go through lie on a half that is laid flat.

Plane frame of `unfolded_half`, mm. Tape over board edges is drawn as wide as it is: the edge of a sill
below the sill line, both edges of an eave between wall and roof on the face that carries the wrap.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from packet.assembly.records import Assembly, LeafKind, Point, Seam, SeamKind
from packet.assembly.unfolded import LaidLeaf, laid_flat, unfolded_half
from packet.description.terms import Face
from packet.tape.relief import Along, Part, ReliefCut
from packet.tape.strips import Role, Strip, runs

TOUCH = 1e-3
"""mm within which a cut lies on a parting of the map."""


@dataclass(frozen=True, slots=True)
class Slit:
    """One cut on the map: an upright line at `x` from `low` to `high`; `number` counts within the half."""

    number: int
    cut: ReliefCut
    x: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ReliefMap:
    """One half seen on one face: leaves, areas covered by sill and eave strips, and its cuts.

    `eave` is the height of the wall's top, `band` the width of the board edges between wall and roof,
    `sill_edge` that of the edge below the sill.
    """

    half: str
    face: Face
    leaves: tuple[LaidLeaf, ...]
    tapes: tuple[tuple[Point, ...], ...]
    slits: tuple[Slit, ...]
    eave: float
    band: float
    sill_edge: float


def numbered_cuts(assembly: Assembly, cuts: tuple[ReliefCut, ...], half: str) -> tuple[tuple[int, ReliefCut], ...]:
    """The half's cuts counted from 1: the sill first, then the eave, then other strips, each in their order."""
    own = [cut for cut in cuts if assembly.by_mark[cut.between[0]].half == half]
    ordered = [cut for along in Along for cut in own if cut.along == along]
    return tuple(enumerate(ordered, 1))


def relief_map(
    assembly: Assembly, laid: tuple[Strip, ...], cuts: tuple[ReliefCut, ...], half: str, face: Face
) -> ReliefMap | None:
    """The map of one half seen on one face; without a roof, of the pulls of tape that are cut, side by side.

    Cuts in other strips than those of sill and eave are left to the list. None where there are no others, and where a
    pull of sill tape is no straight row when its leaves lie flat: then only the list can tell it.
    """
    shown = tuple(cut for cut in cuts if cut.along is not Along.SEAM)
    if not any(assembly.by_mark[cut.between[0]].half == half for cut in shown):
        return None
    eaves = any(assembly.by_mark[s.leaves[0]].half == half for s in assembly.bonded(SeamKind.EAVE))
    band = 2 * assembly.thickness if eaves and _wrapped(assembly, half, face) else 0.0
    leaves = unfolded_half(assembly, half, face, band) if eaves else _pulls(assembly, shown, half, face)
    if any(abs(p[1]) > TOUCH for leaf in leaves if leaf.kind is LeafKind.WALL for p in leaf.base):
        return None
    by_mark = {leaf.mark: leaf for leaf in leaves}
    eave = max(point[1] for leaf in leaves if leaf.kind is LeafKind.WALL for point in leaf.outline)
    tapes = [
        area
        for strip in laid
        if set(strip.leaves) <= set(by_mark) and face in strip.faces
        for area in _areas(strip, by_mark, eave, band, assembly.thickness)
    ]
    slits = tuple(
        _slit(assembly, number, cut, by_mark, eave, band)
        for number, cut in numbered_cuts(assembly, cuts, half)
        if cut.face is face and cut.along is not Along.SEAM
    )
    return ReliefMap(half, face, leaves, tuple(tapes), slits, eave, band, assembly.thickness)


def _pulls(assembly: Assembly, cuts: tuple[ReliefCut, ...], half: str, face: Face) -> tuple[LaidLeaf, ...]:
    """The rows of leaves whose sill tape is cut, one beside the other as far apart as a leaf is narrow."""
    cut = {mark for each in cuts for mark in each.between}
    rows = [laid_flat(assembly, run, face) for run in runs(assembly)
            if cut & set(run) and assembly.by_mark[run[0]].half == half]
    apart = min(leaf.base[1][0] - leaf.base[0][0] for row in rows for leaf in row) / 2
    found: list[LaidLeaf] = []
    start = 0.0
    for row in rows if face is assembly.leaves[0].marked_face else reversed(rows):
        found += (_moved(leaf, start) for leaf in row)
        start = max(p[0] for leaf in found for p in leaf.outline) + apart
    return tuple(found)


def parted(whole: ReliefMap, count: int) -> tuple[ReliefMap, ...]:
    """The map in `count` parts side by side, parted between walls' leaves; a cut on a parting shows in both parts."""
    walls = sorted({round(p[0], 6) for leaf in whole.leaves if leaf.kind is LeafKind.WALL for p in leaf.outline})
    steps = len(walls) - 1
    bounds = [walls[round(steps * i / count)] for i in range(count + 1)]
    found = []
    for left, right in itertools.pairwise(bounds):

        def inside(points: tuple[Point, ...], left: float = left, right: float = right) -> bool:
            return left - TOUCH < sum(x for x, _ in points) / len(points) < right + TOUCH

        leaves = tuple(_moved(leaf, -left) for leaf in whole.leaves if inside(leaf.outline))
        tapes = tuple(_shifted(area, -left) for area in whole.tapes if inside(area))
        slits = tuple(replace(slit, x=slit.x - left) for slit in whole.slits if left - TOUCH < slit.x < right + TOUCH)
        found.append(replace(whole, leaves=leaves, tapes=tapes, slits=slits))
    return tuple(found)


def _moved(leaf: LaidLeaf, dx: float) -> LaidLeaf:
    return replace(leaf, outline=_shifted(leaf.outline, dx), finished=_shifted(leaf.finished, dx))


def _shifted(points: tuple[Point, ...], dx: float) -> tuple[Point, ...]:
    return tuple((x + dx, y) for x, y in points)


def _wrapped(assembly: Assembly, half: str, face: Face) -> bool:
    """Whether the eave wraps lie on this face."""
    seam = next(s for s in assembly.bonded(SeamKind.EAVE) if assembly.by_mark[s.leaves[0]].half == half)
    return seam.opening_face is face


def _areas(
    strip: Strip, by_mark: dict[str, LaidLeaf], eave: float, band: float, thickness: float
) -> list[tuple[Point, ...]]:
    """What a sill or eave strip covers on this face, leaf by leaf."""
    found: list[tuple[Point, ...]] = []
    if strip.role is Role.SILL:
        for mark in strip.leaves:
            left, right = _span(by_mark[mark].base)
            found.append(((left, -thickness), (right, -thickness), (right, strip.land), (left, strip.land)))
    elif strip.role in (Role.FLAT, Role.WRAP) and strip.pull:
        wall, roof = (by_mark[mark] for mark in strip.leaves)
        left, right = _span(wall.edge("eave"))
        found.append(
            ((left, eave - strip.land), (right, eave - strip.land), (right, eave + band), (left, eave + band))
        )
        found.append(_below(roof.outline, eave + band + strip.land))
    return found


def _below(outline: tuple[Point, ...], level: float) -> tuple[Point, ...]:
    """The part of an outline below a level."""
    kept: list[Point] = []
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        if a[1] <= level:
            kept.append(a)
        if (a[1] - level) * (b[1] - level) < 0:
            share = (level - a[1]) / (b[1] - a[1])
            kept.append((a[0] + share * (b[0] - a[0]), level))
    return tuple(kept)


def _slit(
    assembly: Assembly, number: int, cut: ReliefCut, by_mark: dict[str, LaidLeaf], eave: float, band: float
) -> Slit:
    parts = dict(cut.parts)
    x = _foot(assembly, cut, by_mark)
    if cut.along is Along.SILL:
        return Slit(number, cut, x, -parts.get(Part.EDGE, 0.0), parts.get(Part.WALL, 0.0))
    low = eave - parts[Part.WALL] if Part.WALL in parts else eave if Part.EDGE in parts else eave + band
    return Slit(number, cut, x, low, low + cut.length)


def _foot(assembly: Assembly, cut: ReliefCut, by_mark: dict[str, LaidLeaf]) -> float:
    """x of the hinge that the cut lies on, at its lower end."""
    seam: Seam = next(s for s in assembly.seams_of(cut.between[0]) if set(s.leaves) == set(cut.between))
    leaf = assembly.by_mark[cut.between[0]]
    own = seam.edge_a if seam.leaves[0] == leaf.mark else seam.edge_b
    name = next(name for name in leaf.edges if all(any(math.dist(p, q) < TOUCH for q in own) for p in leaf.edge(name)))
    return min(by_mark[leaf.mark].edge(name), key=lambda point: point[1])[0]


def _span(edge: tuple[Point, Point]) -> tuple[float, float]:
    xs = sorted((edge[0][0], edge[1][0]))
    return xs[0], xs[1]
