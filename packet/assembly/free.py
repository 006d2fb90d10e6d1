"""Presets without a roof ring: the folding screen, and leaves and seams that the user lists.

A listed leaf is an outline in its own frame, seen on its marked face, counter-clockwise. A listed seam joins
one edge of one leaf to one edge of another; the edges must be equally long. Where the leaves stand follows from
the open angles alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from packet.assembly.records import Assembly, Hand, Leaf, LeafKind, Point, Pose, Seam, SeamKind
from packet.assembly.standing import LYING, UPRIGHT, stand
from packet.description.terms import Face

SIDES = ("bottom", "right", "top", "left")
"""Edges of a leaf that is given by its width and height, counter-clockwise from the bottom left corner."""


@dataclass(frozen=True, slots=True)
class ListedLeaf:
    """A leaf as the user lists it; lengths in mm. `edges[i]` runs from point i to point i + 1."""

    mark: str
    outline: tuple[Point, ...]
    edges: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ListedSeam:
    """A seam as the user lists it: (leaf mark, edge name) twice. Angles in degrees, 180 flat, 0 folded shut."""

    first: tuple[str, str]
    second: tuple[str, str]
    closing_face: Face
    angle_open: float
    angle_packed: float
    bonded: bool


def rectangle(width: float, height: float) -> tuple[Point, ...]:
    """Outline of a leaf of that size (mm), its edges named by SIDES."""
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def free_assembly(leaves: tuple[ListedLeaf, ...], seams: tuple[ListedSeam, ...], thickness: float,
                  marked_face: Face, first_lies: bool) -> Assembly:
    """The graph of listed leaves. The first leaf stands on its bottom edge, or lies on the ground.

    Edge lengths and names are checked where the project file is read.
    """
    nowhere = Pose((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
    made = {
        leaf.mark: Leaf(
            mark=leaf.mark, kind=LeafKind.WALL, half="A", hand=Hand.MID_LEFT, door=False, outline=leaf.outline,
            hinged=leaf.outline, rough=leaf.outline, edges=leaf.edges, thickness=thickness,
            marked_face=marked_face, open_pose=nowhere)
        for leaf in leaves
    }
    joined = tuple(_seam(made, seam) for seam in seams)
    first = LYING if first_lies else UPRIGHT
    return Assembly(stand(tuple(made.values()), joined, first), joined, ("A",), thickness)


def _seam(leaves: dict[str, Leaf], seam: ListedSeam) -> Seam:
    """The edge of the second leaf runs the other way round, so that both start at the same point."""
    (a, edge_a), (b, edge_b) = seam.first, seam.second
    start, stop = leaves[b].edge(edge_b)
    return Seam(f"{a}/{b}", SeamKind.SEAM, (a, b), leaves[a].edge(edge_a), (stop, start), seam.closing_face,
                seam.angle_open, seam.angle_packed, seam.bonded)


def chain_assembly(count: int, width: float, height: float, angle_open: float, thickness: float,
                   marked_face: Face) -> Assembly:
    """A folding screen: `count` leaves of one size, hinged in a row, closing outer and inner in turn.

    Opened to `angle_open` degrees at every hinge it stands as a zigzag; packed it is one column.
    """
    leaves = tuple(ListedLeaf(f"A{i}", rectangle(width, height), SIDES) for i in range(1, count + 1))
    seams = tuple(
        ListedSeam((f"A{i}", "right"), (f"A{i + 1}", "left"), Face.OUTER if i % 2 else Face.INNER, angle_open, 0.0, True)
        for i in range(1, count))
    return free_assembly(leaves, seams, thickness, marked_face, first_lies=False)
