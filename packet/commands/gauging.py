"""What the bars of a page measured, for the next full-size pages."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Project, plan_of, refuse, say

if TYPE_CHECKING:
    from packet.drawing.full_size import Correction
    from packet.ledger.gauging import Bars
    from packet.units import System

_UNIT = re.compile(r"\s*(mm|cm|in|inch|inches|\")\s*$")


def gauge(
    project: Project,
    across: Annotated[list[str] | None, typer.Option(help="Reading of a level bar; give it once for each bar.")] = None,
    up: Annotated[list[str] | None, typer.Option(help="Reading of an upright bar; give it once for each bar.")] = None,
    corrected: Annotated[bool, typer.Option("--corrected", help="The page that was measured says it is corrected.")] = False,
) -> None:
    """Take the readings of the bars on a full-size page. The next full-size pages are corrected, either axis by itself.

    Example: packet gauge hut.yaml --across 99.2 --across 148.8 --up 100.1 --up 150.2
    """
    from packet.drawing.full_size import Correction
    from packet.ledger.gauging import OFF, ReadingError, correction_of, fit_named, gauging
    from packet.ledger.store import Ledger, LedgerError

    system = plan_of(project).description.system
    try:
        ledger = Ledger.of(project)
        sent = (correction_of(ledger) if corrected else None) or Correction(1.0, 1.0)
        found = gauging(_bars("--across", across, system, sent.across), _bars("--up", up, system, sent.up))
    except (ReadingError, LedgerError) as fault:
        refuse(f"{_ended(fault)} Nothing was recorded.")
    if found.fitted:
        shares = (1 / found.correction.across, 1 / found.correction.up)
        named = fit_named(shares)
        refuse(f"The page was printed to fit{f' ({named})' if named else ''}: {shares[0]:.1%} across, {shares[1]:.1%} up "
               f"(limit: {OFF:g} % off). Such a page is not to be corrected: print it again at 100 %, \"actual size\", on "
               "its own paper. Nothing was recorded.")
    try:
        ledger.append([found.readings])
    except (LedgerError, OSError) as fault:
        refuse(f"{ledger.path}: cannot be written ({fault}). Nothing was recorded.")
    say(f"{_told(found.correction)} Recorded in {ledger.path}. The next full-size pages are drawn so, and say it.")


def _told(correction: Correction) -> str:
    return f"Across: factor {correction.across:.4f}. Up: factor {correction.up:.4f}."


def _ended(fault: Exception) -> str:
    return f"{str(fault).removesuffix('.')}."


def _bars(option: str, texts: list[str] | None, system: System, sent: float) -> Bars:
    """Each reading with the length that was sent to the printer for its bar, mm."""
    from packet.ledger.gauging import ReadingError, bar_of
    from packet.units import LengthError, parse_length

    if not texts:
        refuse(f"{option}: a reading is missing (limit: one or two bars on either axis). Measure the bars of a full-size "
               f"page and give {option} once for each.")
    found = []
    for text in texts:
        unit = _UNIT.search(text.lower())
        named = {"mm": "mm", "cm": "cm"}.get(unit[1], "in") if unit else None
        try:
            value = parse_length(text[: unit.start()] if unit else text, "mm") * (10.0 if named == "cm" else 1.0)
            length, reading = bar_of(value, "mm" if named == "cm" else named, system)
        except (LengthError, ReadingError) as fault:
            refuse(f"{option} {text!r}: {_ended(fault)} Nothing was recorded.")
        found.append((length * sent, reading))
    return tuple(found)
