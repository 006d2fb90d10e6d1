"""The marking sheets, read as data."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from packet.assembly.records import LeafKind
from packet.boards.marks import cuts_of
from packet.boards.records import Board, Cut, CutKind
from packet.description.loading import describe
from packet.description.reading import read_text
from packet.drawing.marks import Circle, Line, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import CUT, DIMENSION, LAST
from packet.plan import Plan, make_plan
from packet.sheets.marking import board_sheets, draw
from packet.work.sheet_numbers import board_sheet as number_of
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import faults, kit_of, prose, texts
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

PLANS: dict[str, Callable[[], Plan]] = {
    **{path.stem: (lambda path=path: plan_of(path)) for path in (*SAMPLES, CHECK_CASE)},
    **{name: (lambda name=name: zoo_plan(name)) for name in (*zoo(), *plain_zoo(), *releasable_zoo())}}

KENNEL = """
project: Kennel
units: mm
shelter:
  preset: free
  leaves:
    - {mark: FLOOR, size: 700 x 900}
    - {mark: GABLE, outline: [0 x 0, 700 x 0, 700 x 500, 350 x 750, 0 x 500]}
    - {mark: FIN, outline: [0 x 0, 500 x 0, 0 x 900]}
    - {mark: FIN2, outline: [0 x 0, 500 x 0, 0 x 900]}
  seams:
    - {join: FLOOR.bottom / GABLE.1}
    - {join: GABLE.2 / FIN.1, packed: flat}
    - {join: GABLE.5 / FIN2.1, packed: flat}
boards: {size: 1200 x 2400, thickness: 25}
"""
"""Leaves that are no rectangles; two of them are the halves of one."""


def project(text: str) -> Plan:
    return make_plan(describe(read_text(text, Path("test.yaml"))))


def sample(name: str) -> Path:
    return next(path for path in SAMPLES if path.stem == name)


def boards_and_sheets(plan: Plan) -> Iterator[tuple[Board, Sheet]]:
    """Every board with the sheet of its drawing."""
    sheets = {sheet.number: sheet for sheet in draw(plan, kit_of(plan))}
    for board in plan.boards:
        yield board, sheets[number_of(int(board.mark))]


def whole(plan: Plan, board: Board) -> str:
    """All words on the sheets of one board."""
    return " ".join(prose(sheet) for sheet in board_sheets(plan, kit_of(plan), board))


@pytest.mark.parametrize("name", PLANS)
def test_every_cut_is_drawn_where_it_is(name: str) -> None:
    """Every cut of the model is one line on paper, and no other line is drawn with the cutting pens."""
    plan = PLANS[name]()
    for board, sheet in boards_and_sheets(plan):
        view = sheet.viewports[0]
        left, bottom, right, top = view.rect
        assert (right - left, top - bottom) == pytest.approx(
            (board.stock.length / view.ratio, board.stock.breadth / view.ratio))

        def there(cut: Cut, view=view, left=left, bottom=bottom) -> tuple[float, ...]:
            return tuple(round(base + v / view.ratio, 4)
                         for base, v in zip((left, bottom) * 2, (*cut.a, *cut.b), strict=True))

        inside = [mark for mark in sheet.marks if isinstance(mark, Line) and mark.pen in (CUT, LAST)
                  and left - 0.01 <= min(mark.a[0], mark.b[0]) and max(mark.a[0], mark.b[0]) <= right + 0.01
                  and bottom - 0.01 <= min(mark.a[1], mark.b[1]) and max(mark.a[1], mark.b[1]) <= top + 0.01]
        drawn = {pen: sorted(tuple(round(v, 4) for v in (*m.a, *m.b)) for m in inside if m.pen == pen)
                 for pen in (CUT, LAST)}
        assert drawn[LAST] == sorted(there(cut) for cut in board.cuts if cut.kind is CutKind.DOOR)
        assert drawn[CUT] == sorted(there(cut) for cut in board.cuts if cut.kind is not CutKind.DOOR)


@pytest.mark.parametrize("name", PLANS)
def test_every_cut_is_numbered(name: str) -> None:
    """A circled number on the board for every line, on or beside its line; tips by their range."""
    plan = PLANS[name]()
    for board, sheet in boards_and_sheets(plan):
        view = sheet.viewports[0]
        left, bottom, right, top = view.rect
        centres = [mark.centre for mark in sheet.marks if isinstance(mark, Circle)]
        numbers = {mark.string: mark for mark in sheet.marks if isinstance(mark, Text) and mark.string.isdigit()
                   and any(math.dist(c, (mark.at[0], mark.at[1] + mark.style.height / 2)) < 0.01 for c in centres)
                   and left < mark.at[0] < right + 6 and bottom < mark.at[1] < top}
        assert {int(n) for n in numbers} == {c.number for c in board.cuts if c.kind is not CutKind.TIP}
        for cut in board.cuts:
            if cut.kind is CutKind.TIP:
                continue
            mark = numbers[str(cut.number)]
            x, y = mark.at[0], mark.at[1] + mark.style.height / 2
            a, b = ((left + p[0] / view.ratio, bottom + p[1] / view.ratio) for p in (cut.a, cut.b))
            away = abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / math.dist(a, b)
            assert away < (8.0 if cut.kind is CutKind.DOOR else 0.01)
        tips = [cut.number for cut in board.cuts if cut.kind is CutKind.TIP]
        if tips:
            span = f"{tips[0]} and {tips[-1]}" if len(tips) == 2 else f"{tips[0]} to {tips[-1]}"
            assert f"{span} tips" in whole(plan, board)


@pytest.mark.parametrize("name", PLANS)
def test_the_table_repeats_the_model(name: str) -> None:
    """From and to of every line but the tips, once, on the board's own sheets."""
    plan = PLANS[name]()
    for board in plan.boards:
        wanted = [(str(cut.number), *(plan.form.length(v, halves=True) for v in (*cut.a, *cut.b)))
                  for cut in board.cuts if cut.kind is not CutKind.TIP]
        found = [row for sheet in board_sheets(plan, kit_of(plan), board) for row in zip(
            *(texts(sheet)[i:] for i in range(5)), strict=False)]
        assert [found.count(row) for row in wanted] == [1] * len(wanted), board.mark


@pytest.mark.parametrize("name", PLANS)
def test_every_part_is_marked_with_its_hand_or_its_mid_edge(name: str) -> None:
    plan = PLANS[name]()
    for board, sheet in boards_and_sheets(plan):
        found = texts(sheet)
        marks = [piece.leaf for piece in board.pieces]
        assert sorted(word for word in found if word in marks) == sorted(marks)
        hands = [str(plan.parts.by_mark[mark].hand) for mark in marks]
        if any(hand in found for hand in hands):
            assert all(found.count(hand) <= hands.count(hand) for hand in hands)
        doors = sum(plan.parts.by_mark[mark].door for mark in marks)
        assert found.count("DOOR") == doors


@pytest.mark.parametrize("name", PLANS)
def test_running_dimensions_are_those_of_the_lines(name: str) -> None:
    """Each line across is written on both long edges, each line along at one end at least."""
    plan = PLANS[name]()
    for board, sheet in boards_and_sheets(plan):
        left, bottom, right, top = sheet.viewports[0].rect
        around = [mark for mark in sheet.marks if isinstance(mark, Text) and mark.style.height == 5.0
                  and mark.style.bold and mark.at[0] < right + 45]
        above = {m.string for m in around if m.at[1] > top}
        below = {m.string for m in around if bottom - 50 < m.at[1] < bottom}
        ends = {m.string for m in around if m.at[0] < left or m.at[0] > right}
        for cut in board.cuts:
            if cut.kind is CutKind.ACROSS:
                assert plan.form.length(cut.a[0], halves=True) in above & below
            elif cut.kind is CutKind.ALONG:
                assert plan.form.length(cut.a[1], halves=True) in ends
        assert "0" in above and "0" in below and "0" in ends


def test_check_case_by_hand() -> None:
    """Check case: leaf diagonal 53-11/16, board 107-5/16, trim 2-1/2 and 1-1/4, nodes 24, 48, 72."""
    plan = plan_of(CHECK_CASE)
    (sheet,) = board_sheets(plan, kit_of(plan), plan.boards[3])
    words = prose(sheet)
    assert "53-11/16" in words and "107-5/16" in words and "Off by more than 1/8? Stop, call the lead." in words
    assert {"2-1/2", "1-1/4", "TIP TRIMS 8 to 15"} <= set(texts(sheet))
    assert "All lie at 2-1/2 or 45-1/2 up." in words
    assert "1 to 3 across, 4 to 7 diagonal, 8 to 15 tips" in words
    assert sheet.number == "C-04" and sheet.title == "Board 4 of 5" and sheet.station == "CUT"
    held = whole(plan, plan.boards[4])
    assert "HOLD: do not cut" in held and "48 x 48 in" in held


def test_a_door_is_trimmed_last_and_from_the_sill() -> None:
    plan = plan_of(CHECK_CASE)
    for board in plan.boards:
        doors = [p for p in board.pieces if plan.assembly.by_mark[p.leaf].door]
        words = whole(plan, board)
        assert ("LAST: 1 off the sill, after hinging" in words) is bool(doors)
        if doors:
            assert "4 last, after hinging" in words


@pytest.mark.parametrize(("name", "face"), [("six left", "INNER"), ("six outer", "OUTER")])
def test_the_face_that_is_marked_is_named(name: str, face: str) -> None:
    plan = zoo_plan(name)
    for sheet in draw(plan, kit_of(plan)):
        if sheet.kind == "marking sheet":
            assert f"it becomes the {face} face" in sheet.subtitle


def test_the_edges_of_large_leaves_are_named() -> None:
    """Every leaf of the check case has room for the words at its mid edge, its eave and its sill."""
    plan = plan_of(CHECK_CASE)
    for board, sheet in boards_and_sheets(plan):
        found = texts(sheet)
        walls = sum(plan.assembly.by_mark[p.leaf].kind is LeafKind.WALL for p in board.pieces)
        roofs = len(board.pieces) - walls
        extra = 1 if roofs else 0  # the word in the tip detail
        assert found.count("mid") == walls + roofs + extra
        assert found.count("sill") == walls
        assert found.count("eave") == walls + roofs


def test_a_saw_has_its_kerf_printed(tmp_path: Path) -> None:
    text = CHECK_CASE.read_text(encoding="utf-8").replace("  thickness: 1", "  thickness: 1\n  tool: saw")
    path = tmp_path / "saw.yaml"
    path.write_text(text, encoding="utf-8")
    plan = plan_of(path)
    # Check case: kerf 1/8 gives 23-7/8.
    words = whole(plan, plan.boards[0])
    assert "Kerf 1/8: saw beyond the line" in words and "23-7/8" in words
    assert "Score" not in words
    assert list(faults(plan, draw)) == []


def test_a_board_without_a_roof_has_no_hands_and_named_edges() -> None:
    plan = zoo_plan("cool-box")
    (board,) = plan.boards
    drawing, table = board_sheets(plan, kit_of(plan), board)
    found = texts(drawing)
    assert [found.count(name) for name in ("bottom", "right", "top", "left")] == [6, 6, 6, 6]
    assert not {"mid left", "mid right", "mid", "eave", "sill"} & set(found)
    assert drawing.subtitle.startswith("6 leaves.")
    # 600 x 400 has sqrt(600^2 + 400^2) = 721, 400 x 400 has 566, and the board 2683.
    words = prose(table)
    assert all(f"{diagonal}" in words for diagonal in (721, 566, 2683))
    assert "wall" not in words and "roof" not in words


def test_leaves_that_are_no_rectangles() -> None:
    """A gable is measured edge by edge; the two halves of a rectangle have its diagonal, sqrt(500^2 + 900^2)."""
    plan = project(KENNEL)
    words = " ".join(whole(plan, board) for board in plan.boards)
    assert "diagonal of FLOOR 1140" in words and "diagonal of FIN FIN2 1030" in words
    assert "GABLE" in words and "diagonal of GABLE" not in words
    found = [text for sheet in draw(plan, kit_of(plan)) for text in texts(sheet)]
    assert {"edge 1", "edge 2", "edge 3", "edge 4", "edge 5", "bottom", "left"} <= set(found)
    assert list(faults(plan, draw)) == []


def test_a_board_is_drawn_alone_where_that_makes_it_much_larger() -> None:
    """1200 x 2400 on A4: 1:10 alone, 1:20 beside its words. 48 x 96 on letter: 1:12 alone, 1:16 beside."""
    metric = plan_of(sample("tide_gauge"))
    for board in metric.boards:
        drawing, table = board_sheets(metric, kit_of(metric), board)
        assert drawing.viewports[0].ratio == 10.0
        assert (drawing.number, table.number) == (f"C-0{board.mark}", f"C-{board.mark}B")
        assert (drawing.title, table.title) == (f"Board {board.mark} of 5", f"Board {board.mark} of 5: marks")
        assert [*texts(drawing), *texts(table)].count("checked") == 1 and "cut" in texts(table)
        assert f"Snap 1 to {len(board.cuts)}, in order" in prose(drawing) and "2683" in prose(table)
    check = plan_of(CHECK_CASE)
    assert [len(board_sheets(check, kit_of(check), board)) for board in check.boards] == [1] * 5


@pytest.mark.parametrize("name", ["ten metric", "ten inch"])
def test_a_blank_shorter_than_its_strip_is_cut_across_it(name: str) -> None:
    plan = zoo_plan(name)
    short = [(board, cut) for board in plan.boards for cut in board.cuts if cut.kind is CutKind.UPRIGHT]
    assert short
    for board, cut in short:
        assert cut.a[0] == cut.b[0] and cut.length < board.stock.breadth - 1.0
        words = whole(plan, board)
        assert f"{cut.number} across one strip" in words or f"{cut.number - 1} and {cut.number} across one strip" in words \
            or f"{cut.number} and {cut.number + 1} across one strip" in words


def test_a_saw_is_shown_its_side_of_every_square_cut(tmp_path: Path) -> None:
    """The arrow starts on the line and points away from the datum corner; a knife needs none."""
    text = CHECK_CASE.read_text(encoding="utf-8")
    path = tmp_path / "saw.yaml"
    path.write_text(text.replace("  thickness: 1", "  thickness: 1\n  tool: saw"), encoding="utf-8")
    plan = plan_of(path)
    drawing = board_sheets(plan, kit_of(plan), plan.boards[3])[0]
    view = drawing.viewports[0]
    for cut in cuts_of(plan.boards[3], CutKind.ACROSS):
        x = view.rect[0] + cut.a[0] / view.ratio
        beside = view.rect[2] - x > 4.0
        assert any(isinstance(mark, Line) and mark.pen == DIMENSION and abs(mark.a[0] - x) < 0.01
                   and 0.0 < mark.b[0] - x <= 4.0 and mark.a[1] == mark.b[1] and view.rect[1] < mark.a[1] < view.rect[3]
                   for mark in drawing.marks) is beside
