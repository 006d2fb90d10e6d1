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
from packet.sheets.marking_page import compose
from packet.sheets.numbers import board_sheet as number_of


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One sheet per board, in the order they are cut."""
    return tuple(board_sheet(plan, kit, board) for board in plan.boards)


def board_sheet(plan: Plan, kit: Kit, board: Board) -> Sheet:
    """The marking sheet of one board. Raises LayoutError where no standard scale leaves room for its words."""
    words = kit.words
    page = compose(plan, kit, board, tuple(_instructions(plan, kit, board)), tip_trims(plan.assembly, board))
    return Sheet(
        number=number_of(board.mark),
        title=words.text("marking.title", mark=board.mark, count=len(plan.boards)),
        station="CUT",
        kind=words.text("marking.kind"),
        marks=page.marks,
        subtitle=words.text("marking.subtitle", leaves=_leaves(plan, kit, board),
                            face=str(plan.description.boards.printed_face).upper()),
        subject=_subject(kit, board),
        scale_label=page.scale.label,
        viewports=page.viewports,
    )


def _instructions(plan: Plan, kit: Kit, board: Board) -> Iterator[tuple[str, str]]:
    words, own = kit.words, plan.description

    def text(key: str, **values: object) -> str:
        return words.text(f"marking.{key}", **values)

    size = {"breadth": board.stock.breadth, "length": board.stock.length, "trim": own.boards.edge_trim}
    yield text("board.word"), text("board.trimmed" if own.boards.edge_trim > 0 else "board.plain", **size)
    several = len(board.cuts) > 1
    if board.cuts:
        yield text("snap.word"), text("snap.do" if several else "snap.one", first=1, last=len(board.cuts),
                                      limit=own.limits.mark)
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
            first, last = cuts[0].number, cuts[-1].number
            numbers = str(first) if first == last else f"{first} to {last}"
            yield kit.words.text(f"marking.cut.{kind.name.lower()}", numbers=numbers)


def _leaves(plan: Plan, kit: Kit, board: Board) -> str:
    """`4 wall leaves, 2 roof leaves`."""
    counts = Counter(plan.assembly.by_mark[piece.leaf].kind for piece in board.pieces)
    return ", ".join(kit.words.text(f"marking.{kind}_leaves", count=counts[kind]) for kind in LeafKind if counts[kind])


def _subject(kit: Kit, board: Board) -> str:
    """The marks on the board where they fit the title block, else how many there are."""
    marks = " ".join(piece.leaf for piece in board.pieces)
    return marks if len(marks) <= SUBJECT_LENGTH else kit.words.text("marking.subject", count=len(board.pieces))
