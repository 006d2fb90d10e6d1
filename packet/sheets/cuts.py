"""Cut list: the length of every kind of cut, board by board and pass by pass; of an order of several sets, also
which leaf of which set lies on which board."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from packet.boards.cut_list import CutLine, cut_lines, passes
from packet.boards.records import CutKind
from packet.description.terms import Tool
from packet.drawing.flow import Block, bullets, stack
from packet.drawing.lettering import BODY, BODY_BOLD, LARGE, NUMBER
from packet.drawing.marks import Drawing
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.drawing.symbols import tick_box
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.cut_pictures import boards_in_row
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.tip_detail import span
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 11.5
_TALL = 17.0
_GAP = 5.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The cut list and, below its end, what each pass is; then the leaves by board where there are several sets."""
    lists = [("", page) for page in _cut_pages(plan, kit)]
    if plan.description.quantity > 1:
        lists += [("leaves_", page) for page in _leaf_pages(plan, kit)]
    return tuple(
        Sheet(number=sheet_number("cuts", page), title=kit.words.text(f"cuts.{which}title"), station=Station.C.word,
              kind=kit.words.text(f"cuts.{which}kind"), subtitle=kit.words.text(f"cuts.{which}subtitle"),
              marks=with_notes(kit, marks))
        for page, (which, marks) in enumerate(lists, 1))


def _cut_pages(plan: Plan, kit: Kit) -> Iterator[Drawing]:
    lines = cut_lines(plan.boards)
    kinds = [kind for kind in CutKind if any(line.of(kind) for line in lines)]
    words, form = kit.words, kit.form
    unit = form.feet(0.0).partition(" ")[2]
    header = [words.text("cuts.head.board"), *(words.text(f"cuts.head.{kind.name.lower()}") for kind in kinds),
              words.text("cuts.head.each", unit=unit), words.text("cuts.head.times"),
              words.text("cuts.head.all", unit=unit), words.text("cuts.head.done")]
    shares = [22.0, *(26.0 for _ in kinds), 24.0, 20.0, 24.0, 16.0]
    columns = [Column(width, "right" if 0 < place <= len(kinds) + 3 else "left", NUMBER if place == 0 else BODY)
               for place, width in enumerate(spread(kit.room.width, *shares))]
    rows = [_row(line, kinds, kit) for line in lines]
    sums = ["", *(_bare(kit, sum(found.length * len(line.run.boards) for line in lines if (found := line.of(kind))))
                  for kind in kinds), "", str(len(plan.boards)), _bare(kit, sum(line.total for line in lines)), ""]
    total = [words.text("cuts.head.total"), *(f"**{text}**" if text else "" for text in sums[1:])]
    *pages, last = _pages(kit, columns, [*rows, total], header, _passes(plan, lines, kit))
    yield from (block.marks for block in pages)
    # Few boards leave room to show where their lines are.
    free = kit.room.cut_top(last.height + _GAP)[1]
    yield last.marks + boards_in_row([line.run for line in lines], free, kit)


def _row(line: CutLine, kinds: Sequence[CutKind], kit: Kit) -> list[Cell]:
    cells: list[Cell] = []
    for kind in kinds:
        found = line.of(kind)
        cells.append(f"{_bare(kit, found.length)}\n({span(found.first, found.last, kit)})" if found else "")
    return ["-".join(line.run.marks), *cells, _bare(kit, line.each), str(len(line.run.boards)),
            f"**{_bare(kit, line.total)}**", tick_box((0.0, 0.0))]


def _bare(kit: Kit, mm: float) -> str:
    """A length without its unit, which the header names."""
    return kit.form.feet(mm).partition(" ")[0]


def _passes(plan: Plan, lines: Sequence[CutLine], kit: Kit) -> tuple[str, ...]:
    """What each pass is and how long it is in all."""
    boards, quantity = plan.description.boards, plan.description.quantity
    length = sum(line.total for line in lines)
    last = sum(found.length * len(line.run.boards) for line in lines if (found := line.of(CutKind.DOOR)))
    return kit.words.texts(
        "cuts.knife" if boards.tool is Tool.KNIFE else "cuts.saw", length=length, all=length * passes(boards.tool),
        kerf=boards.kerf, doors=last, quantity=quantity, one=length / quantity,
        held=len(plan.boards) > 1 and any(b.held for b in plan.boards),
        last=plan.boards[-1].mark)


def _leaf_pages(plan: Plan, kit: Kit) -> Iterator[Drawing]:
    words = kit.words
    header = [words.text("cuts.leaves.board"), words.text("cuts.leaves.leaves"), words.text("cuts.head.done")]
    rooms = kit.room.columns(1.0, 1.0, gap=8.0)
    columns = [Column(width, "left", style) for width, style in zip(
        spread(rooms[0].width, 19.0, 85.0, 16.0), (NUMBER, LARGE, BODY), strict=True)]
    rows: list[list[Cell]] = [
        [board.mark, ", ".join(piece.mark for piece in board.pieces), tick_box((0.0, 0.0))] for board in plan.boards]
    while rows:
        marks: Drawing = ()
        for room in rooms:
            count = fit(columns, rows, header, room.height, kit.lettering, _ROW)
            if rows and not count:
                raise LayoutError(f"the cut list does not fit {kit.paper.name}; use larger paper")
            if rows:
                marks += table(room.top_left, columns, rows[:count], header, kit.lettering, _ROW).marks
            rows = rows[count:]
        yield marks


def _pages(kit: Kit, columns: Sequence[Column], rows: Sequence[Sequence[Cell]], header: Sequence[str],
           notes: tuple[str, ...]) -> Iterator[Block]:
    """As few pages as hold the rows and, under the last, the notes: every page with as many rows as the others."""
    room = kit.room
    tall = _notes(kit, room.top, notes).height + _GAP if notes else 0.0

    def fits(start: int, stop: int, height: float) -> bool:
        free = room.height - (tall if stop == len(rows) else 0.0)
        return fit(columns, rows[start:stop], header, free, kit.lettering, height) == stop - start

    for count in range(1, len(rows) + 1):
        # The last page has the notes to carry and may have fewer rows, but the sum does not stand alone.
        each = -(-len(rows) // count)
        stops = [*range(0, len(rows), each), len(rows)]
        if len(stops) > 2 and stops[-1] - stops[-2] < 2:
            stops[-2] -= 1
        pages = list(pairwise(stops))
        if all(fits(*page, _ROW) for page in pages):
            break
    else:
        raise LayoutError(f"the cut list does not fit {kit.paper.name}; use larger paper")
    # Few boards leave room for taller rows.
    height = next(height for height in (_TALL, (_ROW + _TALL) / 2, _ROW) if all(fits(*page, height) for page in pages))
    for start, stop in pages:
        block = table(room.top_left, columns, rows[start:stop], header, kit.lettering, height)
        noted = stop == len(rows) and notes
        yield stack(room.top_left, (block, _notes(kit, block.bottom - _GAP, notes)), _GAP) if noted else block


def _notes(kit: Kit, top: float, notes: tuple[str, ...]) -> Block:
    return bullets((kit.room.left, top), kit.room.width, notes, BODY_BOLD if len(notes) == 1 else BODY, kit.lettering, 1.5)
