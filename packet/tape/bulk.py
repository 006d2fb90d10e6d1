"""How much thicker than its boards the pack is where tape lies: strips stacked layer on layer.

Every strip is laid as bands on the faces of its leaves, the bands are carried into the pack's plane, and the
thicknesses that lie over one another are added. Tape round a board edge lies beside the stack and adds nothing to it.
Rolls that are laid side by side count twice where they lap. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from packet.assembly.pack import Pack
from packet.assembly.records import Assembly, Leaf, Point, Seam
from packet.tape.strips import STRAPPING, Role, Strip, ground_edge

if TYPE_CHECKING:
    import numpy.typing as npt
    from shapely import Geometry

GRID = 0.01
"""mm to which bands are snapped before they are overlaid."""

SLIVER = 4.0
"""mm2 below which an overlap of bands is a seam of the drawing, not a place."""


@dataclass(frozen=True, slots=True)
class Bulk:
    """More than the boards, mm: `along` the hinge lines at mid length, and at `most`, where strips cross."""

    along: float
    most: float


def bulk(assembly: Assembly, packed: Pack, laid: tuple[Strip, ...], tape: float, foil: float) -> Bulk:
    """Stack the strips of the pack; `tape` and `foil` are their thicknesses."""
    import numpy as np
    import shapely

    bands, thicks = _stacked(assembly, packed, laid, tape, foil)
    if not bands:
        return Bulk(0.0, 0.0)
    lines = shapely.unary_union(shapely.boundary(bands), grid_size=GRID)
    cells = shapely.get_parts(shapely.polygonize([lines]))
    tree, weights = shapely.STRtree(bands), np.array(thicks)

    def over(points: npt.NDArray[Any]) -> float:
        """The most that lies over one of the points."""
        places, found = tree.query(points, predicate="within")
        return float(np.bincount(places, weights[found], 1).max())

    most = over(shapely.point_on_surface(cells[shapely.area(cells) > SLIVER]))
    along = over(np.array(list(_mid_points(assembly, packed, laid)), dtype=object))
    return Bulk(along, most)


def _stacked(assembly: Assembly, packed: Pack, laid: tuple[Strip, ...], tape: float, foil: float
             ) -> tuple[list[Geometry], list[float]]:
    """What lies on one face of one leaf, in the pack's plane, and its thickness; what lies in one place is added up."""
    import shapely

    found = tuple(_areas(assembly, laid, tape, foil))
    outlines = {leaf.mark: shapely.Polygon(leaf.outline) for leaf in assembly.leaves}
    kept = shapely.intersection([area for area, _, _ in found], [outlines[mark] for _, mark, _ in found])
    parts, places = shapely.get_parts(kept, return_index=True)
    large = shapely.area(parts) > SLIVER
    placed = [shapely.Polygon([packed.flats[found[place][1]].place(p) for p in part.exterior.coords])
              for part, place in zip(parts[large], places[large], strict=True)]
    # Rounded point by point and closed again: a part as thin as the grid has no valid rounding.
    bands = shapely.normalize(shapely.buffer(shapely.set_precision(placed, GRID, mode="pointwise"), 0.0))
    stacked: dict[bytes, tuple[Geometry, float]] = {}
    for band, key, place in zip(bands, shapely.to_wkb(bands), places[large], strict=True):
        stacked[key] = (band, stacked.get(key, (band, 0.0))[1] + found[place][2])
    return [band for band, _ in stacked.values()], [thick for _, thick in stacked.values()]


def _areas(assembly: Assembly, laid: tuple[Strip, ...], tape: float, foil: float
           ) -> Iterator[tuple[Geometry, str, float]]:
    """What strips may cover in a leaf's frame, not yet cut to the leaf, with the leaf's mark and the thickness."""
    base = {strip.mark: strip for strip in laid}
    for strip in laid:
        covered = base.get(strip.mark.removeprefix("foil over ")) if strip.role is Role.FOIL else None
        like = covered or strip
        # A strip round an edge lies on both its faces, and so does the foil over it.
        thick = (tape if strip.role in STRAPPING else foil) * len(like.faces)
        for side, mark in enumerate(strip.leaves):
            for area in _on_leaf(assembly, assembly.by_mark[mark], like, _lanes(assembly, strip, like, side)):
                yield area, mark, thick


def _lanes(assembly: Assembly, strip: Strip, like: Strip, side: int) -> tuple[tuple[float, float], ...]:
    """From and to which distance from the edge each roll lies on a face, on one side of a strip laid centred."""
    edges = 0.0 if like.role in (Role.PATCH, Role.SPLICE) else 1.0
    if like.seam:
        edges = 2.0 if like.faces[0] is assembly.seam_by_mark[like.seam].opening_face else 0.0
    over = edges * assembly.thickness / 2
    at = -(sum(strip.tapes) - strip.overlap * (len(strip.tapes) - 1)) / 2
    lanes = []
    for roll in strip.tapes if side == 0 else strip.tapes[::-1]:
        if at + roll > over:
            lanes.append((max(0.0, at - over), at + roll - over))
        at += roll - strip.overlap
    return tuple(lanes)


def _on_leaf(
    assembly: Assembly, leaf: Leaf, strip: Strip, lanes: tuple[tuple[float, float], ...]
) -> Iterator[Geometry]:
    """Areas of a leaf's frame that the strip may cover, not yet cut to the leaf."""
    import shapely

    if strip.seam:
        seam = assembly.seam_by_mark[strip.seam]
        edge = seam.edge_a if seam.leaves[0] == leaf.mark else seam.edge_b
        yield from (_beside(edge, *lane) for lane in lanes)
    elif strip.role is Role.SILL:
        yield from (_beside(leaf.edge(ground_edge(leaf) or ""), *lane) for lane in lanes)
    elif strip.role is Role.SPLICE:
        splice = next(one for one in leaf.splices if strip.edge == f"splice {one.mark}")
        yield from (_beside((splice.a, splice.b), *lane) for lane in lanes)
    elif strip.role is Role.PATCH:
        x, y = _corner(assembly, leaf, assembly.seam_by_mark[(strip.edge or "").removeprefix("corner ")])
        for _, reach in lanes:
            yield shapely.box(x - reach, y - reach, x + reach, y + reach)
    elif strip.edge and strip.edge.removeprefix(f"{leaf.mark} ") in leaf.edges:
        yield from (_beside(leaf.edge(strip.edge.removeprefix(f"{leaf.mark} ")), *lane) for lane in lanes)


def _beside(edge: tuple[Point, Point], low: float, high: float) -> Geometry:
    """All that lies so far from an edge, on both its sides, square at its ends."""
    import shapely

    line = shapely.LineString(edge)
    wide = line.buffer(high, cap_style="flat")
    return wide.difference(line.buffer(low, cap_style="flat")) if low else wide


def _corner(assembly: Assembly, leaf: Leaf, seam: Seam) -> Point:
    """The leaf's own corner at the head of a corner seam."""
    first = assembly.by_mark[seam.leaves[0]]
    head = max((first.open_pose.place(p, first.depth(seam.closing_face)) for p in seam.edge_a), key=lambda p: p[2])
    return min(leaf.hinged, key=lambda p: math.dist(leaf.open_pose.place(p, leaf.depth(seam.closing_face)), head))


def _mid_points(assembly: Assembly, packed: Pack, laid: tuple[Strip, ...]) -> Iterator[Geometry]:
    """A point on each leaf half a land beside the middle of every hinge."""
    import shapely

    for strip in laid:
        if strip.role is not Role.FLAT or strip.seam is None:
            continue
        seam = assembly.seam_by_mark[strip.seam]
        for mark, (a, b) in zip(seam.leaves, (seam.edge_a, seam.edge_b), strict=True):
            leaf = assembly.by_mark[mark]
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            off = strip.land / 2 / math.dist(a, b)
            sides = [(middle[0] - s * off * (b[1] - a[1]), middle[1] + s * off * (b[0] - a[0])) for s in (1.0, -1.0)]
            inside = next((p for p in sides if shapely.Polygon(leaf.hinged).contains(shapely.Point(p))), None)
            if inside:
                yield shapely.Point(packed.flats[mark].place(inside))
