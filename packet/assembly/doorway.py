"""A door and the jamb leaf it closes against, as they stand, tops on one line.

Frame, mm: x = 0 where the door's free edge meets the jamb's corner edge, to the right as seen on the face
asked for; y = 0 at the tops, so that everything that hangs is negative.
"""

from __future__ import annotations

from dataclasses import dataclass

from packet.assembly.records import Assembly, Leaf, Point, SeamKind
from packet.description.terms import Face, Side


@dataclass(frozen=True, slots=True)
class Panelled:
    """One leaf of a doorway: finished outline, outline while hinged, centres of its holes with diameters."""

    mark: str
    outline: tuple[Point, ...]
    hinged: tuple[Point, ...]
    holes: tuple[tuple[Point, float], ...]

    @property
    def top(self) -> float:
        return max(y for _, y in self.hinged)

    @property
    def foot(self) -> float:
        """Lower edge of the finished leaf."""
        return min(y for _, y in self.outline)

    @property
    def width(self) -> float:
        xs = [x for x, _ in self.outline]
        return max(xs) - min(xs)


@dataclass(frozen=True, slots=True)
class Doorway:
    """A door and its jamb seen on one face. `beside` is the leaf the door is hinged to, `roof` the leaf above it,
    `hinge` the side of the door its hinge is on, as seen on that face; `ground` the level of the ground."""

    face: Face
    door: Panelled
    jamb: Panelled
    beside: str
    roof: str
    hinge: Side
    ground: float

    @property
    def trim(self) -> float:
        """What the door loses at its bottom, which is the gap under it."""
        return self.door.foot - self.ground

    def above_ground(self, leaf: Panelled) -> tuple[float, ...]:
        """Heights of a leaf's hole centres over the ground."""
        return tuple(centre[1] - self.ground for centre, _ in leaf.holes)

    @staticmethod
    def below_top(leaf: Panelled) -> tuple[float, ...]:
        """Depths of a leaf's hole centres under the top."""
        return tuple(leaf.top - centre[1] for centre, _ in leaf.holes)

    @staticmethod
    def from_free_edge(leaf: Panelled) -> tuple[float, ...]:
        """Distances of a leaf's hole centres from the edge that meets the other leaf."""
        return tuple(abs(centre[0]) for centre, _ in leaf.holes)


def doorway(assembly: Assembly, door: Leaf, face: Face) -> Doorway:
    """The doorway of a swing leaf. Raises StopIteration for a leaf without corner or hinge: no swing leaf."""
    jamb = assembly.jamb_of(door)
    hinge = next(s for s in assembly.seams_of(door.mark) if s.bonded and s.kind is SeamKind.WALL_MID)
    beside = hinge.leaves[1] if hinge.leaves[0] == door.mark else hinge.leaves[0]
    hung, stood = _placed(door, face), _placed(jamb, face)
    right = max(x for x, _ in hung.outline) > 1e-6
    return Doorway(
        face,
        hung,
        stood,
        beside,
        assembly.above(door).mark,
        Side.RIGHT if right else Side.LEFT,
        min(y for _, y in stood.outline),
    )


def _placed(leaf: Leaf, face: Face) -> Panelled:
    """The leaf with its corner edge on x = 0 and its top on y = 0; the other face is the mirror image."""
    mirror = 1.0 if face is leaf.marked_face else -1.0
    edge = mirror * leaf.edge("corner")[0][0]
    top = max(y for _, y in leaf.hinged)

    def at(point: Point) -> Point:
        return (mirror * point[0] - edge, point[1] - top)

    return Panelled(
        leaf.mark,
        tuple(at(p) for p in leaf.outline),
        tuple(at(p) for p in leaf.hinged),
        tuple((at((hole.x, hole.y)), hole.diameter) for hole in leaf.holes),
    )
