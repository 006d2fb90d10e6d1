"""The project file, key by key: kind, limits, default and what it means. `packet.units` reads the lengths."""

from typing import Annotated

from packet.description.buying_keys import Alternate, OtherSize, Prices
from packet.description.crew_keys import Crew, Rates, Seats
from packet.description.kinds import Choice, Count, Extent, Flag, Length, Listed, Number, Paper, Size, Text
from packet.description.repair_keys import Repair
from packet.description.section import Section
from packet.description.site_keys import Air, Cautions, Lift, Site, Taping, Transport, Wind
from packet.description.terms import Face, Ground, Language, OpeningKind, Packed, Preset, Side, Swing, Tool
from packet.units import POUND_PER_CUBIC_FOOT, System

_BOARD_SIDE = Length(("6", "240"), ("150", "6000"), usual=("48", "1200"))
_DIAGONAL = Length(("8", "340"), ("200", "8500"), usual=("107", "2680"))
_THICKNESS = Length(("1/4", "6"), ("5", "150"), usual=("1", "40"))
_WIDTH = Length(("1/2", "24"), ("10", "600"), usual=("4", "100"))
_ROLL = Length(("1 yd", "1000 yd"), ("1 m", "1000 m"), ("60 yd", "50 m"))


_PRESET = Choice(Preset, ("ring", "ring"))


class Shelter(Section):
    """The shape: a ring of walls under a pointed roof."""

    preset: Annotated[Preset, _PRESET]
    """What is built: ring, chain (a folding screen) or free (leaves and seams that are listed)."""
    walls: Annotated[int, Count(4, 12)]
    """How many walls stand in the ring; two leaves each. An odd number needs `releasable: yes`."""
    releasable: Annotated[bool, Flag(("no", "no"))]
    """Whether one corner-and-hip line is left unbonded and closed with a strip that comes off; an odd ring packs
    only so, as an open chain in one column."""
    leaf_width: Annotated[float, Length(("2", "120"), ("50", "3000"), usual=("20", "500"))]
    """Width of a wall leaf: half a wall."""
    wall_height: Annotated[float, Length(("4", "120"), ("100", "3000"), usual=("54", "1100"))]
    """Height of the walls, sill to eave."""
    slant: Annotated[float, Length(("4", "192"), ("100", "5000"), usual=("42", "1000"))]
    """Length of a roof leaf from eave to apex along its mid edge, before the tip is trimmed."""
    tip_trim: Annotated[float, Length(("1/4", "24"), ("6", "600"), ("3", "75"))]
    """How much of each roof leaf's tip is cut off, along the mid edge; it leaves the peak opening."""


class Chain(Section):
    """The shape: a folding screen, leaves of one size in a row."""

    preset: Annotated[Preset, _PRESET]
    """What is built: ring, chain (a folding screen) or free (leaves and seams that are listed)."""
    leaves: Annotated[int, Count(2, 40)]
    """How many leaves the screen has."""
    leaf_width: Annotated[float, Length(("2", "120"), ("50", "3000"), usual=("20", "500"))]
    """Width of a leaf."""
    height: Annotated[float, Length(("4", "192"), ("100", "5000"), usual=("54", "1100"))]
    """Height of a leaf."""
    open_angle: Annotated[float, Number((10, 180), (10, 180), ("degrees", "degrees"), default=("120", "120"))]
    """Angle between neighbouring leaves when the screen stands, in degrees: 180 is flat."""


_CORNER = Extent(Length(("0", "240"), ("0", "6000"), usual=("24", "600")))


class ListedLeaf(Section):
    """One leaf of a free shape."""

    mark: Annotated[str, Text(8, needed=True)]
    """The leaf's mark, such as BACK."""
    size: Annotated[tuple[float, float] | None, Extent(Length(("1", "240"), ("25", "6000"), usual=("24", "600")))] = None
    """Width x height of a rectangular leaf; its edges are bottom, right, top and left, seen on the printed face."""
    outline: Annotated[
        tuple[Annotated[tuple[float, float], _CORNER], ...], Listed(24, ((), ()), "[0 x 0, 24 x 0, 12 x 30]", True)
    ]
    """Corners of any other leaf, each `x x y` from its lower left, counter-clockwise as seen on the printed face;
    edges are named 1, 2, ... from corner to corner."""


class ListedSeam(Section):
    """One seam of a free shape."""

    join: Annotated[str, Text(40, needed=True)]
    """The two edges that meet, such as `BACK.left / SIDE.right`."""
    closing: Annotated[Face, Choice(Face, ("inner", "inner"))]
    """The face pair that meets when the seam folds."""
    open: Annotated[float, Number((1, 180), (1, 180), ("degrees", "degrees"), default=("90", "90"))]
    """Angle between the two boards when the shape stands, in degrees: 180 is flat."""
    packed: Annotated[Packed, Choice(Packed, ("shut", "shut"))]
    """In the pack: shut (folded) or flat (left in one plane)."""
    bonded: Annotated[bool, Flag(("yes", "yes"))]
    """Whether the seam is taped; one that is not only touches."""


class Free(Section):
    """The shape: leaves and seams as they are listed."""

    preset: Annotated[Preset, _PRESET]
    """What is built: ring, chain (a folding screen) or free (leaves and seams that are listed)."""
    first: Annotated[Ground, Choice(Ground, ("stands", "stands"))]
    """Whether the first leaf stands on its bottom edge or lies on the ground, printed face up."""
    leaves: Annotated[tuple[ListedLeaf, ...], Listed(60, ((), ()), "- {mark: BACK, size: 1000 x 1900}")]
    """The leaves, each with its mark and its size or outline."""
    seams: Annotated[tuple[ListedSeam, ...], Listed(120, ((), ()), "- {join: BACK.left / SIDE.right}")]
    """The seams between the leaves."""


class Doors(Section):
    """The two swing leaves."""

    hand: Annotated[Side, Choice(Side, ("right", "right"))]
    """The side the hinge is on, seen from outside."""
    bottom_trim: Annotated[float, Length(("0", "12"), ("0", "300"), ("3/4", "20"))]
    """How much is cut off the bottom of a door leaf, so that it clears the ground."""
    second: Annotated[Swing, Choice(Swing, ("door", "door"))]
    """What the second swing leaf is: a door, or a panel that a latch holds."""
    latch_below_head: Annotated[float | None, Length(("1/2", "120"), ("12", "3000"))] = None
    """From the top of the door down to the centre of the latch hole; without it, half the wall height."""
    latch_from_free_edge: Annotated[float, Length(("1/2", "120"), ("12", "3000"), ("4", "100"))]
    """From the free edge of the door to the centre of the latch hole."""
    latch_hole: Annotated[float, Length(("1/4", "6"), ("6", "150"), ("1.315", "33.4"))]
    """Diameter of the latch hole: the outside of the pipe that lines it."""


class OpeningEntry(Section):
    """One opening cut through a leaf."""

    leaf: Annotated[str, Text(8, needed=True)]
    """Mark of the leaf it is cut in, such as A3."""
    kind: Annotated[OpeningKind, Choice(OpeningKind, ("window", "window"))]
    """What it is for: window, vent, cable sleeve or unit port."""
    size: Annotated[tuple[float, float] | None, Extent(Length(("1/4", "96"), ("6", "2500"), usual=("12", "300")))] = None
    """Width x height of a rectangular opening."""
    diameter: Annotated[float | None, Length(("1/4", "60"), ("6", "1500"), usual=("4", "100"))] = None
    """Diameter of a round opening."""
    across: Annotated[float, Length(("0", "240"), ("0", "6000"), usual=("10", "250"))]
    """From the mid edge (of a listed leaf: from its left) to the centre."""
    up: Annotated[float, Length(("0", "240"), ("0", "6000"), usual=("30", "750"))]
    """From the sill or eave (of a listed leaf: from its bottom) up to the centre."""


class Measured(Section):
    """One board as delivered."""

    length: Annotated[float, _BOARD_SIDE]
    """The board's length as measured."""
    breadth: Annotated[float, _BOARD_SIDE]
    """The board's breadth as measured."""
    diagonals: Annotated[tuple[Annotated[float, _DIAGONAL], ...], Listed(2, ((), ()), "[107-1/4, 107-3/8]", True)]
    """Both diagonals as measured, where they were."""
    thickness: Annotated[tuple[Annotated[float, _THICKNESS], ...], Listed(4, ((), ()), "[1, 1, 1-1/16, 1]", True)]
    """Thickness at the four corners as measured, where it was."""


class Boards(Section):
    """The boards as bought."""

    size: Annotated[tuple[float, float], Size(_BOARD_SIDE)]
    """Breadth and length of a board."""
    thickness: Annotated[float, _THICKNESS]
    """Thickness of a board."""
    printed_face: Annotated[Face, Choice(Face, ("inner", "inner"))]
    """Where the printed face goes."""
    tool: Annotated[Tool, Choice(Tool, ("knife", "knife"))]
    """What cuts the boards."""
    kerf: Annotated[float | None, Length(("0", "1/2"), ("0", "12"))] = None
    """Width that a cut takes away; without it, nothing for a knife and 1/8 in or 3 mm for a saw."""
    spare: Annotated[int, Count(0, 20, ("0", "0"))]
    """Boards to buy beyond those that are cut."""
    edge_trim: Annotated[float, Length(("0", "6"), ("0", "150"), ("0", "0"))]
    """How much is cut off each edge of a board that came damaged or out of square."""
    splice: Annotated[bool, Flag(("no", "no"))]
    """Whether a leaf larger than a board may be made of parts, butted and taped on both faces: a line weaker than whole
    board, whose strength is not worked out."""
    measured: Annotated[
        tuple[Measured, ...], Listed(100, ((), ()), "- {length: 95-7/8, breadth: 48}", empty_allowed=True)
    ]
    """The boards as delivered, each with length and breadth, and with diagonals and thickness where they were
    measured; leaves are fitted to the smallest."""
    also: Annotated[
        tuple[OtherSize, ...], Listed(5, ((), ()), "- {size: 48 x 120, price: 31.50}", empty_allowed=True)
    ]
    """Other sizes of the same board that are bought together with the first, each with its price where it is known: the
    layout takes the cheapest mix, or the least area of board where a price is missing."""
    alternates: Annotated[
        tuple[Alternate, ...],
        Listed(12, ((), ()), "- {size: 48 x 108, thickness: 1-1/2, price: 31.50}", empty_allowed=True)
    ]
    """Other boards that can be bought, each with size and thickness, and with price and density where they are
    known; the packet puts them side by side."""


class Tape(Section):
    """Strapping tape."""

    land: Annotated[float, Length(("1/2", "12"), ("12", "300"), ("2", "50"))]
    """Width of strip bonded on each leaf."""
    stock: Annotated[tuple[Annotated[float, _WIDTH], ...], Listed(12, (("4", "6"), ("50", "100", "150")), "[4, 6]")]
    """Widths of tape that can be bought."""
    sill_land: Annotated[float, Length(("1-1/4", "12"), ("32", "300"), ("1-1/4", "32"))]
    """Least width of sill strip bonded on each face."""
    combine: Annotated[bool, Flag(("yes", "yes"))]
    """Whether two strips may be overlapped where none is wide enough."""
    roll: Annotated[float, _ROLL]
    """Length of tape on a roll."""
    allowance: Annotated[float, Number((0, 100), (0, 100), ("percent", "percent"), default=("5", "5"))]
    """Tape to buy beyond what is counted, in percent."""
    join: Annotated[float, Length(("0", "24"), ("0", "600"), ("4", "100"))]
    """Lap where a strip goes on from a new roll, strapping and foil alike."""


class Foil(Section):
    """Foil tape, which keeps sunlight off the strapping."""

    stock: Annotated[tuple[Annotated[float, _WIDTH], ...], Listed(12, (("3",), ("75",)), "[3]")]
    """Widths of foil tape that can be bought."""
    margin: Annotated[float, Length(("0", "12"), ("0", "300"), ("1", "25"))]
    """How much wider the foil is than the strip it covers."""
    overlap: Annotated[float, Length(("0", "6"), ("0", "150"), ("1/2", "12"))]
    """Overlap of two passes of foil side by side."""
    roll: Annotated[float, Length(("1 yd", "1000 yd"), ("1 m", "1000 m"), ("50 yd", "45 m"))]
    """Length of foil on a roll."""


class Limits(Section):
    """What the checks at the bench allow."""

    board_spread: Annotated[float, Length(("1/32", "2"), ("1", "50"), ("1/4", "6"))]
    """Greatest difference between boards of one delivery."""
    thickness_spread: Annotated[float, Length(("1/64", "1"), ("0.5", "25"), ("1/8", "3"))]
    """Greatest difference in thickness over all boards of one delivery."""
    mark: Annotated[float, Length(("1/64", "1"), ("0.5", "25"), ("1/16", "1"))]
    """Greatest error of a mark."""
    cut: Annotated[float, Length(("1/64", "1"), ("0.5", "25"), ("1/8", "3"))]
    """Greatest error of a cut piece."""
    diagonal: Annotated[float, Length(("1/64", "2"), ("0.5", "50"), ("1/8", "3"))]
    """Greatest difference between the diagonals of a board or a leaf."""
    steep: Annotated[float, Number((1, 100), (1, 100), ("times", "times"), default=("6", "6"))]
    """How many times an error of the leaf width may move the peak before the lead is warned: the flatter the roof, the
    more. An assumption."""


class Assume(Section):
    """Assumptions, which the packet prints as such."""

    density: Annotated[
        float, Number((0.3, 5), (10, 160), ("lb/cu ft", "kg/m³"), (POUND_PER_CUBIC_FOOT, 1.0), ("2.0", "32"))
    ]
    """Density of the board: pounds per cubic foot, or kilograms per cubic metre."""
    tape_thickness: Annotated[float, Length(("0.001", "1/8"), ("0.02", "3"), ("0.008", "0.2"))]
    """Thickness of strapping tape; with the foil's it makes the pack thicker than its boards where strips lie."""
    foil_thickness: Annotated[float, Length(("0.001", "1/8"), ("0.02", "3"), ("0.003", "0.08"))]
    """Thickness of foil tape."""
    hinge_bulk: Annotated[float | None, Length(("0", "2"), ("0", "50"))] = None
    """How much thicker the pack is than its boards where strips cross; without it, worked out from the strips."""


class Common(Section):
    """What every project holds, whatever its shape."""

    project: Annotated[str, Text(40, needed=True)]
    """Title of the project."""
    units: Annotated[System, Choice(System)]
    """What a bare number means, and what the packet is printed in: in or mm."""
    paper: Annotated[tuple[tuple[float, float], str], Paper(("letter", "a4"))]
    """Paper to print on, by name or size."""
    number: Annotated[str, Text(16, ("", ""))]
    """Identification number."""
    owner: Annotated[str, Text(40, ("", ""))]
    """Who owns the drawings."""
    revision: Annotated[str, Text(2, ("A", "A"))]
    """Revision index."""
    date: Annotated[str, Text(10, ("", ""))]
    """Date of issue, as it is to be printed."""
    drawn_by: Annotated[str, Text(20, ("", ""))]
    """Who made the project."""
    approved_by: Annotated[str, Text(20, ("", ""))]
    """Who approved it."""
    replaces: Annotated[str, Text(16, ("none", "none"))]
    """What this packet supersedes."""
    quantity: Annotated[int, Count(1, 24, ("1", "1"))]
    """How many shelters are made from one order of boards and tape; their leaves are nested together."""
    language: Annotated[Language, Choice(Language, ("en", "en"))]
    """Language of the sentences in the packet."""
    words: Annotated[str, Text(60, ("", ""))]
    """Folder beside the project file with sentences of its own, in place of the program's."""
    boards: Boards
    """The boards."""
    prices: Prices
    """What the material costs, and since when."""
    tape: Tape
    """The strapping tape."""
    foil: Foil
    """The foil tape."""
    openings: Annotated[
        tuple[OpeningEntry, ...], Listed(60, ((), ()), "- {leaf: A3, size: 12 x 10, across: 10, up: 30}", True)
    ]
    """Openings cut through leaves, each with its leaf, size and place."""
    limits: Limits
    """Limits of the checks at the bench."""
    assume: Assume
    """Assumptions, printed as such."""
    wind: Wind
    """What the wind loads rest on."""
    lift: Lift
    """How boards and pack are lifted."""
    air: Air
    """Fresh air inside."""
    taping: Taping
    """Weather in which tape is laid."""
    transport: Transport
    """What the boards and the pack must pass."""
    site: Site
    """The place itself, and the time it stands there."""
    cautions: Cautions
    """Safety messages of the project's own."""
    crew: Crew
    """Who works, and when."""
    seats: Seats
    """Room at the stations."""
    rates: Rates
    """How fast the work goes."""
    repair: Repair
    """What is still good when a part is spoiled."""


class RingProject(Common):
    """A ring shelter and everything its packet needs."""

    shelter: Shelter
    """The shape."""
    doors: Doors
    """The two doors."""
    duct: Annotated[float | None, Length(("1", "60"), ("25", "1500"))] = None
    """Diameter of a duct through the peak opening, if there is one."""


class ChainProject(Common):
    """A folding screen and everything its packet needs."""

    shelter: Chain
    """The shape."""


class FreeProject(Common):
    """Listed leaves and seams and everything their packet needs."""

    shelter: Free
    """The shape."""


PROJECTS: dict[Preset, type[Common]] = {
    Preset.RING: RingProject, Preset.CHAIN: ChainProject, Preset.FREE: FreeProject}


def bounds(group: type[Section], name: str, system: System) -> tuple[float, float]:
    """Least and most of a length, mm."""
    (kind,) = (mark for mark in group.model_fields[name].metadata if isinstance(mark, Length))
    return kind.bounds(system)


def reading_bounds(name: str, system: System) -> tuple[float, float]:
    """Least and most, mm, of a reading of a board: length, breadth, diagonals or thickness."""
    kinds = {"length": _BOARD_SIDE, "breadth": _BOARD_SIDE, "diagonals": _DIAGONAL, "thickness": _THICKNESS}
    return kinds[name].bounds(system)
