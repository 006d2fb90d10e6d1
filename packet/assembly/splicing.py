"""Leaves made of parts: where a leaf is divided, the parts it is cut as, and the lines on which they are butted.

A spliced leaf stays one rigid leaf of the graph. Its parts are leaves of their own only where boards are cut: marked
`A3a`, `A3b` from the sill, eave or mid edge on, with the hand, the face and the frame of their leaf. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from packet.assembly.records import Assembly, Leaf, Point, Splice

SAME = 1e-6
"""mm"""

LETTERS = "abcdefgh"


@dataclass(frozen=True, slots=True)
class Lines:
    """Parallel lines that divide a leaf: along its x (`upright`: no) or along its y, at `offsets` mm from the lowest
    point of the rough outline, or from its mid side, ascending."""

    upright: bool
    offsets: tuple[float, ...]


def extent(leaf: Leaf, upright: bool, points: tuple[Point, ...]) -> tuple[float, float]:
    """From and to which offset points of the leaf's frame reach across such lines."""
    found = [offset_of(leaf, upright, point) for point in points]
    return min(found), max(found)


def offset_of(leaf: Leaf, upright: bool, point: Point) -> float:
    """Where a point of the leaf's frame lies across such lines. A leaf of either hand counts from its mid side."""
    base, sign = _across(leaf, upright)
    return sign * (point[0 if upright else 1] - base)


def _across(leaf: Leaf, upright: bool) -> tuple[float, float]:
    """The x or y from which offsets count, and 1 or -1 for the way they count."""
    if not upright:
        return min(y for _, y in leaf.rough), 1.0
    xs = [x for x, _ in leaf.rough]
    return (min(xs), 1.0) if max(xs) > SAME else (max(xs), -1.0)


def divided(leaf: Leaf, lines: Lines, taken: frozenset[str] = frozenset()) -> Leaf:
    """The leaf with its splices. `taken` are marks that no part may have."""
    marks = [f"{leaf.mark}{letter}" for letter in LETTERS[:len(lines.offsets) + 1]]
    if taken & set(marks):
        marks = [f"{leaf.mark}-{letter}" for letter in LETTERS[:len(lines.offsets) + 1]]
    splices = []
    for number, offset in enumerate(lines.offsets):
        points, names = _kept(leaf, leaf.hinged, lines.upright, offset, below=True, name="splice")
        at = names.index("splice")
        ends = sorted((points[at], points[(at + 1) % len(points)]))
        splices.append(Splice(ends[0], ends[1], (marks[number], marks[number + 1])))
    return replace(leaf, splices=tuple(splices))


def parts_of(leaf: Leaf) -> tuple[Leaf, ...]:
    """The parts that a spliced leaf is cut as, the lowest or the one at the mid side first; else the leaf itself."""
    if not leaf.splices:
        return (leaf,)
    upright = abs(leaf.splices[0].a[0] - leaf.splices[0].b[0]) < SAME
    offsets = [offset_of(leaf, upright, splice.a) for splice in leaf.splices]
    many = len(offsets) > 1
    marks = (leaf.splices[0].parts[0], *(splice.parts[1] for splice in leaf.splices))
    parts = []
    for number, mark in enumerate(marks):
        shapes: dict[tuple[Point, ...], tuple[tuple[Point, ...], tuple[str, ...]]] = {}
        for outline in (leaf.outline, leaf.hinged, leaf.rough):
            if outline in shapes:  # most leaves have no trims
                continue
            points, names = outline, leaf.edges if len(outline) == len(leaf.edges) else ("",) * len(outline)
            for at, below in ((number - 1, False), (number, True)):
                if 0 <= at < len(offsets):
                    name = f"splice {at + 1}" if many else "splice"
                    points, names = _kept(leaf, points, upright, offsets[at], below, name, names)
            shapes[outline] = (points, names)
        (outline, edges), (hinged, _), (rough, _) = (shapes[each] for each in (leaf.outline, leaf.hinged, leaf.rough))
        parts.append(replace(leaf, mark=mark, door=leaf.door and outline != hinged, outline=outline, hinged=hinged,
                             rough=rough, edges=edges, holes=(), openings=(), splices=()))
    return tuple(parts)


def in_parts(assembly: Assembly) -> Assembly:
    """The leaves as boards are cut for them: those that are spliced in their parts. No seams."""
    if not any(leaf.splices for leaf in assembly.leaves):
        return assembly
    return replace(assembly, leaves=tuple(part for leaf in assembly.leaves for part in parts_of(leaf)), seams=())


def owners(assembly: Assembly) -> Mapping[str, str]:
    """The leaf that each piece belongs to, by the mark of the piece: itself where it is whole."""
    return {part.mark: leaf.mark for leaf in assembly.leaves for part in parts_of(leaf)}


def splice_places(leaf: Leaf) -> tuple[tuple[float, str], ...]:
    """Where each splice lies: mm from an edge of the finished leaf that runs along it, and the name of that edge; from
    the leaf's foot or mid side where no edge does (an empty name)."""
    found = []
    for splice in leaf.splices:
        axis = 0 if abs(splice.a[0] - splice.b[0]) < SAME else 1
        level = splice.a[axis]
        along = [(name, leaf.outline[i][axis]) for i, name in enumerate(leaf.edges)
                 if abs(leaf.outline[i][axis] - leaf.outline[(i + 1) % len(leaf.outline)][axis]) < SAME]
        name, place = min(along, key=lambda one: one[1] > level or level - one[1]) if along else (
            "", min(point[axis] for point in leaf.outline))
        found.append((abs(level - place), name))
    return tuple(found)


def strip_length(leaf: Leaf, splice: Splice, reach: float) -> float:
    """How long a strip must be that covers the leaf so far to each side of a splice, mm: longer than the splice where the
    leaf widens away from it."""
    axis = 0 if abs(splice.a[0] - splice.b[0]) < SAME else 1
    upright, points = axis == 0, leaf.hinged
    at = offset_of(leaf, upright, splice.a)
    for offset, below in ((at - reach, False), (at + reach, True)):
        points, _ = _kept(leaf, points, upright, offset, below, "")
    along = [point[1 - axis] for point in points]
    return max(along) - min(along)


def datum_edge(leaf: Leaf) -> str:
    """The edge from which a ring's piece is measured: its eave, or where a part without eave is joined; else empty."""
    return next((name for name in leaf.edges if name == "eave"), None) or next(
        (name for name in leaf.edges if name.startswith("splice")), "")


def spliced_like(assembly: Assembly, cut: Assembly) -> Assembly:
    """Leaves that were trimmed later, with the splices of the leaves as they were cut."""
    def lines(leaf: Leaf) -> Leaf:
        before = cut.by_mark[leaf.mark]
        if not before.splices:
            return leaf
        upright = abs(before.splices[0].a[0] - before.splices[0].b[0]) < SAME
        found = divided(leaf, Lines(upright, tuple(offset_of(before, upright, one.a) for one in before.splices)))
        return replace(found, splices=tuple(replace(one, parts=own.parts)
                                            for one, own in zip(found.splices, before.splices, strict=True)))
    return replace(assembly, leaves=tuple(lines(leaf) for leaf in assembly.leaves))


def _kept(leaf: Leaf, points: tuple[Point, ...], upright: bool, offset: float, below: bool, name: str,
          names: tuple[str, ...] = ()) -> tuple[tuple[Point, ...], tuple[str, ...]]:
    """What of an outline lies on one side of a line, and the names of its edges; the new one is called `name`.

    A convex outline cut by a half-plane (Sutherland and Hodgman 1974).
    """
    names = names or ("",) * len(points)
    (base, way), axis = _across(leaf, upright), 0 if upright else 1
    level, sign = base + way * offset, -1.0 if below else 1.0
    depth = [sign * (way * (point[axis] - base) - offset) for point in points]
    found: list[tuple[Point, str]] = []
    for i, point in enumerate(points):
        after = (i + 1) % len(points)
        inside, stays = depth[i] > SAME, depth[after] > SAME
        if inside:
            found.append((point, names[i]))
        if inside != stays:
            share = depth[i] / (depth[i] - depth[after])
            other = points[after]
            place = (point[0] + share * (other[0] - point[0]), point[1] + share * (other[1] - point[1]))
            # Every outline of the leaf has its corner at exactly the same place.
            found.append(((level, place[1]) if upright else (place[0], level), name if inside else names[i]))
    return tuple(point for point, _ in found), tuple(edge for _, edge in found)
