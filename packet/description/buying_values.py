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
class OtherSize:
    """Another size of the same board that is bought together with `boards.size`, mm; `price` in hundredths, None where
    the project gives none."""

    breadth: float
    length: float
    price: int | None


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


def amount(hundredths: int, currency: str, point: str = ".") -> str:
    """`157.50 EUR`; the bare amount where no currency is given."""
    return f"{hundredths // 100}{point}{hundredths % 100:02d} {currency}".strip()
