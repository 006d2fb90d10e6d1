"""Marking sheets, one per board: the sheet the crew stands over while they mark and cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from packet.assembly.records import LeafKind
from packet.boards.marks import check_diagonals, cuts_of, tip_trims
from packet.boards.records import Board, CutKind
from packet.description.terms import Tool
from packet.drawing.page import SUBJECT_LENGTH, Sheet
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.marking_page import Page, compose, table_page
from packet.sheets.snap_table import snap_rows
from packet.sheets.tip_detail import span
from packet.work.sheet_numbers import board_sheet as number_of
from packet.work.sheet_numbers import snap_tables_sheet
from packet.work.stations import Station


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One sheet per board, in the order they are cut; before them the tables that found no room beside theirs."""
    pages = [(board, _composed(plan, kit, board)) for board in plan.boards]
    apart = [board for board, page in pages if page.table_apart]
    return (*_tables(plan, kit, apart), *(_sheet(plan, kit, board, page) for board, page in pages))


def board_sheet(plan: Plan, kit: Kit, board: Board) -> Sheet:
    """The marking sheet of one board. Raises LayoutError where no standard scale leaves room for its words."""
    return _sheet(plan, kit, board, _composed(plan, kit, board))


def _composed(plan: Plan, kit: Kit, board: Board) -> Page:
    return compose(plan, kit, board, tuple(_instructions(plan, kit, board)), tip_trims(plan.assembly, board))


def _sheet(plan: Plan, kit: Kit, board: Board, page: Page) -> Sheet:
    words = kit.words
    return Sheet(
        number=number_of(board.mark),
        title=words.text("marking.title", mark=board.mark, count=len(plan.boards)),
        station=Station.C.word,
        kind=words.text("marking.kind"),
        marks=page.marks,
        subtitle=words.text("marking.subtitle", leaves=_leaves(plan, kit, board),
                            face=str(plan.description.boards.printed_face).upper()),
        subject=_subject(kit, board),
        scale_label=page.scale.label,
        viewports=page.viewports,
    )


def _tables(plan: Plan, kit: Kit, boards: list[Board]) -> Iterator[Sheet]:
    """Snap tables on sheets of their own; boards with one and the same table share it."""
    groups: dict[tuple[object, ...], list[Board]] = {}
    for board in boards:
        groups.setdefault((snap_rows(kit, board), tip_trims(plan.assembly, board)), []).append(board)
    number = 1
    for group in groups.values():
        rest, trims = snap_rows(kit, group[0]), tip_trims(plan.assembly, group[0])
        marks = [board.mark for board in group]
        while rest or trims:
            drawn, rest, viewports = table_page(rest, trims, kit)
            yield Sheet(
                number=snap_tables_sheet(number), title=kit.words.text("marking.tables.title"), station=Station.C.word,
                kind=kit.words.text("marking.tables.kind"), marks=drawn,
                subtitle=kit.words.text("marking.tables.subtitle", boards=", ".join(marks)),
                subject=_short(kit, marks, "marking.tables.subject"), viewports=viewports)
            trims = None
            number += 1


def _instructions(plan: Plan, kit: Kit, board: Board) -> Iterator[tuple[str, str]]:
    words, own = kit.words, plan.description

    def text(key: str, **values: object) -> str:
        return words.text(f"marking.{key}", **values)

    size = {"breadth": board.stock.breadth, "length": board.stock.length, "trim": own.boards.edge_trim}
    yield text("board.word"), text("board.trimmed" if own.boards.edge_trim > 0 else "board.plain", **size)
    if board.cuts:
        yield text("snap.word"), text("snap.do", numbers=span(1, len(board.cuts), kit), limit=own.limits.mark)
    yield text("check.word"), text("check.do", what=_checks(plan, kit, board), limit=own.limits.diagonal)
    if board.cuts:
        tool = text("cut.knife") if own.boards.tool is Tool.KNIFE else text("cut.saw", kerf=own.boards.kerf)
        order = ", ".join(_order(kit, board))
        yield text("cut.word"), f"{text('cut.order', order=order, length=board.cut_length)} {tool}"


def _checks(plan: Plan, kit: Kit, board: Board) -> str:
    found = check_diagonals(plan.assembly, board)
    values = {"wall": found.wall, "roof": found.roof, "board": found.board}
    form = kit.form
    if found.wall and found.roof and form.length(found.wall) == form.length(found.roof):
        names = ["leaf"]
    else:
        names = [name for name in ("wall", "roof") if values[name]]
    return ", ".join(kit.words.text(f"marking.check.{name}", **values) for name in (*names, "board"))


def _order(kit: Kit, board: Board) -> Iterator[str]:
    """`1 to 3 across`, kind by kind, as the lines are numbered."""
    for kind in CutKind:
        cuts = cuts_of(board, kind)
        if cuts:
            numbers = span(cuts[0].number, cuts[-1].number, kit)
            yield kit.words.text(f"marking.cut.{kind.name.lower()}", numbers=numbers)


def _leaves(plan: Plan, kit: Kit, board: Board) -> str:
    """`4 wall leaves, 2 roof leaves`."""
    counts = Counter(plan.assembly.by_mark[piece.leaf].kind for piece in board.pieces)
    return ", ".join(kit.words.text(f"marking.{kind}_leaves", count=counts[kind]) for kind in LeafKind if counts[kind])


def _subject(kit: Kit, board: Board) -> str:
    return _short(kit, [piece.leaf for piece in board.pieces], "marking.subject")


def _short(kit: Kit, marks: list[str], otherwise: str) -> str:
    """The marks where they fit the title block, else how many there are."""
    found = " ".join(marks)
    return found if len(found) <= SUBJECT_LENGTH else kit.words.text(otherwise, count=len(marks))
