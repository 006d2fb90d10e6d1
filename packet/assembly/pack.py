"""Check: does the shelter fold flat, and into which layers?

The pack law: a hinge folded shut puts its two leaves on neighbouring layers, the second above the
first when the closing face of the first looks up; a hinge that stays in one plane keeps the layer.
Walking the bonded seams from any leaf therefore fixes every leaf's layer and place; the checks are
that all walks agree and that no two leaves want the same place.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from packet.assembly.records import Assembly, LeafKind, Point, Seam, SeamKind

SAME_PLACE = 0.01
"""mm by which two walks to the same leaf may differ."""

GRID = 1e-3
"""mm to which outlines are snapped before they are overlaid; edges that touch to the last bit upset the overlay."""


@dataclass(frozen=True, slots=True)
class Flat:
    """Where a leaf lies in the pack: a rotation and shift in the plane, mirrored when face down.

    `turn` is the unit direction of the leaf's x axis; `face_up` says whether the marked face looks up.
    """

    turn: Point
    face_up: bool
    origin: Point
    layer: int

    def place(self, point: Point) -> Point:
        """Position of a point of the leaf in the pack's plane, mm."""
        x, y = point[0], point[1] if self.face_up else -point[1]
        c, s = self.turn
        return (self.origin[0] + c * x - s * y, self.origin[1] + s * x + c * y)


@dataclass(frozen=True, slots=True)
class Pack:
    """The folded shelter: plane size and stack height in mm, layers counted from 1 at the bottom."""

    width: float
    length: float
    thickness: float
    columns: tuple[tuple[str, ...], ...]
    flat_seams: tuple[str, ...]
    flats: dict[str, Flat]
    faults: tuple[str, ...]

    @property
    def packs(self) -> bool:
        return not self.faults

    @property
    def layers(self) -> int:
        return max(flat.layer for flat in self.flats.values())


def pack(assembly: Assembly) -> Pack:
    """Fold the graph flat and report layers, columns, size and every fault found."""
    bridges = [s for s in assembly.bonded(SeamKind.WALL_MID, SeamKind.SEAM) if s.angle_packed == 180.0]
    bottom = bridges[0].leaves[1] if bridges else assembly.leaves[0].mark
    flats, faults = _walk(assembly, bottom)
    flats = _normalised(flats, bottom)
    faults += _clashes(assembly, flats)
    corners = [flats[leaf.mark].place(p) for leaf in assembly.leaves if leaf.mark in flats for p in leaf.hinged]
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    layers = max(flat.layer for flat in flats.values())
    return Pack(
        width=max(xs) - min(xs), length=max(ys) - min(ys), thickness=layers * assembly.thickness,
        columns=_columns(assembly, flats, bottom), flat_seams=tuple(s.mark for s in bridges), flats=flats, faults=tuple(faults),
    )


def _walk(assembly: Assembly, start: str) -> tuple[dict[str, Flat], list[str]]:
    flats = {start: Flat((1.0, 0.0), True, (0.0, 0.0), 0)}
    faults: list[str] = []
    queue = [start]
    while queue:
        mark = queue.pop(0)
        for seam in assembly.seams_of(mark):
            if not seam.bonded:
                continue
            found = _across(assembly, seam, mark, flats[mark])
            other = seam.leaves[1] if seam.leaves[0] == mark else seam.leaves[0]
            if other not in flats:
                flats[other] = found
                queue.append(other)
            elif mark == seam.leaves[0]:
                known = flats[other]
                if found.layer != known.layer:
                    faults.append(f"{seam.mark} would have to span from layer {flats[mark].layer} "
                                  f"to layer {known.layer}")
                edge = seam.edge_b
                if max(math.dist(found.place(p), known.place(p)) for p in edge) > SAME_PLACE:
                    faults.append(f"{seam.mark} does not come together when folded")
    missing = [leaf.mark for leaf in assembly.leaves if leaf.mark not in flats]
    if missing:
        faults.append("not joined to the rest: " + ", ".join(missing))
    return flats, faults


def _across(assembly: Assembly, seam: Seam, mark: str, flat: Flat) -> Flat:
    """Where the seam's other leaf lies, given where this one lies."""
    here, there = (seam.edge_a, seam.edge_b) if seam.leaves[0] == mark else (seam.edge_b, seam.edge_a)
    folded = seam.angle_packed == 0.0
    face_up = flat.face_up != folded
    leaf = assembly.by_mark[mark]
    closing_up = (seam.closing_face is leaf.marked_face) == flat.face_up
    layer = flat.layer + ((1 if closing_up else -1) if folded else 0)
    p, q = flat.place(here[0]), flat.place(here[1])
    mirror = 1.0 if face_up else -1.0
    (x0, y0), (x1, y1) = there
    angle = math.atan2(q[1] - p[1], q[0] - p[0]) - math.atan2(mirror * (y1 - y0), x1 - x0)
    c, s = math.cos(angle), math.sin(angle)
    origin = (p[0] - (c * x0 - s * mirror * y0), p[1] - (s * x0 + c * mirror * y0))
    return Flat((c, s), face_up, origin, layer)


def _normalised(flats: dict[str, Flat], bottom: str) -> dict[str, Flat]:
    """Layers counted from 1, turned over where that puts the leaf `bottom` lowest."""
    lowest = min(f.layer for f in flats.values())
    highest = max(f.layer for f in flats.values())
    if flats[bottom].layer - lowest <= highest - flats[bottom].layer:
        return {m: Flat(f.turn, f.face_up, f.origin, f.layer - lowest + 1) for m, f in flats.items()}
    # Turned over about the y axis: x changes sign, up and down change places.
    return {
        m: Flat((-f.turn[0], f.turn[1]), not f.face_up, (-f.origin[0], f.origin[1]), highest - f.layer + 1)
        for m, f in flats.items()
    }


def _clashes(assembly: Assembly, flats: dict[str, Flat]) -> list[str]:
    from shapely import Polygon

    layers: dict[int, list[tuple[str, Polygon]]] = {}
    for leaf in assembly.leaves:
        if leaf.mark in flats:
            flat = flats[leaf.mark]
            layers.setdefault(flat.layer, []).append((leaf.mark, Polygon([flat.place(p) for p in leaf.hinged])))
    return [
        f"{a} and {b} want the same place in layer {layer}"
        for layer, members in sorted(layers.items())
        for (a, shape_a), (b, shape_b) in combinations(members, 2)
        if shape_a.intersection(shape_b, grid_size=GRID).area > 1.0
    ]


def _columns(assembly: Assembly, flats: dict[str, Flat], bottom: str) -> tuple[tuple[str, ...], ...]:
    """Wall leaves that lie over one another, lowest first; the column of `bottom` comes first."""
    from shapely import Polygon

    walls = [leaf for leaf in assembly.of_kind(LeafKind.WALL) if leaf.mark in flats]
    shapes = {leaf.mark: Polygon([flats[leaf.mark].place(p) for p in leaf.hinged]) for leaf in walls}
    columns: list[list[str]] = []
    for mark, shape in shapes.items():
        under = [c for c in columns if any(shape.intersection(shapes[m], grid_size=GRID).area > 1.0 for m in c)]
        columns = [c for c in columns if c not in under]
        columns.append([m for c in under for m in c] + [mark])
    order = {leaf.mark: i for i, leaf in enumerate(walls)}
    columns.sort(key=lambda column: (bottom not in column, min(order[m] for m in column)))
    return tuple(tuple(sorted(column, key=lambda m: (flats[m].layer, order[m]))) for column in columns)
