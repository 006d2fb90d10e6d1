"""From a plan to a PDF on disk."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from types import MappingProxyType
from typing import BinaryIO

from packet.drawing.page import FinishedSheet
from packet.drawing.room import LayoutError
from packet.ledger.gauging import correction_of
from packet.ledger.store import Ledger
from packet.pdf.content import PageContent
from packet.pdf.fonts import lettering
from packet.pdf.writer import Packet, write, write_bound, write_pages
from packet.plan import Plan
from packet.sheets.kit import make_kit
from packet.sheets.register import Progress, draw_all, draw_board, draw_sheet
from packet.words import Words
from packet.work.stations import Station

SUBJECT = "Build packet"


def print_packet(plan: Plan, target: Path, *, processes: int = 1, progress: Progress = lambda name: None
                 ) -> tuple[PageContent, ...]:
    """Draw all sheets, by up to so many processes, and write them to `target` whole or not at all.

    Raises OSError when the file cannot be written, GlyphError when a text of the project cannot be set, LayoutError.
    """
    from packet.side_by_side import pages_of

    description = plan.description
    pages = pages_of(plan, make_kit(plan, lettering()), processes, progress, correction_of(Ledger.of(description.source)))
    progress("pdf")
    write_pages(pages, target, description.title, SUBJECT, description.identity.owner, description.language)
    return pages


def drawn(plan: Plan, progress: Progress = lambda name: None) -> tuple[FinishedSheet, ...]:
    """All sheets, ready to be written. Raises GlyphError and LayoutError."""
    return draw_all(plan, make_kit(plan, lettering()), progress)


def one_board(plan: Plan, mark: str) -> tuple[FinishedSheet, ...]:
    """One board's marking sheets alone; the mark must exist. Raises GlyphError and LayoutError."""
    return draw_board(plan, make_kit(plan, lettering()), mark)


def pdf_of(plan: Plan, sheets: Sequence[FinishedSheet]) -> bytes:
    """The same bytes that `print_packet` writes to a file."""
    buffer = BytesIO()
    _write(plan, sheets, buffer)
    return buffer.getvalue()


def one_sheet(plan: Plan, wanted: str) -> tuple[FinishedSheet, ...]:
    """A page by its number or a sheet's pages by its name, drawn without the others; nothing where there is none."""
    return draw_sheet(plan, make_kit(plan, lettering()), wanted)


def full_size_sheets(plan: Plan, parts: Sequence[str], roll: float | None) -> tuple[FinishedSheet, ...]:
    """The parts (`A3`, `board 4`) at full size: in tiles with a map before each part's, or each on a page of a roll.

    Raises LayoutError, in the words of the trade, for a part that does not fit the roll or too many pages.
    """
    from packet.sheets.part_drawing import part_named
    from packet.sheets.tiles import MOST, roll_sheet, tile_sheets, tiled

    kit = make_kit(plan, lettering())
    found: list[FinishedSheet] = []
    first = 1
    for number, name in enumerate(parts, 1):
        part = part_named(plan, kit, name)
        if roll is not None:
            found.append(roll_sheet(part, f"T{number:03d}", roll, kit))
            continue
        tiling = tiled(part, kit, first)
        first += len(tiling.tiles)
        if first > MOST:
            raise LayoutError(kit.words.text("full_size.too_many", limit=MOST))
        found += tile_sheets(part, tiling, f"M{number:03d}", kit)
    return tuple(found)


def print_finished(plan: Plan, sheets: tuple[FinishedSheet, ...], target: Path, subject: str = "Full-size parts",
                   copies: Mapping[str, int] = MappingProxyType({})) -> tuple[FinishedSheet, ...]:
    """Write sheets that are drawn already; `copies` as in `write`. Raises OSError when the file cannot be written."""
    _write(plan, sheets, target, subject, copies)
    return sheets


def _write(plan: Plan, sheets: Sequence[FinishedSheet], target: Path | BinaryIO, subject: str = SUBJECT,
           copies: Mapping[str, int] = MappingProxyType({})) -> None:
    description = plan.description
    write(sheets, target, description.title, subject=subject, author=description.identity.owner,
          language=description.language, correction=correction_of(Ledger.of(description.source)), copies=copies)


def draw_handouts(plan: Plan, progress: Progress = lambda name: None) -> dict[Station, tuple[FinishedSheet, ...]]:
    """The pages of each station, with the serials they have in the whole packet. Raises GlyphError and LayoutError."""
    from packet.sheets.handouts import handouts

    kit = make_kit(plan, lettering())
    return handouts(plan, kit, draw_all(plan, kit, progress))


def print_handouts(plan: Plan, pages: Mapping[Station, tuple[FinishedSheet, ...]], target: Path) -> tuple[FinishedSheet, ...]:
    """One station's pages as a file, or several stations' bound under a tab each. Raises OSError."""
    if len(pages) == 1:
        (sheets,) = pages.values()
        _write(plan, sheets, target, "Handout")
        return sheets
    correction = correction_of(Ledger.of(plan.description.source))
    words = Words(plan.form, plan.description.language)
    write_bound((Packet(f"{station} {words.name(station.word)}", sheets, correction) for station, sheets in pages.items()),
                target, plan.description.title, "Handouts", plan.description.language)
    return tuple(sheet for sheets in pages.values() for sheet in sheets)
