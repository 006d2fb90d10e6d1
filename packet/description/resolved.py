"""What a project file comes to: every value given, lengths in mm. This is all that the assembly reads."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path

from packet.description.buying_values import Alternate, OtherSize, Prices
from packet.description.crew_values import Crew, Rates
from packet.description.decided import Decision, RepairLimits
from packet.description.site_values import Air, Cautions, Lift, Site, Taping, Transport, Wind
from packet.description.source import Position, place_of
from packet.description.terms import Face, Ground, Language, OpeningKind, Packed, Preset, Side, Swing, Tool
from packet.units import System


@dataclass(frozen=True, slots=True)
class Identity:
    """The fields of the title block that the project file gives."""

    number: str
    owner: str
    revision: str
    date: str
    drawn_by: str
    approved_by: str
    replaces: str


@dataclass(frozen=True, slots=True)
class Ring:
    """The ring shelter: `walls` sides of two leaves each. Leaf width is half a side; slant is the length of a
    roof leaf from eave to apex along its mid edge, before the tip trim."""

    preset: Preset
    walls: int
    leaf_width: float
    wall_height: float
    slant: float
    tip_trim: float
    releasable: bool


@dataclass(frozen=True, slots=True)
class Chain:
    """A folding screen: `leaves` of one size in a row, `open_angle` degrees between neighbours."""

    preset: Preset
    leaves: int
    leaf_width: float
    height: float
    open_angle: float


@dataclass(frozen=True, slots=True)
class FreeLeaf:
    """A listed leaf: corners in mm, counter-clockwise, and the names of the edges from corner to corner."""

    mark: str
    outline: tuple[tuple[float, float], ...]
    edges: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FreeSeam:
    """A listed seam: (leaf mark, edge name) twice; `open` in degrees."""

    first: tuple[str, str]
    second: tuple[str, str]
    closing: Face
    open: float
    packed: Packed
    bonded: bool


@dataclass(frozen=True, slots=True)
class Free:
    """Leaves and seams as they are listed."""

    preset: Preset
    first: Ground
    leaves: tuple[FreeLeaf, ...]
    seams: tuple[FreeSeam, ...]


Shape = Ring | Chain | Free


@dataclass(frozen=True, slots=True)
class Doors:
    """The two doors. `hand` is the hinge side seen from outside; the latch hole is placed by its centre."""

    hand: Side
    second: Swing
    bottom_trim: float
    latch_below_head: float
    latch_from_free_edge: float
    latch_hole: float  # diameter


@dataclass(frozen=True, slots=True)
class OpeningPlace:
    """An opening: its leaf, what for, width and height (a round one's diameter), and its centre from the leaf's
    mid or left edge and from its sill, eave or bottom."""

    leaf: str
    kind: OpeningKind
    width: float
    height: float
    round: bool
    across: float
    up: float


@dataclass(frozen=True, slots=True)
class MeasuredBoard:
    """One board as delivered: two diagonals and four corner thicknesses, or none of either, mm. `mark` is its number
    where it was measured at the table; in the project file a board's number is its place in the list."""

    length: float
    breadth: float
    diagonals: tuple[float, ...] = ()
    thickness: tuple[float, ...] = ()
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Boards:
    """The boards as bought; `also` holds other sizes that are bought together with the first, `measured` the boards
    delivered, `alternates` those that could be bought instead."""

    breadth: float
    length: float
    thickness: float
    printed_face: Face
    tool: Tool
    kerf: float
    spare: int
    edge_trim: float
    splice: bool
    measured: tuple[MeasuredBoard, ...]
    alternates: tuple[Alternate, ...]
    also: tuple[OtherSize, ...] = ()

    @property
    def sizes(self) -> tuple[tuple[float, float], ...]:
        """Breadth and length of every size that is bought together, that of `boards.size` first, mm."""
        return ((self.breadth, self.length), *((one.breadth, one.length) for one in self.also))


@dataclass(frozen=True, slots=True)
class Tape:
    """Strapping tape. `stock` holds widths, ascending; `allowance` is in percent, `join` the lap at a roll's end."""

    land: float
    stock: tuple[float, ...]
    sill_land: float
    combine: bool
    roll: float
    allowance: float
    join: float


@dataclass(frozen=True, slots=True)
class Foil:
    """Foil tape that covers the strapping. `stock` holds widths, ascending."""

    stock: tuple[float, ...]
    margin: float
    overlap: float
    roll: float


@dataclass(frozen=True, slots=True)
class Limits:
    """What the checks at the bench allow. `steep` is the change of apex height per change of leaf width from which
    small cutting errors show."""

    board_spread: float
    thickness_spread: float
    mark: float
    cut: float
    diagonal: float
    steep: float


@dataclass(frozen=True, slots=True)
class Assumptions:
    """Values that the packet prints as assumptions. `density` is in kg/m3, thicknesses are in mm.

    `hinge_bulk` is None where it follows from the strips.
    """

    density: float
    tape_thickness: float
    foil_thickness: float
    hinge_bulk: float | None


@dataclass(frozen=True, slots=True)
class Description:
    """One project, complete. `words` are sentences of its own by their keys;
    `paper` is (short, long) in mm; `assumed` names the keys that took a default."""

    title: str
    system: System
    paper: tuple[float, float]
    paper_name: str
    identity: Identity
    shape: Shape
    doors: Doors | None
    quantity: int
    language: Language
    words: tuple[tuple[str, str | tuple[str, ...]], ...]
    boards: Boards
    prices: Prices
    tape: Tape
    foil: Foil
    duct: float | None
    openings: tuple[OpeningPlace, ...]
    limits: Limits
    assume: Assumptions
    wind: Wind
    lift: Lift
    air: Air
    taping: Taping
    transport: Transport
    site: Site
    cautions: Cautions
    crew: Crew
    rates: Rates
    repair: RepairLimits
    source: Path
    assumed: tuple[str, ...]
    positions: Mapping[str, Position] = field(repr=False, compare=False, hash=False)
    lines: tuple[str, ...] = field(repr=False, compare=False, hash=False)
    decided: tuple[Decision, ...] = ()

    def position(self, key: str) -> tuple[int, int]:
        """1-based line and column of a key's value; of the group around a key that was not written."""
        return place_of(self.positions, key)

    @property
    def fingerprint(self) -> str:
        """8 hex digits of the values alone: comments, order of keys, units of writing and paths change nothing."""
        values = {entry.name: getattr(self, entry.name) for entry in fields(self) if entry.name not in _ASIDE}
        text = json.dumps(values, default=asdict, sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()[:8]


_ASIDE = ("source", "assumed", "positions", "lines")  # say where the values came from, and are no values themselves
