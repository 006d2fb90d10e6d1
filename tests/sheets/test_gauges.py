"""Full-size gauges and story sticks: what is drawn measures what it says."""

from __future__ import annotations

import io
import math

import pdfplumber
import pytest

from packet.boards.story import StickFor, segments, sticks
from packet.drawing.full_size import window
from packet.drawing.marks import Circle, Path
from packet.drawing.page import Paper, finish_all
from packet.drawing.pens import CUT
from packet.pdf.writer import write
from packet.sheets.gauges import draw
from packet.units import INCH
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import zoo_plan

LETTER = window(Paper.landscape(215.9, 279.4, "letter"))


def test_sticks_take_the_segments_that_are_common_practice() -> None:
    """48 in is five letter pieces and 96 in eleven, with half an inch of overlap (common practice, no source)."""
    assert [len(segments(size * INCH, LETTER.width, INCH / 2)) for size in (48, 96)] == [5, 11]
    starts = segments(96 * INCH, LETTER.width, INCH / 2)
    assert starts[-1] + LETTER.width >= 96 * INCH > starts[-2] + LETTER.width


@pytest.mark.parametrize("count", range(1, 30))
def test_pieces_that_fill_a_length_exactly_are_no_more(count: int) -> None:
    piece, overlap = LETTER.width, INCH / 2
    full = piece + (count - 1) * (piece - overlap)
    assert len(segments(full, piece, overlap)) == count
    assert len(segments(full + 0.1, piece, overlap)) == count + 1


def test_gauges_of_the_check_case() -> None:
    """Sizes worked out by hand: opening 4.33 / 5.00, trim 2.5 x 1.25, wedges 60 and 28.96 (common practice, no source)."""
    plan = plan_of(CHECK_CASE)
    sheets = draw(plan, kit_of(plan))
    said = " ".join(prose(sheet) for sheet in sheets)
    for wanted in ("60.0°", "29.0°", "2-1/2", "1-1/4", "1-5/16", "4-5/16"):
        assert wanted in said
    paths = [mark for sheet in sheets for mark in sheet.marks if isinstance(mark, Path) and mark.pen == CUT]
    ring = next(mark for mark in paths if len(mark.points) == 6)
    assert max(math.dist(a, b) for a in ring.points for b in ring.points) / INCH == pytest.approx(5.0, abs=1e-3)
    xs = [x for x, _ in ring.points]
    ys = [y for _, y in ring.points]
    assert min(max(xs) - min(xs), max(ys) - min(ys)) / INCH == pytest.approx(4.330, abs=1e-3)
    triangle = next(mark for mark in paths if len(mark.points) == 3)
    sides = sorted(math.dist(triangle.points[i], triangle.points[i - 1]) / INCH for i in range(3))
    assert sides[:2] == pytest.approx([1.25, 2.5], abs=1e-3)
    drill = [mark.radius * 2 / INCH for sheet in sheets for mark in sheet.marks if isinstance(mark, Circle)]
    assert any(diameter == pytest.approx(1.315, abs=1e-3) for diameter in drill)


def test_sticks_carry_the_marks_of_their_edges() -> None:
    """Nodes of the check case's boards: 24, 48, 72 (common practice, no source); latch 23 below the head."""
    plan = plan_of(CHECK_CASE)
    found = sticks(plan.assembly, plan.boards)
    longs = [stick for stick in found if stick.use is StickFor.LONG]
    assert all({24.0, 48.0, 72.0} <= {round(mark.at / INCH, 3) for mark in stick.marks} for stick in longs[:1])
    holes = [stick for stick in found if stick.use is StickFor.HOLES]
    assert holes
    assert all(round(stick.marks[1].at / INCH, 3) == 23.0 for stick in holes)
    assert {part for stick in longs for part in stick.parts} == {board.mark for board in plan.boards}


def test_a_mark_of_a_stick_lies_at_its_length_on_paper() -> None:
    """Read back from the file: where the lines of 440, 880, ... stand, from the zero of the long edge's stick."""
    plan = plan_of(next(path for path in SAMPLES if path.stem == "tide_gauge"))
    kit = kit_of(plan)
    stream = io.BytesIO()
    write(finish_all(draw(plan, kit), kit.identity, kit.paper, kit.lettering, kit.system), stream, "Sticks")
    room = window(kit.paper)
    starts = segments(2400.0, room.width, 12.0)
    found = []
    with pdfplumber.open(stream) as document:
        for page in document.pages:
            for title in page.search(r"Stick 1, piece (\d+) of"):
                start = starts[int(title["groups"][0]) - 1]
                lines = [line for line in page.lines if line["linewidth"] > 1.2 and 0 < line["top"] - title["bottom"] < 50]
                found += [start + line["x0"] * 25.4 / 72 - room.left for line in lines if line["x0"] == line["x1"]]
    assert sorted(found) == pytest.approx([0, 440, 880, 1320, 1760, 2200, 2400], abs=0.05)


def test_a_screen_has_only_what_applies() -> None:
    plan = zoo_plan("screen")
    said = " ".join(text for sheet in draw(plan, kit_of(plan)) for text in texts(sheet))
    assert "V wedge" in said
    assert "Lands" in said
    for absent in ("Tip trim", "Peak", "Drill"):
        assert absent not in said
