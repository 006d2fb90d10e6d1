"""The recall slip: which old pages to collect after a decision, from whom, and what replaces each."""

from __future__ import annotations

from dataclasses import dataclass

from packet.description.decided import Decision
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.page import Sheet
from packet.drawing.symbols import tick_box
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.sheets.kit import Kit
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 11.0
_FOOT = 9.0


@dataclass(frozen=True, slots=True)
class Recalled:
    """An old page: sheet number and title, its serial, the serial that replaces it (empty where the sheet is no longer
    used), and who holds it (empty where nobody does)."""

    sheet: str
    title: str
    old: str
    new: str
    holder: str


def recall_sheets(kit: Kit, one: Decision, pages: tuple[Recalled, ...]) -> tuple[Sheet, ...]:
    """As many slips as the pages need; none where no old page is superseded."""
    words, room = kit.words, kit.room
    widths = spread(room.width, 1.1, 3.2, 1.7, 1.7, 2.6, 1.3)
    styles = (BODY_BOLD, BODY, BODY_BOLD, BODY_BOLD, BODY)
    columns = [*(Column(width, "left", style) for width, style in zip(widths, styles, strict=False)),
               Column(widths[-1], "centre", BODY)]
    header = [words.text(f"mending.recall.{name}") for name in ("sheet", "name", "old", "new", "holder", "collected")]
    rows: list[list[Cell]] = [
        [page.sheet, page.title, page.old, page.new or words.text("mending.recall.gone"),
         page.holder or words.text("mending.recall.nobody"), tick_box((0.0, 0.0))] for page in pages]
    parts = []
    while rows:
        count = fit(columns, rows, header, room.height - _FOOT, kit.lettering, row_height=_ROW)
        parts.append(rows[:count])
        rows = rows[count:]
    sheets = []
    for number, part in enumerate(parts, 1):
        block = table(room.top_left, columns, part, header, kit.lettering, row_height=_ROW)
        foot = paragraph((room.left, room.bottom + _FOOT - 1.0), room.width, words.text("mending.recall.foot"), BODY,
                         kit.lettering)
        sheets.append(Sheet(
            number=sheet_number("recall", number), title=words.text("mending.recall.title"), station=Station.L.word,
            kind=words.text("mending.recall.kind"), marks=(*block.marks, *foot.marks),
            subtitle=words.text("mending.recall.subtitle", number=one.number, mark=one.mark), subject=one.mark))
    return tuple(sheets)
