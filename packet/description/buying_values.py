"""What the keys on buying come to. Amounts of money are whole hundredths of the currency, so that sums are exact."""

from __future__ import annotations

from dataclasses import dataclass

from packet.description.terms import TapeKind


@dataclass(frozen=True, slots=True)
class Alternate:
    """Another board that could be bought instead, mm; `price` in hundredths, `density` in kg/m3, None where the
    project gives none."""

    breadth: float
    length: float
    thickness: float
    price: int | None
    density: float | None


@dataclass(frozen=True, slots=True)
class RollPrice:
    """The price of a roll, in hundredths; its width in mm."""

    tape: TapeKind
    width: float
    price: int


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in hundredths of the currency, None where the project gives none."""

    date: str
    currency: str
    board: int | None
    rolls: tuple[RollPrice, ...]
    sleeve: int | None
    weather_strip: int | None
    tools: int | None
