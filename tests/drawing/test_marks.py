"""Marks: what they measure, and how they move."""

from __future__ import annotations

import pytest

from packet.drawing.lettering import BODY, NUMBER, GlyphError, Lettering, Style
from packet.drawing.marks import Arc, Circle, Line, Path, Text, bounds, shift
from packet.drawing.pens import NARROW, VISIBLE, Pen


def test_bounds_of_each_kind(letters: Lettering) -> None:
    assert bounds([Line((3, 4), (1, 9), VISIBLE)], letters) == (1, 4, 3, 9)
    assert bounds([Path(((0, 0), (4, 1), (2, 7)), None, 0.0)], letters) == (0, 0, 4, 7)
    assert bounds([Circle((5, 5), 2, VISIBLE)], letters) == (3, 3, 7, 7)


def test_an_arc_is_bounded_by_the_quarter_points_it_passes(letters: Lettering) -> None:
    # From 45 to 135 degrees about the origin: x to cos 45, y up to the top of the circle.
    left, bottom, right, top = bounds([Arc((0, 0), 10, 45, 135, NARROW)], letters)
    assert (left, right) == pytest.approx((-7.0711, 7.0711), abs=1e-4)
    assert (bottom, top) == pytest.approx((7.0711, 10.0), abs=1e-4)
    # Nothing but the ends when it passes none.
    assert bounds([Arc((0, 0), 10, 10, 80, NARROW)], letters)[3] == pytest.approx(9.8481, abs=1e-4)


def test_shift_moves_everything_and_changes_nothing_else(letters: Lettering) -> None:
    marks = (
        Line((0, 0), (1, 2), NARROW),
        Path(((0, 0), (4, 0), (0, 3)), VISIBLE),
        Circle((1, 1), 2, NARROW),
        Arc((0, 0), 5, 0, 90, NARROW),
        Text((2, 3), "A4R", NUMBER, "centre", 90),
    )
    moved = shift(marks, 10, -5)
    before, after = bounds(marks, letters), bounds(moved, letters)
    assert after == pytest.approx((before[0] + 10, before[1] - 5, before[2] + 10, before[3] - 5))
    assert shift(moved, -10, 5) == marks


def test_an_empty_drawing_has_no_bounds(letters: Lettering) -> None:
    with pytest.raises(ValueError, match="empty drawing"):
        bounds((), letters)


@pytest.mark.parametrize("pen", [(0.3, (), 0.0), (0.5, (), 1.2), (0.5, (3.0, 0.0), 0.0)])
def test_a_pen_outside_the_rules_is_refused(pen: tuple[float, tuple[float, ...], float]) -> None:
    with pytest.raises(ValueError, match=r"series|grey|dash"):
        Pen(*pen)


def test_a_height_outside_the_series_is_refused() -> None:
    with pytest.raises(ValueError, match="capital height"):
        Style(3.0)


def test_a_turned_box_is_the_level_one_turned(letters: Lettering) -> None:
    level = letters.box(Text((0, 0), "480", NUMBER, "centre"))
    upright = letters.box(Text((0, 0), "480", NUMBER, "centre", 90))
    assert [(-y, x) for x, y in level] == [pytest.approx(corner) for corner in upright]


def test_a_character_the_type_lacks_is_named(letters: Lettering) -> None:
    with pytest.raises(GlyphError, match=r"U\+6F22"):
        letters.width("hut 漢", BODY)
    assert letters.can_set("Zoë's hut, 60°")
    assert not letters.can_set("hut \N{CHECK MARK}")
    assert not any(letters.can_set(code) for code in "\r\n\t\0\N{SOFT HYPHEN}")
    assert letters.width("a\N{NO-BREAK SPACE}b", BODY) == letters.width("a b", BODY)


def test_a_project_may_hold_exactly_the_letters_of_the_type(letters: Lettering) -> None:
    from packet.description.letters import LETTERS

    assert {chr(code) for code in range(0x11000) if letters.can_set(chr(code))} == LETTERS


def test_boxes_hold_the_ink(letters: Lettering) -> None:
    """Against the outlines themselves, as another library reads them."""
    from fontpkg_atkinson_hyperlegible import ROOT
    from PIL import ImageFont

    cuts = ("Regular", "Bold", "Italic", "BoldItalic")
    for cut in cuts:
        style = Style(20, "Bold" in cut, "Italic" in cut)
        file = ROOT / "files" / f"AtkinsonHyperlegible-{cut}.ttf"
        font = ImageFont.truetype(str(file), 1000, layout_engine=ImageFont.Layout.BASIC)
        for letter in map(chr, (*range(33, 127), *range(0xA1, 0xAD), *range(0xAE, 0x180))):
            if not letters.can_set(letter):
                continue
            _, low, _, high = _rows(letters, letter, style)
            _, top, _, bottom = font.getbbox(letter, anchor="ls")
            assert low <= -bottom * 20 / 668 + 0.05, (cut, letter)
            assert high >= -top * 20 / 668 - 0.05, (cut, letter)


def _rows(letters: Lettering, letter: str, style: Style) -> tuple[float, float, float, float]:
    return bounds([Text((0, 0), letter, style)], letters)
