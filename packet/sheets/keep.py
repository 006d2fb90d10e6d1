"""Keep and mend: storage, inspection at intervals, repair recipes, what is over for repairs, disposal."""

from __future__ import annotations

from packet.boards.marks import size_of
from packet.description.decided import Remedy
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, NUMBER
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError, Room
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.columns import SIZES
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.panels import ticked
from packet.sheets.site_blocks import column, headed, roomy, sheet
from packet.work.facts import facts, holds
from packet.work.stations import Station

_ROW, _LINE = 8.0, 11.0  # mm


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Three pages: inspection and storage; repairs; what they are made from."""
    left, right = kit.room.columns(0.56, 0.44, gap=8.0)
    looks = _said(plan, kit, "keep.look.lines")
    title = kit.words.text("keep.look.title", days=plan.description.site.inspect_days,
                           assumed="site.inspect_days" in plan.description.assumed)
    marks = roomy(lambda style: (
        *column(left, (paragraph((0.0, 0.0), left.width, title, NUMBER, kit.lettering),
                       ticked(left.width - 4.0, looks, style, kit.lettering, 1.0)), 2.0),
        *column(right, tuple(
            headed(kit, right.width, kit.words.text(f"keep.{key}.title"), _said(plan, kit, f"keep.{key}.lines"), style)
            for key in ("store", "throw")), 5.0)))
    wide, narrow = kit.room.columns(0.5, 0.5, gap=8.0)
    tape = _tape(plan, kit, wide.width)
    boards = headed(kit, narrow.width, kit.words.text("keep.boards.title"), _kept(plan, kit))
    log = kit.room.cut_top(max(tape.height, boards.height), gap=6.0)[1]
    spares = (*column(wide, (tape,)), *column(narrow, (boards,)), *column(log, (_log(kit, log),)))
    mends = with_notes(kit, _recipes(plan, kit, kit.room).moved(kit.room.top_left).marks)
    return (sheet(kit, "keep", "keep.page", Station.X.word, marks),
            sheet(kit, "keep", "keep.mend", Station.X.word, mends, 2),
            sheet(kit, "keep", "keep.spares", Station.X.word, spares, 3))


def _said(plan: Plan, kit: Kit, key: str) -> tuple[str, ...]:
    """Lines; one that is not always so is written as a mapping with `say` and `when`."""
    known = facts(plan)
    lines = ({"say": entry} if isinstance(entry, str) else entry for entry in kit.words.entry(key))
    return tuple(kit.words.render(entry["say"]) for entry in lines if holds(entry.get("when", []), known))


def _recipes(plan: Plan, kit: Kit, room: Room) -> Block:
    """Damage and its repair, in letters as large as the room allows. Raises LayoutError where nothing fits."""
    known, land, hours = facts(plan), plan.description.tape.land, kit.form.plain(plan.description.repair.glue_hold)
    rows: list[list[Cell]] = [
        [f"**{kit.words.render(entry['damage'])}**", kit.words.render(entry["mend"], land=land, hours=hours)]
        for entry in kit.words.entry("keep.recipes.rows") if holds(entry.get("when", []), known)]
    for style in SIZES:
        columns = [Column(each, style=style) for each in spread(room.width, 26, 100)]
        hung = table((0.0, 0.0), columns, rows, kit.words.texts("keep.recipes.header"), kit.lettering)
        if hung.height <= room.height:
            return hung
    raise LayoutError("repairs: what is told of them is taller than the page; use larger paper")


def _tape(plan: Plan, kit: Kit, width: float) -> Block:
    """Rolls bought and what is over on them, so that repairs are made of the same tape."""
    form = kit.form
    rows: list[list[Cell]] = [
        [kit.words.text("keep.tape.roll", foil=need.foil, width=need.roll_width), str(need.rolls), form.feet(need.left)]
        for need in plan.needs]
    widths = spread(width, 50, 22, 36)
    columns = [Column(widths[0]), *(Column(each, "right", BODY_BOLD) for each in widths[1:])]
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, kit.words.text("keep.tape.title"), NUMBER, kit.lettering),
        table((0.0, 0.0), columns, rows, kit.words.texts("keep.tape.header"), kit.lettering, _ROW),
        paragraph((0.0, 0.0), width, kit.words.text("keep.tape.note"), BODY, kit.lettering)), 1.5, width)


def _log(kit: Kit, room: Room) -> Block:
    """A table to write repairs into, as many lines as the room holds."""
    columns = [Column(each) for each in spread(room.width, 22, 30, 80, 30, 26)]
    header = kit.words.texts("keep.log.header")
    lines: list[list[Cell]] = [[""] * len(columns)] * 40
    count = fit(columns, lines, header, room.height, kit.lettering, _LINE)
    return table((0.0, 0.0), columns, lines[:count], header, kit.lettering, _LINE, rules="grid")


def _kept(plan: Plan, kit: Kit) -> tuple[str, ...]:
    held = tuple(kit.words.text("keep.boards.held", mark=blank.board, size=kit.form.size(*size_of(blank.outline)))
                 for blank in plan.mended.blanks if blank.held)
    used = sum(one.remedy is Remedy.BOARD for one in plan.description.decided)
    spare = max(0, plan.supply.spare - used)
    return (kit.words.text("keep.boards.spare", spare=spare), *held,
            *kit.words.texts("keep.boards.lines", nothing=not held and not spare))
