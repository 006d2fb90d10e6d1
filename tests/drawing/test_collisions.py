"""The collision finder finds what is planted, and no more."""

from __future__ import annotations

import pytest

from packet.drawing.collisions import text_conflicts
from packet.drawing.lettering import BODY, NUMBER, Lettering
from packet.drawing.marks import Arc, Circle, Drawing, Line, Path, Text, rectangle
from packet.drawing.page import frame_rect
from packet.drawing.pens import HATCH, VISIBLE

from . import demo

WORD = Text((50, 50), "A4R", NUMBER, "centre")
PAGE = (0.0, 0.0, 100.0, 100.0)


def reasons(marks: Drawing, letters: Lettering, wider_than: float = 0.3) -> list[str]:
    return [conflict.reason for conflict in text_conflicts(marks, letters, PAGE, wider_than)]


def test_two_texts_that_overlap(letters: Lettering) -> None:
    assert reasons((WORD, Text((52, 52), "mid left", BODY)), letters) == ["overlaps 'mid left'"]
    assert reasons((WORD, Text((50, 44), "mid left", BODY, "centre")), letters) == []


def test_turned_texts_are_judged_by_their_turned_boxes(letters: Lettering) -> None:
    # A slanting text's upright bounding box covers the other; its own box does not.
    slanting = Text((50, 50), "a long word that slants", BODY, angle=45)
    assert reasons((slanting, Text((72, 58), "x", BODY)), letters) == []
    assert reasons((slanting, Text((62, 62), "x", BODY)), letters) == ["overlaps 'x'"]


@pytest.mark.parametrize(
    "mark",
    [
        Line((40, 52), (60, 52), VISIBLE),
        Path(((48, 40), (52, 60), (90, 60)), VISIBLE, closed=True),
        Circle((50, 52), 1.5, VISIBLE),
        Arc((50, 40), 12, 60, 120, VISIBLE),
    ],
)
def test_lines_through_a_text(letters: Lettering, mark: Line | Path | Circle | Arc) -> None:
    assert reasons((mark, WORD), letters) == [f"is crossed by a {type(mark).__name__.lower()}"]
    assert reasons((WORD, mark), letters) == [f"is crossed by a {type(mark).__name__.lower()}"]


def test_only_lines_wider_than_asked_count(letters: Lettering) -> None:
    texture = Line((40, 52), (60, 52), HATCH)
    assert reasons((texture, WORD), letters) == []
    assert reasons((texture, WORD), letters, wider_than=0.1) == ["is crossed by a line"]


def test_a_line_covered_before_the_text_is_written_does_not_count(letters: Lettering) -> None:
    line, ground = Line((10, 52), (90, 52), VISIBLE), rectangle((40, 48, 60, 57), None, 1.0)
    assert reasons((line, ground, WORD), letters) == []
    assert reasons((ground, line, WORD), letters) == ["is crossed by a line"]
    assert reasons((line, WORD, ground), letters) == ["is covered by a path", "is crossed by a line"]
    small = rectangle((40, 48, 50, 57), None, 1.0)
    assert reasons((line, small, WORD), letters) == ["is crossed by a line"]


def test_a_text_that_something_is_drawn_over(letters: Lettering) -> None:
    ground = rectangle((48, 48, 90, 57), None, 1.0)
    assert reasons((ground, WORD), letters) == []
    assert reasons((WORD, ground), letters) == ["is covered by a path"]
    assert reasons((WORD, Circle((50, 52), 0.25, None, 0.0)), letters) == ["is covered by a circle"]
    assert reasons((WORD, Circle((70, 52), 0.25, None, 0.0)), letters) == []


def test_a_text_beyond_the_page(letters: Lettering) -> None:
    assert reasons((Text((95, 50), "2400", NUMBER),), letters) == ["leaves the page"]
    assert "2400" in str(text_conflicts((Text((95, 50), "2400", NUMBER),), letters, PAGE)[0])


@pytest.mark.parametrize(("paper", "system"), [(demo.A4, "mm"), (demo.LETTER, "in")])
def test_the_demonstration_sheets_are_clean(
    letters: Lettering, paper: demo.Paper, system: demo.System
) -> None:
    for sheet in demo.sheets(paper, system, letters):
        found = text_conflicts(sheet.marks, letters, frame_rect(paper), wider_than=0.1)
        assert [str(conflict) for conflict in found] == []
