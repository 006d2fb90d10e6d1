"""The sheets of a packet in the order they are bound. A new sheet is one file here and one line below.

Every sheet file has `draw(plan, kit) -> tuple[Sheet, ...]`; the cover alone also gets the finished others,
because it lists them. Sheets that a project does not need return an empty tuple.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from importlib import import_module
from itertools import pairwise, zip_longest
from typing import TYPE_CHECKING, TypeVar

from packet.drawing.page import FinishedSheet, Sheet, finish_all
from packet.plan import Plan
from packet.sheets.callouts import with_callouts
from packet.sheets.kit import Kit
from packet.work.following import Following
from packet.work.sheet_numbers import PATTERN, binding_order, sheet_named

if TYPE_CHECKING:
    from packet.sheets.cover import Listed

Page = TypeVar("Page", bound="Listed")

ORDER = (
    "cautions",
    "arrangement",
    "checklist",
    "added",
    "set_holds",
    "crew",
    "briefing",
    "station_cards",
    "tents",
    "labels",
    "order",
    "alternates",
    "weather",
    "carry",
    "receiving",
    "strips",
    "parts",
    "gauges",
    "cuts",
    "marking",
    "mending",
    "halves",
    "splice",
    "recipes",
    "relief",
    "doors",
    "openings",
    "roof",
    "fold",
    "erect",
    "inspection",
    "cards",
    "site",
    "wind",
    "air",
    "keep",
)
"""File names in packet/sheets; the cover comes before them all."""

PAGE_NUMBER = re.compile(PATTERN)
"""What a page number looks like: `C-04`, `L-2B`, `L30B`."""

_FILES = {"words": "briefing", "passing": "station_cards", "tent": "tents", "recipe": "recipes", "door": "doors",
          "set_up": "cards", "strike": "cards"}
"""Files that bear another name than their sheets."""

Progress = Callable[[str], None]


def draw_all(plan: Plan, kit: Kit, progress: Progress = lambda name: None) -> tuple[FinishedSheet, ...]:
    """Every sheet of the packet, cover first. `progress` is told the name of each file before it is drawn."""
    following = Following(plan)
    sheets: list[FinishedSheet] = []
    for name in ORDER:
        progress(name)
        sheets += draw_file(name, plan, kit, following)
    ordered = in_order(sheets)
    progress("cover")
    return (*draw_cover(plan, kit, ordered, following), *ordered)


def draw_file(name: str, plan: Plan, kit: Kit, following: Following) -> tuple[FinishedSheet, ...]:
    """The sheets of one file in packet/sheets but the cover, in order, as they are in the whole packet."""
    sheets = import_module(f"packet.sheets.{name}").draw(plan, kit)
    return _finished(sorted(sheets, key=lambda sheet: binding_order(sheet.number)), kit, following)


def in_order(pages: Iterable[Page]) -> list[Page]:
    """Pages in the order they are bound. Raises ValueError when two bear one number."""
    ordered = sorted(pages, key=lambda page: binding_order(page.number))
    for page, after in pairwise(ordered):
        if page.number == after.number:
            raise ValueError(f"two sheets bear the number {page.number}")
    return ordered


def draw_cover(plan: Plan, kit: Kit, others: Sequence[Listed], following: Following) -> tuple[FinishedSheet, ...]:
    """The cover and what belongs to it; it lists all `others`, which are in the order they are bound."""
    from packet.sheets import cover

    return _finished(cover.draw(plan, kit, others), kit, following)


def draw_board(plan: Plan, kit: Kit, mark: str) -> tuple[FinishedSheet, ...]:
    """One board's marking sheets alone, as they are in the whole packet. The mark must exist."""
    from packet.sheets import marking

    board = next(board for board in plan.boards if board.mark == mark)
    return _finished(marking.board_sheets(plan, kit, board), kit, Following(plan))


def draw_sheet(plan: Plan, kit: Kit, wanted: str) -> tuple[FinishedSheet, ...]:
    """The page of a number, or all pages of a sheet by its name or its file's, as they are in the whole packet and
    without drawing the others; the cover alone lists them all. Nothing where the packet has no such sheet."""
    number, name = wanted.upper(), wanted.lower()
    by_number = PAGE_NUMBER.fullmatch(number) is not None
    if by_number:
        name = _named(number)
    file = _FILES.get(name.partition(".")[0], name)
    if file == "cover":
        drawn = draw_all(plan, kit)
    elif file in ORDER:
        drawn = draw_file(file, plan, kit, Following(plan))
    else:
        return ()
    if by_number:
        return tuple(sheet for sheet in drawn if sheet.number == number)
    return tuple(sheet for sheet in drawn if name == file != "cover" or _named(sheet.number) == name)


def _named(number: str) -> str:
    return (sheet_named(number) or "marking").lower()


def _finished(sheets: Iterable[Sheet], kit: Kit, following: Following) -> tuple[FinishedSheet, ...]:
    """Finished in the order given, each naming the sheet that is taken up next. All pages of one sheet must be there."""
    ordered = tuple(with_callouts(sheet, kit.lettering) for sheet in sheets)
    told = (replace(sheet, follows=after.number if after and _one_sheet(sheet, after) else following.after(sheet.number))
            for sheet, after in zip_longest(ordered, ordered[1:]))
    return finish_all(told, kit.identity, kit.paper, kit.lettering, kit.system, kit.issued)


def _one_sheet(page: Sheet, after: Sheet) -> bool:
    """Whether these are pages of one sheet: numbered so, or, as the checklist's, of one kind and counting on."""
    series, count, _ = binding_order(page.number)
    other, further, _ = binding_order(after.number)
    return series == other and (count == further or (page.number[0] == "L" and page.kind == after.kind))
