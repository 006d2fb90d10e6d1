"""Listed leaves and seams: what they come to, and what cannot be built of them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packet.description.feasible import Finding
from packet.description.models import Common, FreeProject, ListedLeaf
from packet.description.resolved import Free, FreeLeaf, FreeSeam
from packet.description.value_kind import nearest
from packet.units import Format, System

SIDES = ("bottom", "right", "top", "left")
"""Edges of a leaf given by its size, counter-clockwise from the lower left corner."""

_EXAMPLE_SIZE = {System.INCH: "12 x 10", System.METRIC: "300 x 250"}
_SAME_LENGTH = 0.5  # mm by which the two edges of a seam may differ


def resolve(project: FreeProject) -> Free:
    """The shape of a project that `check` found nothing wrong with."""
    shelter = project.shelter
    seams = []
    for seam in shelter.seams:
        first, second = _ends(seam.join)
        seams.append(FreeSeam(first, second, seam.closing, seam.open, seam.packed, seam.bonded))
    return Free(shelter.preset, shelter.first, tuple(_leaf(leaf) for leaf in shelter.leaves), tuple(seams))


def check(project: FreeProject, form: Format) -> list[Finding]:
    """Every finding on leaves and seams that could each be read."""
    return [*_leaves(project, form), *_seams(project, form)]


def opening_sizes(project: Common, form: Format) -> list[Finding]:
    """Openings with both a size and a diameter, or with neither."""
    return [Finding(f"openings.{number}", "an opening needs either a size or a diameter", "exactly one of the two",
                    f"Write `size: {_EXAMPLE_SIZE[form.system]}`, or a diameter.")
            for number, entry in enumerate(project.openings) if (entry.size is None) == (entry.diameter is None)]


def readings(project: Common, form: Format) -> list[Finding]:
    """Boards of which only some readings were taken, or whose diagonals cannot belong to their sides."""
    found = []
    for number, board in enumerate(project.boards.measured):
        key = f"boards.measured.{number}"
        if len(board.diagonals) not in (0, 2):
            found.append(Finding(f"{key}.diagonals", "a board has two diagonals", "two lengths, or none",
                                 "Write both, or take the key away."))
        elif board.diagonals:
            square = math.hypot(board.length, board.breadth)
            if abs(math.hypot(*board.diagonals) / math.sqrt(2) - square) > 0.01 * square:
                found.append(Finding(
                    f"{key}.diagonals", "these diagonals do not belong to a board of this length and breadth",
                    f"about {form.length_both(square)} each", "Measure this board again."))
        if len(board.thickness) not in (0, 4):
            found.append(Finding(f"{key}.thickness", "thickness is measured at the four corners", "four lengths, or none",
                                 "Write all four, or take the key away."))
    return found


def other_sizes(project: Common, form: Format) -> list[Finding]:
    """Sizes of board that are listed twice, and such as the edge trim would leave nothing of."""
    found, known = [], [tuple(sorted(project.boards.size))]
    for number, one in enumerate(project.boards.also):
        key, sides = f"boards.also.{number}.size", tuple(sorted(one.size))
        if sides in known:
            found.append(Finding(key, "this size of board is listed twice", "every size once",
                                 "Take the entry away; the first size is that of `boards.size`."))
        elif 2 * project.boards.edge_trim >= sides[0] - 1e-6:
            found.append(Finding(key, "the trims of its two edges leave nothing of a board of this size",
                                 f"breadth over {form.length_unit(2 * project.boards.edge_trim)}, two edge trims",
                                 "Write a smaller `edge_trim`, or take the entry away."))
        known.append(sides)
    return found


def _leaf(leaf: ListedLeaf) -> FreeLeaf:
    if leaf.size is not None:
        width, height = leaf.size
        return FreeLeaf(leaf.mark, ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)), SIDES)
    return FreeLeaf(leaf.mark, leaf.outline, tuple(str(i) for i in range(1, len(leaf.outline) + 1)))


def _ends(join: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """`BACK.left / SIDE.right` as two (mark, edge) pairs. Raises ValueError."""
    first, second = (part.strip() for part in join.split("/"))
    (a, edge_a), (b, edge_b) = (part.rsplit(".", 1) for part in (first, second))
    return (a.strip(), edge_a.strip()), (b.strip(), edge_b.strip())


def _leaves(project: FreeProject, form: Format) -> Iterator[Finding]:
    seen: set[str] = set()
    for number, leaf in enumerate(project.shelter.leaves):
        key = f"shelter.leaves.{number}"
        if leaf.mark in seen:
            yield Finding(f"{key}.mark", "two leaves bear this mark", "every mark once", "Give one of them another mark.")
        seen.add(leaf.mark)
        if (leaf.size is None) == (not leaf.outline):
            yield Finding(key, "a leaf needs either a size or an outline", "exactly one of the two",
                          f"Write `size: {form.size(600.0, 1200.0)}`, or an outline.")
            continue
        points = _leaf(leaf).outline
        if len(points) < 3:
            yield Finding(f"{key}.outline", f"an outline of {len(points)} corners has no area", "3 corners or more",
                          "List all corners.")
            continue
        if not _convex(points):
            yield Finding(f"{key}.outline", "the corners do not go counter-clockwise round a convex leaf",
                          "every corner turns left", "List the corners counter-clockwise, and split a leaf with an "
                          "inward corner into two with a seam between them.")
            continue
        land, narrowest = project.tape.land, _narrowest(points)
        if 2 * land >= narrowest - 1e-6:
            yield Finding(key, f"the lands of opposite edges would meet: {leaf.mark} is {form.length_unit(narrowest)} wide",
                          f"wider than {form.length_unit(2 * land)}, two lands",
                          "Make the leaf wider, or `tape.land` smaller.")


def _seams(project: FreeProject, form: Format) -> Iterator[Finding]:
    leaves = {leaf.mark: _leaf(leaf) for leaf in project.shelter.leaves if leaf.size is not None or leaf.outline}
    used: set[tuple[str, str]] = set()
    reached = {project.shelter.leaves[0].mark} if project.shelter.leaves else set()
    pairs: list[tuple[str, str]] = []
    for number, seam in enumerate(project.shelter.seams):
        key = f"shelter.seams.{number}.join"
        try:
            ends = _ends(seam.join)
        except ValueError:
            yield Finding(key, "this does not name two edges", "MARK.edge / MARK.edge",
                          "Write it as `BACK.left / SIDE.right`.")
            continue
        wrong = [finding for end in ends for finding in _end(key, end, leaves, used)]
        yield from wrong
        if wrong:
            continue
        used.update(ends)
        if ends[0][0] == ends[1][0]:
            yield Finding(key, "a leaf cannot be hinged to itself", "two leaves", "Name an edge of another leaf.")
            continue
        lengths = [_edge(leaves[mark], edge) for mark, edge in ends]
        if abs(lengths[0] - lengths[1]) > _SAME_LENGTH:
            yield Finding(key, f"the two edges are {form.length_both(lengths[0])} and {form.length_both(lengths[1])} long",
                          "edges of one length", "Change the size of one of the leaves.")
        if seam.bonded:
            pairs.append((ends[0][0], ends[1][0]))
    for _ in leaves:
        reached |= {other for pair in pairs if reached.intersection(pair) for other in pair}
    for number, leaf in enumerate(project.shelter.leaves):
        if leaf.mark not in reached:
            yield Finding(f"shelter.leaves.{number}", f"no bonded seam leads from the first leaf to {leaf.mark}",
                          "one piece of work to a project", "Add the seam that joins it, or take the leaf away.")


def _end(key: str, end: tuple[str, str], leaves: dict[str, FreeLeaf], used: set[tuple[str, str]]) -> Iterator[Finding]:
    mark, edge = end
    if mark not in leaves:
        yield Finding(key, f"there is no leaf {mark}", f"marks: {', '.join(leaves)}",
                      nearest(mark, leaves) or "Write one of these marks.")
    elif edge not in leaves[mark].edges:
        edges = leaves[mark].edges
        yield Finding(key, f"leaf {mark} has no edge {edge}", f"edges: {', '.join(edges)}",
                      nearest(edge, edges) or "Write one of these edges.")
    elif end in used:
        yield Finding(key, f"edge {mark}.{edge} is in two seams", "every edge in one seam at most",
                      "Take one of the seams away.")


def _edge(leaf: FreeLeaf, name: str) -> float:
    i = leaf.edges.index(name)
    return math.dist(leaf.outline[i], leaf.outline[(i + 1) % len(leaf.outline)])


def _convex(points: tuple[tuple[float, float], ...]) -> bool:
    """Whether every corner turns left, once round."""
    turned = 0.0
    count = len(points)
    for i in range(count):
        (ax, ay), (bx, by), (cx, cy) = points[i - 1], points[i], points[(i + 1) % count]
        turn = math.atan2((bx - ax) * (cy - by) - (by - ay) * (cx - bx), (bx - ax) * (cx - bx) + (by - ay) * (cy - by))
        if turn <= 1e-9:
            return False
        turned += turn
    return abs(turned - 2 * math.pi) < 1e-6


def _narrowest(points: tuple[tuple[float, float], ...]) -> float:
    """Least width of a convex outline over all directions: always square to one of its edges, mm."""
    widths = []
    for i, (ax, ay) in enumerate(points):
        bx, by = points[(i + 1) % len(points)]
        length = math.dist((ax, ay), (bx, by))
        widths.append(max(((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in points))
    return min(widths)
