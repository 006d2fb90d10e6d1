"""Words of the trade with a fixed set of values, shared by the whole program."""

from __future__ import annotations

from enum import StrEnum


class Side(StrEnum):
    """A hand, seen from outside."""

    LEFT = "left"
    RIGHT = "right"


class Face(StrEnum):
    """One of the two faces of a leaf or a board."""

    INNER = "inner"
    OUTER = "outer"

    @property
    def other(self) -> Face:
        return Face.OUTER if self is Face.INNER else Face.INNER


class Tool(StrEnum):
    """What cuts the boards; a saw takes a kerf, a knife none."""

    KNIFE = "knife"
    SAW = "saw"


class Language(StrEnum):
    """What the packet's sentences are written in."""

    EN = "en"
    ES = "es"


class Preset(StrEnum):
    """What fills the assembly graph."""

    RING = "ring"
    CHAIN = "chain"
    FREE = "free"


class OpeningKind(StrEnum):
    """What an opening in a leaf is for."""

    WINDOW = "window"
    VENT = "vent"
    SLEEVE = "cable sleeve"
    PORT = "unit port"


class Swing(StrEnum):
    """A swing leaf one walks through, or one that a latch holds shut."""

    DOOR = "door"
    PANEL = "panel"


class Ground(StrEnum):
    """How the first listed leaf meets the ground."""

    STANDS = "stands"
    LIES = "lies"


class Packed(StrEnum):
    """A seam in the pack: folded shut, or left in one plane."""

    SHUT = "shut"
    FLAT = "flat"

    @property
    def angle(self) -> float:
        """Between the two boards, degrees."""
        return 0.0 if self is Packed.SHUT else 180.0


class Grip(StrEnum):
    """How well hands hold what they lift."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class Harm(StrEnum):
    """What happens to a person who does not avoid a hazard."""

    DEATH = "death"
    SERIOUS = "serious"
    MODERATE = "moderate"
    MINOR = "minor"
    NONE = "none"


class TapeKind(StrEnum):
    """A kind of tape that is bought by the roll."""

    STRAPPING = "strapping"
    FOIL = "foil"


class Compass(StrEnum):
    """The eight points of the compass."""

    NORTH = "n"
    NORTH_EAST = "ne"
    EAST = "e"
    SOUTH_EAST = "se"
    SOUTH = "s"
    SOUTH_WEST = "sw"
    WEST = "w"
    NORTH_WEST = "nw"

    @property
    def bearing(self) -> float:
        """Degrees counter-clockwise from east, as plans with north up count."""
        return 90.0 - 45.0 * list(Compass).index(self)
