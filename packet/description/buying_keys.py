"""Keys of the project file on what is bought: other boards to compare, and prices."""

from typing import Annotated

from packet.description.kinds import Choice, Length, Listed, Money, Number, Size, Text
from packet.description.section import Section
from packet.description.terms import TapeKind
from packet.units import POUND_PER_CUBIC_FOOT


class Alternate(Section):
    """Another board that could be bought instead."""

    size: Annotated[tuple[float, float], Size(Length(("6", "240"), ("150", "6000"), usual=("48", "1200")))]
    """Breadth and length of the board."""
    thickness: Annotated[float, Length(("1/4", "6"), ("5", "150"), usual=("1", "40"))]
    """Thickness of the board."""
    price: Annotated[int | None, Money()] = None
    """Price of one board."""
    density: Annotated[
        float | None, Number((0.3, 5), (10, 160), ("lb/cu ft", "kg/m³"), (POUND_PER_CUBIC_FOOT, 1.0))
    ] = None
    """Density of the board, where it is not the assumed one."""


class OtherSize(Section):
    """Another size of the same board, bought together with `boards.size`."""

    size: Annotated[tuple[float, float], Size(Length(("6", "240"), ("150", "6000"), usual=("48", "1200")))]
    """Breadth and length of the board."""
    price: Annotated[int | None, Money()] = None
    """Price of one board of this size."""


class RollPrice(Section):
    """What a roll of tape costs."""

    tape: Annotated[TapeKind, Choice(TapeKind, ("strapping", "strapping"))]
    """The tape: strapping or foil."""
    width: Annotated[float, Length(("1/2", "24"), ("10", "600"), usual=("4", "100"))]
    """Width of the roll, one of those in stock."""
    price: Annotated[int, Money()]
    """Price of one roll."""


class Prices(Section):
    """Prices, as they were asked for."""

    date: Annotated[str, Text(10, ("", ""))]
    """Day of the prices, as it is to be printed."""
    currency: Annotated[str, Text(8, ("", ""))]
    """Currency of all amounts."""
    board: Annotated[int | None, Money()] = None
    """Price of one board of `boards.size`."""
    rolls: Annotated[
        tuple[RollPrice, ...], Listed(24, ((), ()), "- {tape: strapping, width: 4, price: 12.50}", empty_allowed=True)]
    """Prices of rolls, each with its tape, width and price."""
    sleeve: Annotated[int | None, Money()] = None
    """Price of one pipe sleeve."""
    weather_strip: Annotated[int | None, Money()] = None
    """Price of a foot or a metre of weather strip."""
    tools: Annotated[int | None, Money()] = None
    """Price of a set of tools; 0 where they are at hand."""
