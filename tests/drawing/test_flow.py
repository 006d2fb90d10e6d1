"""Running text, steps, stacks and tables."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.drawing.flow import Block, bullets, paragraph, stack, steps, wrap
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, NUMBER, Lettering
from packet.drawing.marks import Circle, Line, Path, Text, bounds
from packet.drawing.symbols import tick_box
from packet.drawing.table import Column, fit, row_heights, spread, table
from packet.pdf.fonts import lettering

WORDS = st.lists(st.text("abcdefgh 123-/", min_size=1, max_size=30), max_size=12).map(" ".join)


@given(WORDS, st.floats(8, 120))
@settings(max_examples=80, deadline=None)
def test_no_line_is_wider_than_its_column_and_no_letter_is_lost(text: str, width: float) -> None:
    letters = lettering()
    lines = wrap(text, width, BODY, letters)
    assert all(letters.width(line, BODY) <= width + 1e-6 for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_line_breaks_only_where_it_must(letters: Lettering) -> None:
    text = "lay the strip on the face"
    assert wrap(text, letters.width(text, BODY) + 0.01, BODY, letters) == (text,)
    assert wrap(text, letters.width(text, BODY) - 0.01, BODY, letters) == ("lay the strip on the", "face")
    assert wrap("one\ntwo", 100, BODY, letters) == ("one", "two")


def test_bold_runs_are_set_bold_and_keep_their_places(letters: Lettering) -> None:
    marks = [
        mark
        for mark in paragraph((0, 0), 100, "Off **by 2?** Stop", BODY, letters).marks
        if isinstance(mark, Text)
    ]
    assert [(mark.string.strip(), mark.style) for mark in marks] == [
        ("Off", BODY),
        ("by 2?", BODY_BOLD),
        ("Stop", BODY),
    ]
    widths = [letters.width(mark.string, mark.style) for mark in marks]
    assert [mark.at[0] for mark in marks] == pytest.approx([0.0, widths[0], widths[0] + widths[1]])


def test_paragraphs_stay_in_the_room_they_claim(letters: Lettering) -> None:
    block = paragraph((20, 100), 60, "Push each eave gently, then pack each jig: " * 3, BODY, letters)
    left, bottom, right, top = bounds(block.marks, letters)
    assert left >= 20 - 1e-9
    assert right <= 80 + 1e-9
    assert top <= 100
    assert bottom >= block.bottom
    baselines = sorted({mark.at[1] for mark in block.marks if isinstance(mark, Text)}, reverse=True)
    # ISO 3098: line pitch of 13/10 of the capital height at least.
    assert baselines[0] - baselines[1] >= 1.3 * 3.5


@pytest.mark.parametrize("align", ["left", "centre", "right"])
def test_alignment(letters: Lettering, align: str) -> None:
    block = paragraph((10, 50), 80, "short", BODY, letters, align)  # type: ignore[arg-type]
    left, _, right, _ = bounds(block.marks, letters)
    middle = {"left": left - 10, "centre": (left + right) / 2 - 50, "right": 90 - right}[align]
    assert middle == pytest.approx(0, abs=1e-6)


def test_steps_are_numbered_in_order_with_boxes_for_gloves(letters: Lettering) -> None:
    block = steps((0, 100), 90, ["Wipe.", "Press " * 30, "Fold."], letters, tick=True, start=4)
    numbers = [mark.string for mark in block.marks if isinstance(mark, Text) and mark.string.isdigit()]
    assert numbers == ["4", "5", "6"]
    boxes = [bounds([mark], letters) for mark in block.marks if isinstance(mark, Path)]
    assert len(boxes) == 3
    # 3/8 in, so that a gloved hand can tick it (common practice); 9.5 mm is that to 0.03 mm.
    assert all(box[2] - box[0] >= 3 / 8 * 25.4 - 0.03 for box in boxes)
    assert all(below[3] < above[1] for above, below in pairwise(boxes))
    assert bounds(block.marks, letters)[1] >= block.bottom - 1e-9


def test_bullets_and_stack_do_not_overlap(letters: Lettering) -> None:
    first = bullets((0, 0), 60, ["gloves", "eyes " * 20], BODY, letters)
    assert sum(isinstance(mark, Circle) for mark in first.marks) == 2
    block = stack((10, 200), [first, paragraph((0, 0), 60, "sleeves", BODY, letters)], gap=4)
    assert block.height == pytest.approx(first.height + 4 + 1.6 * 3.5)
    assert bounds(block.marks, letters)[0] >= 10
    assert Block((), (0, 0), 1, 2).moved((5, 5)).bottom == 3


def test_a_table_wraps_cells_and_rules_every_row(letters: Lettering) -> None:
    columns = [Column(40), Column(20, "right", NUMBER), Column(20, "centre", FINE)]
    rows = [["a board that was delivered short", "6", tick_box((300, 300))], ["tape", "12", "rolls"]]
    heights = row_heights(columns, rows, letters)
    assert heights[0] > heights[1]
    block = table((10, 150), columns, rows, ["item", "n", "unit"], letters)
    assert bounds(block.marks, letters) == pytest.approx((10, block.bottom, 90, 150), abs=1e-6)
    assert sum(isinstance(mark, Line) for mark in block.marks) == 4
    count = next(mark for mark in block.marks if isinstance(mark, Text) and mark.string == "12")
    assert bounds([count], letters)[2] == pytest.approx(10 + 60 - 1.5)
    box = [mark for mark in block.marks if isinstance(mark, Path)][-1]
    left, _, right, _ = bounds([box], letters)
    assert (left + right) / 2 == pytest.approx(80)


def test_fit_counts_the_rows_that_a_table_then_needs(letters: Lettering) -> None:
    columns = [Column(width) for width in spread(80, 3, 1)]
    rows = [[f"item {i} with words " * (1 + i % 3), "x"] for i in range(12)]
    for height in (5.0, 20.0, 47.3, 90.0, 500.0):
        count = fit(columns, rows, ["item", "n"], height, letters)
        if count:
            assert table((0, 0), columns, rows[:count], ["item", "n"], letters).height <= height + 1e-9
        if count < len(rows):
            assert table((0, 0), columns, rows[: count + 1], ["item", "n"], letters).height > height
    assert fit(columns, rows, ["item", "n"], 500.0, letters) == 12


def test_a_row_of_the_wrong_length_is_refused(letters: Lettering) -> None:
    with pytest.raises(ValueError, match="zip"):
        table((0, 0), [Column(20), Column(20)], [["a"]], None, letters)
