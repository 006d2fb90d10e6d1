"""Marking sheets, one or two per board: the sheet the crew stands over while they mark and cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from packet.assembly.records import LeafKind
from packet.boards.alike import Alike
from packet.boards.marks import check_diagonals, cuts_of, tip_trims
from packet.boards.records import Board, CutKind
from packet.description.terms import Tool
from packet.drawing.page import SUBJECT_LENGTH, Sheet
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.marking_page import compose
from packet.sheets.marking_table import table_pages
from packet.sheets.tip_detail import span
from packet.work.sheet_numbers import board_sheet as number_of
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The sheets of every board, in the order they are cut."""
    return tuple(sheet for run in plan.runs for sheet in _sheets(plan, kit, run))


def board_sheets(plan: Plan, kit: Kit, board: Board) -> tuple[Sheet, ...]:
    """The marking sheets that serve one board of the plan."""
    return _sheets(plan, kit, next(run for run in plan.runs if board in run.boards))


def _sheets(plan: Plan, kit: Kit, run: Alike) -> tuple[Sheet, ...]:
    """The marking sheets of boards that are cut alike: one, or the drawing alone and its table and words on the next.

    Raises LayoutError where no standard scale leaves room for the words.
    """
    words, board = kit.words, run.first
    trims = tip_trims(plan.parts, board)
    lines = tuple(_instructions(plan, kit, run))
    which = {"boards": run.marks, "count": len(plan.boards), "several": len(run.boards) > 1}
    page = compose(plan, kit, run, lines, tuple(_short(plan, kit, run)), trims)
    subtitle = words.text("marking.subtitle", leaves=_leaves(plan, kit, board),
                          face=plan.description.boards.printed_face)
    drawing = Sheet(
        number=number_of(run.number),
        title=words.text("marking.title", **which),
        station=Station.C.word,
        kind=words.text("marking.kind"),
        marks=page.marks,
        subtitle=subtitle,
        subject=_subject(plan, kit, run),
        scale_label=page.scale.label,
        viewports=page.viewports,
    )
    if page.left is None:
        return (drawing,)
    return (drawing, *(
        Sheet(number=number_of(run.number, count), station=Station.C.word,
              title=words.text("marking.table_title", **which),
              kind=words.text("marking.table_kind"), marks=marks, subject=_subject(plan, kit, run), viewports=viewports,
              subtitle=words.text("marking.table_subtitle", sheet=number_of(run.number)))
        for count, (marks, viewports) in enumerate(table_pages(kit, board, lines, trims, page.left), 2)))


def _short(plan: Plan, kit: Kit, run: Alike) -> Iterator[str]:
    """What may stand under a board that is drawn alone, the fullest first."""
    board = run.first
    values = {"numbers": span(1, len(board.cuts), kit) if board.cuts else "", "sheet": number_of(run.number, 2),
              "what": _checks(plan, kit, board), "limit": plan.description.limits.diagonal}
    for key in ("full", "diagonals", "least"):
        yield kit.words.text(f"marking.alone.{key}", **values)


def _instructions(plan: Plan, kit: Kit, run: Alike) -> Iterator[tuple[str, str]]:
    words, own, board = kit.words, plan.description, run.first

    def text(key: str, **values: object) -> str:
        return words.text(f"marking.{key}", **values)

    size = {"breadth": board.stock.breadth, "length": board.stock.length, "trim": own.boards.edge_trim}
    yield text("board.word"), text("board.trimmed" if own.boards.edge_trim > 0 else "board.plain", **size)
    if len(run.boards) > 1:
        yield text("alike.word"), text("alike.do", count=len(run.boards), boards=run.marks, sheet=sheet_number("cuts"),
                                       some=board.pieces[0].leaf)
    if board.cuts:
        yield text("snap.word"), text("snap.do", numbers=span(1, len(board.cuts), kit), limit=own.limits.mark)
    yield text("check.word"), text("check.do", what=_checks(plan, kit, board), limit=own.limits.diagonal)
    if board.cuts:
        tool = text("cut.knife") if own.boards.tool is Tool.KNIFE else text("cut.saw", kerf=own.boards.kerf)
        order = ", ".join(_order(kit, board))
        yield text("cut.word"), f"{text('cut.order', order=order, length=board.cut_length)} {tool}"


def _checks(plan: Plan, kit: Kit, board: Board) -> str:
    found = check_diagonals(plan.parts, board)
    text, form = kit.words.text, kit.form
    figures = {form.length(check.length) for check in found.leaves}
    kinds = [check.kind for check in found.leaves]
    if plan.parts is not plan.assembly:
        parts = [text("marking.check.some", leaves=" ".join(check.leaves), length=check.length) for check in found.leaves]
    elif len(figures) == 1:
        roofed = LeafKind.ROOF in {leaf.kind for leaf in plan.assembly.leaves}
        name = str(kinds[0]) if roofed and len(kinds) == 1 else "leaf"
        parts = [text(f"marking.check.{name}", length=found.leaves[0].length)]
    elif len(set(kinds)) == len(kinds) and len(kinds) > 1:
        parts = [text(f"marking.check.{check.kind}", length=check.length) for check in found.leaves]
    else:
        parts = [text("marking.check.some", leaves=" ".join(check.leaves), length=check.length)
                 for check in found.leaves]
    return ", ".join((*parts, text("marking.check.board", length=found.board)))


def _order(kit: Kit, board: Board) -> Iterator[str]:
    """`1 to 3 across`, kind by kind, as the lines are numbered."""
    for kind in CutKind:
        cuts = cuts_of(board, kind)
        if cuts:
            numbers = span(cuts[0].number, cuts[-1].number, kit)
            yield kit.words.text(f"marking.cut.{kind.name.lower()}", numbers=numbers)


def _leaves(plan: Plan, kit: Kit, board: Board) -> str:
    """`4 wall leaves, 2 roof leaves`; `6 leaves` where nothing has a roof."""
    if not plan.assembly.of_kind(LeafKind.ROOF) and plan.parts is plan.assembly:
        return kit.words.text("marking.leaves", count=len(board.pieces))
    if any(plan.owners[piece.leaf] != piece.leaf for piece in board.pieces):
        return kit.words.text("marking.pieces", count=len(board.pieces))
    counts = Counter(plan.assembly.by_mark[piece.leaf].kind for piece in board.pieces)
    return ", ".join(kit.words.text(f"marking.{kind}_leaves", count=counts[kind]) for kind in LeafKind if counts[kind])


def _subject(plan: Plan, kit: Kit, run: Alike) -> str:
    """The marks of the leaves where they fit the title block, else how many there are."""
    pieces = run.first.pieces
    found = " ".join(piece.mark if len(run.boards) == 1 else piece.leaf for piece in pieces)
    if len(found) > SUBJECT_LENGTH and plan.parts is not plan.assembly:
        return kit.words.text("marking.subject_pieces", count=len(pieces))
    return found if len(found) <= SUBJECT_LENGTH else kit.words.text("marking.subject", count=len(pieces))
