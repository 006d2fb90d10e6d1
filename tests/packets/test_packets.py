"""Every project as a whole packet, drawn once on each paper and checked in every way; and each check seen to fail.

All go on letter and A4, the design sizes; every second one on a larger paper too, and these take turns.
`python -m tests.packets.run` tries all on all five.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from packet.description.terms import Language
from packet.drawing.lettering import BODY, FINE, Style
from packet.drawing.marks import Circle, Line, Mark, Path, Point, Text
from packet.drawing.page import FinishedSheet
from packet.drawing.pens import CENTRE, DIMENSION, EXTENSION, FRAME, HIDDEN, VISIBLE, Pen
from packet.drawing.symbols import terminator
from packet.printing import one_sheet
from packet.work import sheet_numbers
from packet.work.sheet_numbers import binding_order
from tests.conftest import CHECK_CASE, plan_of
from tests.packets import dimensions, drafting, instructions, lengths, look, tables
from tests.packets.figures import Figure
from tests.packets.packet import PROJECTS, Packet, content, name_of, packet_of

CHECKS = (*look.CHECKS, dimensions.wrong, dimensions.unread, dimensions.missing, drafting.misdrawn, drafting.misplaced,
          lengths.unexplained, tables.untrue, instructions.unsaid)
LARGE = ("legal", "a3", "tabloid")
# A project's papers follow each other: what they share is worked out once.
CASES = [(project, paper) for place, project in enumerate(PROJECTS)
         for paper in ("letter", "a4", *((LARGE[place // 2 % 3],) if place % 2 == 0 else ()))]


@pytest.mark.parametrize(("project", "paper"), CASES)
def test_packet(project: str, paper: str) -> None:
    packet = packet_of(project, paper)
    assert [fault for check in CHECKS for fault in check(packet)] == []


# --- each check fails on a page that is spoiled --------------------------------------------------------


@cache
def booth() -> Packet:
    return packet_of("booth", "a4")


def spoiled(sheet_name: str, change: Callable[[FinishedSheet], FinishedSheet]) -> Packet:
    """The booth's packet with one of its pages changed: that of the number, or the first of the sheet of the name."""
    place = next(index for index, sheet in enumerate(booth().sheets) if sheet_name in (sheet.number, name_of(sheet)))
    sheets = [*booth().sheets]
    sheets[place] = change(sheets[place])
    return Packet(booth().plan, tuple(sheets))


def with_mark(*marks: Mark) -> Callable[[FinishedSheet], FinishedSheet]:
    return lambda sheet: replace(sheet, marks=(*marks, *sheet.marks))


def with_pen(old: Pen, new: Pen) -> Callable[[FinishedSheet], FinishedSheet]:
    return lambda sheet: replace(sheet, marks=tuple(
        mark._replace(pen=new) if isinstance(mark, Line | Path | Circle) and mark.pen == old else mark for mark in sheet.marks))


def sunk(sheet: FinishedSheet) -> FinishedSheet:
    """The figures of dimensions below their lines."""
    figures = [one.figure for one in dimensions.measured(content(sheet))]
    return replace(sheet, marks=tuple(mark._replace(at=(mark.at[0], mark.at[1] - 6.0)) if mark in figures else mark
                                      for mark in sheet.marks))


def thinner(sheet: FinishedSheet) -> FinishedSheet:
    """The wide lines drawn as narrow ones."""
    wide = (VISIBLE, FRAME)
    return replace(sheet, marks=tuple(mark._replace(pen=DIMENSION) if isinstance(mark, Line | Path) and mark.pen in wide
                                      else mark for mark in sheet.marks))


def odd_width() -> Pen:
    pen = Pen(0.5)
    object.__setattr__(pen, "width", 0.6)
    return pen


def odd_height() -> Style:
    style = Style(2.5)
    object.__setattr__(style, "height", 2.0)
    return style


def without_content(sheet: FinishedSheet) -> FinishedSheet:
    return replace(sheet, marks=(*content(sheet)[:1], *sheet.marks[len(content(sheet)):]))


def bent(sheet: FinishedSheet) -> FinishedSheet:
    """A dimension that is one too large."""
    wrong = next(one.text for one in dimensions.measured(content(sheet)) if re.match(r"\d{3}", one.text))
    more = re.sub(r"\d+", lambda found: str(int(found[0]) + 1), wrong, count=1)
    return reworded(f"^{wrong}$", more)(sheet)


def reworded(old: str, new: str = "") -> Callable[[FinishedSheet], FinishedSheet]:
    return lambda sheet: replace(sheet, marks=tuple(
        mark._replace(string=re.sub(old, new, mark.string)) if isinstance(mark, Text) else mark for mark in sheet.marks))


MIDDLE: Point = (150.0, 110.0)


@pytest.mark.parametrize(("check", "sheet", "change"), [
    (look.collisions, "site", with_mark(Text(MIDDLE, "one", BODY), Text((151.0, 110.5), "two", BODY))),
    (look.outside, "site", with_mark(Text((15.0, 110.0), "out", BODY))),
    (look.foreign_units, "site", with_mark(Text(MIDDLE, "3 in", BODY))),
    (look.pale, "keep", with_mark(Text((260.0, 180.0), "pale", FINE, grey=0.8))),
    (look.empty, "arrangement", without_content),
    (look.small, "site", with_mark(Text(MIDDLE, "small", odd_height()))),
    (look.out_of_series, "site", with_mark(Line(MIDDLE, (160.0, 110.0), odd_width()))),
    (look.out_of_series, "site", with_mark(Text(MIDDLE, "small", odd_height()))),
    (look.out_of_series, "arrangement", thinner),
    (look.out_of_series, "arrangement", lambda sheet: replace(
        sheet, viewports=tuple(replace(view, ratio=15.0) for view in sheet.viewports))),
    (look.scale_without_view, "arrangement", lambda sheet: replace(sheet, viewports=())),
    (dimensions.wrong, "arrangement", bent),
    (dimensions.wrong, "marking", bent),
    (dimensions.wrong, "H-05", reworded("^gap 35:", "gap 36:")),
    (dimensions.unread, "site", with_mark(*terminator(MIDDLE, (1.0, 0.0)))),
    (dimensions.unread, "marking", with_pen(DIMENSION, FRAME)),
    (dimensions.missing, "receiving", without_content),
    (drafting.misdrawn, "wind", with_mark(Line(MIDDLE, (160.0, 110.0), HIDDEN))),
    (drafting.misdrawn, "site", with_mark(Line(MIDDLE, (160.0, 110.0), Pen(0.25, (5.0, 1.0))))),
    (drafting.misdrawn, "parts", with_pen(VISIBLE, DIMENSION)),
    (drafting.misdrawn, "parts", with_pen(VISIBLE, HIDDEN)),
    (drafting.misdrawn, "arrangement", with_pen(EXTENSION, HIDDEN)),
    (drafting.misdrawn, "receiving", with_pen(HIDDEN, DIMENSION)),
    (drafting.misplaced, "site", with_mark(Text(MIDDLE, "from the left", BODY, angle=-90.0))),
    (drafting.misplaced, "arrangement", sunk),
    (drafting.misplaced, "marking", sunk),
    (lengths.unexplained, "arrangement", bent),
    (lengths.unexplained, "strike", reworded("1900", "1901")),
    (lengths.unexplained, "carry", reworded("950", "960")),
    (lengths.unexplained, "X-6B", reworded("950", "960")),
    (lengths.unexplained, "order", with_mark(Text(MIDDLE, "tape 5.9 m", BODY))),
    (tables.untrue, "strips", reworded("^1900$", "1901")),
    (tables.untrue, "strips", reworded("^6$", "5")),
    (tables.untrue, "P-1B", reworded("^15.4$", "15.5")),
    (tables.untrue, "P-1B", reworded("^22.3$", "22.1")),
    (tables.untrue, "cuts", reworded("^3.1$", "3.2")),
    (tables.untrue, "cuts", reworded("^3.8$", "3.9")),
    (tables.untrue, "inspection", reworded("^35 ± 4", "35 ± 5")),
    (tables.untrue, "inspection", reworded("^up to 1\\b", "up to 2")),
    (tables.untrue, "C-1B", reworded("^1000$", "1001")),
    (tables.untrue, "C-1B", reworded("^2$", "3")),
    (tables.untrue, "receiving", reworded("^2$", "3")),
    (tables.untrue, "E-2B", reworded("^63$", "64")),
    (tables.untrue, "E-02", reworded("^63$", "64")),
    (tables.untrue, "carry", reworded("^1.8 kg", "1.9 kg")),
    (tables.untrue, "wind", reworded("^274 N", "275 N")),
    (tables.untrue, "wind", reworded("104 Pa", "106 Pa")),
    (lengths.unexplained, "cautions", with_mark(Text(MIDDLE, "keep 3 m away", BODY))),
])
def test_a_spoiled_page_is_found(check: Callable[[Packet], Iterator[str]], sheet: str,
                                 change: Callable[[FinishedSheet], FinishedSheet]) -> None:
    assert not list(check(booth()))
    assert list(check(spoiled(sheet, change)))


@pytest.mark.parametrize("change", [with_pen(CENTRE, HIDDEN), with_pen(VISIBLE, DIMENSION)])
def test_a_hole_without_its_axes_is_found(change: Callable[[FinishedSheet], FinishedSheet]) -> None:
    plan = plan_of(CHECK_CASE)
    cards = one_sheet(plan, "parts")
    assert not list(drafting.misdrawn(Packet(plan, cards)))
    assert any("hole" in fault for fault in drafting.misdrawn(Packet(plan, tuple(map(change, cards)))))


@cache
def rings(language: str) -> Packet:
    """The instruction sheets of a ring that are checked below."""
    plan = plan_of(CHECK_CASE)
    plan = replace(plan, description=replace(plan.description, language=Language(language)))
    names = ("marking", "recipe.corner", "recipe.sill", "door", "roof")
    return Packet(plan, tuple(sheet for name in names for sheet in one_sheet(plan, name)))


@pytest.mark.parametrize("language", Language)
@pytest.mark.parametrize(("sheet", "left_out", "pattern"), [
    ("C-02", "no action", "Snap|Trace"), ("C-02", "no part B2", "^B2$"), ("C-02", "no face", "INNER|INTERIOR"),
    ("C-02", "no limit, 1.59", "1/16"), ("C-02", "no size, 2726", "107-5/16"),
    ("H-03", "no action", "Fold shut|Cierre"), ("H-03", "no part A2/A3", "A2/A3"), ("H-03", "no face, outer", "OUTER|EXTERIOR"),
    ("H-03", "no limit, 3.17", "1/8"), ("H-03", "no size, 25.40", r"\b1\b(?!/)"), ("H-03", "is followed by ", "^E-01$"),
    ("E-01", "no part B4", "B4"), ("E-01", "no size, 63.50", "2-1/2"), ("E-01", "no limit, 3.17", "1/8"),
    ("E-03", "no part A1R", "A1R"), ("E-03", "no face, inner", "INNER|INTERIOR"), ("E-03", "no size, 584.20", "23"),
    ("R-02", "no part A4R", "A4R"), ("R-02", "no action", "Lay the strip|Ponga la tira"), ("R-02", "no limit, 1.59", "1/16"),
])
def test_an_instruction_that_leaves_something_out_is_found(sheet: str, left_out: str, pattern: str, language: str) -> None:
    """Words taken out of all pages of a sheet, in both languages: that, and nothing else of that sheet, is missed."""
    whole = rings(language)
    base = binding_order(sheet)[:2]
    change = reworded(pattern)
    less = Packet(whole.plan, tuple(change(each) if binding_order(each.number)[:2] == base else each for each in whole.sheets))
    known = {*instructions.unsaid(whole)}  # the sheets that are not drawn here
    assert not any(fault.startswith(sheet) and "to follow" not in fault for fault in known)
    found = [fault for fault in instructions.unsaid(less) if fault not in known]
    assert any(left_out in fault and fault.startswith(sheet) for fault in found), found


def test_every_sheet_is_an_instruction_or_said_to_be_none() -> None:
    """The names of all sheets there can be, and of none that is not."""
    known = {*sheet_numbers._NUMBERS, "marking"}
    assert not instructions.ACTIONS.keys() & instructions.NOT.keys()
    assert instructions.ACTIONS.keys() | instructions.NOT.keys() == known
    assert known - {"marking"} == {*dimensions.LEAST, *dimensions.WITHOUT} - {"marking"}


def test_what_the_file_lacks_is_found() -> None:
    """A page whose drawing says more than its file."""
    packet = spoiled("site", with_mark(Text(MIDDLE, "unwritten", BODY)))
    packet.__dict__["file"] = booth().file
    assert list(look.misread(packet)) == ["X-05: 'unwritten' is not in the file where it is in the drawing"]


def test_what_is_bought_by_its_length_is_rounded_up() -> None:
    """Weather strip of a door 1.2 and 0.6 m: 1.8 m is enough, and so is 1.8 for 1.75; 1.7 is not, nor is it 1.9."""
    for bought, said, enough in ((1800.0, 1.8, True), (1750.0, 1.8, True), (1750.0, 1.7, False), (1750.0, 1.9, False)):
        assert lengths._enough(Figure(str(said), said * 1000, 50.0), np.array([bought])) is enough


def test_by_how_much_a_hip_misses_itself_is_checked() -> None:
    plan = plan_of(CHECK_CASE)
    pages = one_sheet(plan, "fold")
    assert not list(lengths.unexplained(Packet(plan, pages)))
    assert list(lengths.unexplained(Packet(plan, tuple(map(reworded("5-1/2 in", "5-9/16 in"), pages)))))


def test_contrast_is_that_of_the_standard() -> None:
    """Black on white 21, #767676 on white 4.54 (WCAG 2.x, from memory)."""
    assert look.contrast(0, 255) == pytest.approx(21.0)
    assert look.contrast(0x76, 255) == pytest.approx(4.54, abs=0.01)
