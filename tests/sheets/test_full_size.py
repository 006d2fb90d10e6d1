"""Leaves and boards at full size: tiles that fit each other, marks that measure what they say, pages of a roll."""

from __future__ import annotations

import io
import itertools
import math
import pathlib
import re

import pdfplumber
import pytest
import shapely
from typer.testing import CliRunner

from packet.cli import app
from packet.description.loading import describe
from packet.description.reading import read_text
from packet.drawing.collisions import text_conflicts
from packet.drawing.full_size import BARS, Correction, correction_note, window
from packet.drawing.marks import Circle, Path, Text, bounds
from packet.drawing.page import FinishedSheet
from packet.pdf.writer import write
from packet.plan import Plan, make_plan
from packet.printing import full_size_sheets
from packet.sheets.part_drawing import part_named
from packet.sheets.tiles import tiled
from packet.units import INCH, System
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, letters, on_paper
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

MM = 25.4 / 72


def read(sheets: tuple[FinishedSheet, ...], correction: Correction | None = None) -> pdfplumber.PDF:
    stream = io.BytesIO()
    write(sheets, stream, "Full size", correction=correction)
    return pdfplumber.open(stream)


def parts_of(plan: Plan) -> list[str]:
    roof = [leaf.mark for leaf in plan.assembly.leaves if len(leaf.outline) != 4 or leaf.kind == "roof"]
    return [plan.assembly.leaves[0].mark, *roof[:1], f"board {plan.boards[0].mark}"]


def test_a_wall_leaf_of_the_check_case_takes_twenty_letter_pages() -> None:
    """24 x 48 in with half an inch of overlap: 4 x 5 (common practice, no source)."""
    plan = on_paper(plan_of(CHECK_CASE), "letter")
    tiling = tiled(part_named(plan, kit_of(plan), "A3"), kit_of(plan))
    assert (tiling.columns, tiling.rows, len(tiling.tiles)) == (4, 5, 20)


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo(), *releasable_zoo()])
def test_tiles_show_all_of_a_part_and_none_is_empty(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    for part in (part_named(plan, kit, mark) for mark in parts_of(plan)):
        tiling = tiled(part, kit)
        area = shapely.Polygon(part.outline)
        shown = shapely.union_all([shapely.box(*tile.rect) for tile in tiling.tiles])
        assert area.difference(shown).area < len(tiling.tiles)
        assert all(shapely.box(*tile.rect).intersection(area).area > 1.0 for tile in tiling.tiles)
        assert len(full_size_sheets(plan, [part.subject], None)) == len(tiling.tiles) + 1


def test_empty_tiles_of_a_pointed_leaf_are_left_out() -> None:
    plan = zoo_plan("steep")
    roof = next(leaf for leaf in plan.assembly.leaves if leaf.kind == "roof")
    tiling = tiled(part_named(plan, kit_of(plan), roof.mark), kit_of(plan))
    assert len(tiling.tiles) < tiling.rows * tiling.columns


def test_what_a_page_shows_measures_at_full_size() -> None:
    """By vector: a line of 250 mm on a page within 0.05 mm, and both bars on both axes of every page."""
    plan = plan_of(next(path for path in SAMPLES if path.stem == "tide_gauge"))
    with read(full_size_sheets(plan, ["A3"], None)) as document:
        for page in document.pages[1:]:
            lengths = {"x": [], "y": []}  # type: ignore[var-annotated]
            for line in page.lines:
                lengths["x" if abs(line["height"]) < 1e-6 else "y"].append(max(line["width"], line["height"]) * MM)
            for length, _ in BARS[System.METRIC]:
                for axis in lengths.values():
                    assert min(abs(found - length) for found in axis) < 0.05
    with read(full_size_sheets(plan, ["A3"], 500.0)) as document:
        (page,) = document.pages
        outline = max(page.rects, key=lambda rect: rect["width"] * rect["height"] * (rect["linewidth"] > 1.2))
        sides = sorted((outline["width"] * MM, outline["height"] * MM))
        assert sides == pytest.approx([440.0, 1150.0], abs=0.05)


def test_register_marks_of_two_pages_fall_on_each_other() -> None:
    plan = on_paper(plan_of(CHECK_CASE), "letter")
    kit = kit_of(plan)
    part = part_named(plan, kit, "A3")
    tiling = tiled(part, kit)
    room = window(tiling.paper)
    sheets = {sheet.number: sheet for sheet in full_size_sheets(plan, ["A3"], None)}
    places = {}
    for tile in tiling.tiles:
        centres = {m.centre for m in sheets[tile.number].marks if isinstance(m, Circle)}
        places[tile] = {(round(x - room.left + tile.rect[0], 3), round(y - room.bottom + tile.rect[1], 3)) for x, y in centres}
    for a, b in itertools.combinations(tiling.tiles, 2):
        if abs(a.row - b.row) + abs(a.column - b.column) == 1:
            assert len(places[a] & places[b]) == 2
            names = {m.string for m in sheets[a.number].marks if isinstance(m, Text)}
            assert b.number in names


def test_a_page_holds_little_more_than_it_shows() -> None:
    plan = on_paper(plan_of(CHECK_CASE), "letter")
    kit = kit_of(plan)
    whole = part_named(plan, kit, "board 1")
    pages = full_size_sheets(plan, ["board 1"], None)[1:]
    assert max(len(page.clipped) for page in pages) < len(whole.marks) / 3
    assert sum(len(page.clipped) for page in pages) > len(whole.marks)


@pytest.mark.parametrize("mark", ["A1R", "board 1"])
def test_a_page_holds_just_the_marks_whose_ink_reaches_it(mark: str) -> None:
    """By shapely: outlines as their lines, as wide as the widest pen (2 mm); all else as boxes."""
    plan = on_paper(plan_of(CHECK_CASE), "letter")
    kit = kit_of(plan)
    whole = part_named(plan, kit, mark)
    tiling = tiled(whole, kit)
    inks = []
    for each in whole.marks:
        if isinstance(each, Path) and each.fill is None:
            inks.append(shapely.LineString([*each.points, *each.points[:each.closed]]))
        else:
            inks.append(shapely.box(*bounds((each,), kit.lettering)))
    pages = full_size_sheets(plan, [mark], None)[1:]
    for tile, page in zip(tiling.tiles, pages, strict=True):
        left, bottom, right, top = tile.rect
        near = shapely.box(left - 1, bottom - 1, right + 1, top + 1)
        assert len(page.clipped) == sum(ink.intersects(near) for ink in inks)
    around = [shapely.box(*tile.rect).within(shapely.Polygon(whole.outline).buffer(-1)) for tile in tiling.tiles]
    assert any(around), "no tile lies within the outline: the case shows nothing"


def test_a_correction_stretches_full_size_pages_only_and_keeps_their_serial() -> None:
    plan = plan_of(next(path for path in SAMPLES if path.stem == "tide_gauge"))
    sheets = full_size_sheets(plan, ["A3"], None)[:3]
    with read(sheets, Correction(1.0081, 0.999)) as document:
        plain, corrected = document.pages[0], document.pages[1]
        bars = [max(line["width"], line["height"]) * MM for line in corrected.lines]
        assert min(abs(found - 150 * 1.0081) for found in bars) < 0.02
        assert min(abs(found - 150 * 0.999) for found in bars) < 0.02
        assert "corrected" not in plain.extract_text()
        upright = "".join(char["text"] for char in corrected.chars if not char["upright"])
        assert "1.0081across,0.9990up" in upright.replace(" ", "")
        assert sheets[1].serial in corrected.extract_text()


@pytest.mark.parametrize(("language", "said"), [
    ("en", "1.0081 across, 0.9990 up"), ("es", "1,0081 a lo ancho, 0,9990 a lo alto")])
def test_nothing_in_the_margins_touches_and_decimals_are_the_languages(language: str, said: str) -> None:
    """A4 lying and upright: what the page came from, that written dimensions govern, and a printer's correction."""
    text = f"{zoo()['six metric']}\nlanguage: {language}\n"
    plan = on_paper(make_plan(describe(read_text(text, pathlib.Path("hut.yaml")))), "a4")
    pages = [full_size_sheets(plan, [part], None)[1] for part in ("A2", "A2R", "board 1")]
    assert len(plan.description.fingerprint) == 8 and {page.paper.width > page.paper.height for page in pages} == {True, False}
    for page in pages:
        note = correction_note(page, Correction(1.0081, 0.999))
        assert said in "".join(mark.string for mark in note if isinstance(mark, Text))
        whole = (0.0, 0.0, page.paper.width, page.paper.height)
        assert not list(text_conflicts((*page.marks, *note), letters(), whole, wider_than=0.2))
    tiles = full_size_sheets(plan, ["A2R"], None)
    numbers = {mark.string: mark for mark in tiles[0].marks if isinstance(mark, Text) and re.fullmatch(r"T\d{3}", mark.string)}
    assert len(numbers) == len(tiles) - 1
    grounds = [mark for mark in tiles[0].marks if isinstance(mark, Path) and mark.fill == 1.0]
    for number in numbers.values():
        x0, y0, x1, y1 = bounds((number,), letters())
        assert any(left < x0 and low < y0 and right > x1 and top > y1 for left, low, right, top in (
            bounds((ground,), letters()) for ground in grounds)), number.string


def test_a_part_goes_on_a_roll_that_is_wide_enough() -> None:
    plan = plan_of(CHECK_CASE)
    (sheet,) = full_size_sheets(plan, ["board 1"], 60 * INCH)
    assert (sheet.paper.width / INCH, sheet.paper.height / INCH) == pytest.approx((97.0, 60.0))
    outlines = [mark.points for mark in sheet.marks if isinstance(mark, Path)]
    assert max(math.dist(a, b) for a, b, *_ in outlines) / INCH == pytest.approx(96.0)


@pytest.mark.parametrize(("arguments", "said"), [
    (["Q9"], "no leaf or board of this mark"), (["A3", "--roll", "20"], "wider than the roll of 20 in (limit: 25 in and more)"),
    (["A3", "--roll", "4"], "limit: 7"), (["A3", "--roll", "wide"], "not a length")])
def test_what_cannot_be_printed_is_refused(tmp_path: pathlib.Path, arguments: list[str], said: str) -> None:
    target = tmp_path / "out.pdf"
    done = CliRunner().invoke(app, ["full-size", str(CHECK_CASE), *arguments, "-o", str(target)])
    assert done.exit_code == 2
    assert said in done.stderr
    assert not target.exists()
