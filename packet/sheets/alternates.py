"""Boards side by side: what each kind that can be bought costs, weighs and takes when packed."""

from __future__ import annotations

from packet.alternates import Compared, Comparison, compare
from packet.description.buying_values import amount
from packet.drawing.flow import bullets
from packet.drawing.lettering import BODY, BODY_BOLD, NUMBER, Style
from packet.drawing.marks import Anchor
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROWS = (22.0, 17.0, 12.0)
"""mm, heights of a row, the most readable first."""

_GAP = 6.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One page where the project lists alternates; a second where the first is full."""
    found = compare(plan)
    if found is None:
        return ()
    words, room = kit.words, kit.room
    heads = ("board", "each", "count", "all", "mass", "pack", "verdict")
    own = plan.description
    header = [words.text(f"alternates.head.{name}", quantity=own.quantity, currency=own.prices.currency) for name in heads]
    looks: tuple[tuple[Anchor, Style], ...] = (
        ("left", BODY_BOLD), ("right", BODY), ("right", NUMBER), ("right", BODY), ("right", BODY), ("left", BODY),
        ("left", BODY))
    columns = [Column(width, align, style) for width, (align, style) in zip(
        spread(room.width, 52, 29, 19, 31, 27, 50, 52), looks, strict=True)]
    rows = [_row(found, place, kit) for place in range(len(found.boards))]
    notes = words.texts(
        "alternates.notes", date=own.prices.date, spare=own.boards.spare,
        assumed="assume.density" in own.assumed)
    below = bullets(room.top_left, room.width, notes, BODY, kit.lettering, 1.0)
    sheets: list[Sheet] = []
    while rows:
        for height in _ROWS:
            count = fit(columns, rows, header, room.height - below.height - _GAP, kit.lettering, height)
            if count >= len(rows):
                break
        if not count:
            raise LayoutError(f"the boards side by side do not fit {kit.paper.name}; use larger paper")
        block = table(room.top_left, columns, rows[:count], header, kit.lettering, height)
        rows = rows[count:]
        sheets.append(Sheet(
            number=sheet_number("alternates", len(sheets) + 1), title=words.text("alternates.title"),
            station=Station.P.word, kind=words.text("alternates.kind"), subtitle=words.text("alternates.subtitle"),
            marks=block.marks + below.moved((room.left, block.bottom - _GAP)).marks))
    return tuple(sheets)


def _row(found: Comparison, place: int, kit: Kit) -> list[Cell]:
    one, form = found.boards[place], kit.form
    board = one.board
    each = amount(board.price, "", kit.form.point) if board.price is not None and not one.mixed else ""
    sizes = [*(form.size(*size) for size in one.mixed[:-1]),
             form.size(*(one.mixed[-1] if one.mixed else (board.breadth, board.length)), board.thickness)]
    every = amount(one.price, "", kit.form.point) if one.price is not None else ""
    return [
        " + ".join(sizes), each, "" if one.bought is None else str(one.bought), every,
        "" if one.mass is None else form.mass(one.mass), form.size(*one.pack) if one.pack else "",
        _verdict(found, place, one, kit)]


def _verdict(found: Comparison, place: int, one: Compared, kit: Kit) -> str:
    words = kit.words
    if one.why:
        return words.text("alternates.not", why=one.why)
    names = [name for name in ("cheapest", "lightest", "thinnest") if place in getattr(found, name)]
    said = [words.text("alternates.own")] if one.own else []
    said += [f"**{words.text(f'alternates.{name}')}**" for name in names]
    if one.smaller:
        said.append(words.text("alternates.smaller"))
    return ", ".join(said)
