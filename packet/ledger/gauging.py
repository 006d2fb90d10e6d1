"""What the bars of a printed page say of the printer, and how the next full-size pages make up for it."""

from __future__ import annotations

from dataclasses import dataclass

from packet.drawing.full_size import BARS, Correction
from packet.ledger.entries import Gauged
from packet.ledger.store import Ledger
from packet.units import INCH, System

OFF = 1.5
"""Percent a bar may be off; more, and the page was printed to fit (common practice, no source)."""

APART = 0.5
"""Percent by which the two bars of one axis may disagree; more, and one was misread (assumption)."""

Bars = tuple[tuple[float, float], ...]
"""(true length, reading) of bars, mm."""


class ReadingError(ValueError):
    """Readings that cannot be what they are said to be: `wrong`, `limit` and `remedy` in the words of the trade."""

    def __init__(self, wrong: str, limit: str, remedy: str) -> None:
        super().__init__(f"{wrong} (limit: {limit}). {remedy}")


@dataclass(frozen=True, slots=True)
class Gauging:
    """The readings, and the factor on either axis that makes up for them: true over measured length."""

    readings: Gauged
    correction: Correction

    @property
    def fitted(self) -> bool:
        """Whether the page was printed to fit rather than at its size; then nothing is to be corrected."""
        return any(abs(1 / factor - 1) * 100 > OFF for factor in (self.correction.across, self.correction.up))


def gauging(across: Bars, up: Bars) -> Gauging:
    """Raises ReadingError where the bars of one axis disagree."""
    return Gauging(Gauged(across, up), Correction(factor(across), factor(up)))


def factor(bars: Bars) -> float:
    """True over measured length, all bars of an axis together: 100 mm that measure 99.2 give 1.0081."""
    shares = [reading / length for length, reading in bars]
    if (max(shares) - min(shares)) * 100 > APART:
        raise ReadingError("the two bars of one axis do not agree", f"{APART:g} % apart", "Read both again.")
    return sum(length for length, _ in bars) / sum(reading for _, reading in bars)


def bar_of(value: float, unit: str | None, system: System) -> tuple[float, float]:
    """Which bar a reading is of, and the reading in mm. A bare number is in the unit that the bar is named in.

    Raises ReadingError where it is of none: farther than a fifth from every bar.
    """
    best: tuple[float, float] | None = None
    for length, _ in BARS[system]:
        inches = system is System.INCH and abs(length / INCH - round(length / INCH)) < 1e-9
        each = {None: INCH if inches else 1.0, "in": INCH, "mm": 1.0}[unit]
        reading = value * each
        if abs(reading / length - 1) < 0.2 and (best is None or abs(reading / length - 1) < abs(best[1] / best[0] - 1)):
            best = (length, reading)
    if best is None:
        names = " or ".join(f"{length / INCH:g} in" if system is System.INCH and length == 6 * INCH else f"{length:g} mm"
                            for length, _ in BARS[system])
        raise ReadingError(f"{value:g} is no reading of these bars", names, "Measure the bars of a full-size page.")
    return best


def correction_of(ledger: Ledger) -> Correction | None:
    """What the last readings of a ledger ask for; None where there are none, or where nothing is to be corrected."""
    last = next((entry.item for entry in reversed(ledger.entries) if isinstance(entry.item, Gauged)), None)
    if last is None:
        return None
    found = gauging(last.across, last.up)
    return None if found.fitted or found.correction == Correction(1.0, 1.0) else found.correction


def fit_named(shares: tuple[float, float]) -> str:
    """Which paper was printed on which, by the shares that were measured across and up; empty where it is unknown.

    A page shrunk to fit keeps its proportions: A4 lying on letter paper by 215.9 / 229.4 ..., see `FITS`.
    """
    return next((name for name, share in FITS if all(abs(found / share - 1) < 0.006 for found in shares)), "")


FITS = (("A4 on letter", 0.941), ("letter on A4", 0.973))
"""By how much common printers shrink a page to fit other paper: the shorter of the side ratios (279.4 / 297 = 0.941 and
210 / 215.9 = 0.973; ISO 216, and letter as in ASME Y14.1)."""
