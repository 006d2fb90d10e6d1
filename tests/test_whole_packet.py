"""Every page of whole packets, read as marks, as PDF and as pictures: nothing collides, nothing is pale or small, no page
is nearly empty, and two renderers draw the same."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf
import pypdf
import pypdfium2
import pytest
import shapely
from numpy.typing import NDArray
from PIL import Image

from packet.drawing.collisions import text_conflicts
from packet.drawing.full_size import EDGE
from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet, frame_rect
from packet.drawing.room import Room
from packet.plan import Plan
from packet.printing import drawn, pdf_of
from packet.units import System
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import letters, on_paper
from tests.zoo import zoo_plan

DPI = 60
FULL = 1 / 3
CONTRAST = 4.5
"""Least contrast of lettering with its ground (WCAG 2.x, success criterion 1.4.3)."""

EMPTY = {
    "Register, continued": "what the cover cannot hold of the register, however little that is",
    "Cut list": "what the passes are, where the list itself fills its page",
    "Findings": "as many as there are, and no page but this one is about them",
    "Words of the trade": "a plain project uses few of them",
    "What the day rests on": "the end of a list of values",
    "Checklist": "a hold point stands across the page and is not parted, so the last page may hold one task",
    "Site and anchors": "laid out for letter and A4; a larger paper leaves it room",
    "Boards received": "a line for every board of the order, however few the last page holds",
    "Load of each anchor": "a line for every anchor; few anchors fill few lines",
    "Task by task": "a line for every task, however few the last page holds",
    "Air, what it rests on": "laid out for letter and A4; a larger paper leaves it room",
}
"""Sheets, by the beginning of their titles, that may be emptier than a third, and why."""

PACKETS = {path.stem: path for path in SAMPLES}
ON_PAPERS = [("eight inch", "legal"), ("screen", "a3"), ("five", "tabloid")]
CASES = [*PACKETS, *(f"{name} on {paper}" for name, paper in ON_PAPERS)]
SIZES = {"legal": (215.9, 355.6), "a3": (297.0, 420.0), "tabloid": (279.4, 431.8)}


@cache
def plan(case: str) -> Plan:
    if case in PACKETS:
        return plan_of(PACKETS[case])
    name, paper = case.split(" on ")
    return on_paper(zoo_plan(name), paper, SIZES[paper])


@cache
def sheets(case: str) -> tuple[FinishedSheet, ...]:
    return drawn(plan(case))


@cache
def content(case: str) -> bytes:
    return pdf_of(plan(case), sheets(case))


@cache
def pictures(case: str) -> tuple[NDArray[np.uint8], ...]:
    document = pypdfium2.PdfDocument(content(case))
    return tuple(np.asarray(page.render(scale=DPI / 72, grayscale=True).to_pil()) for page in document)


def pixels(image: NDArray[np.uint8], rect: tuple[float, float, float, float]) -> NDArray[np.uint8]:
    """What a picture shows of a rectangle of the page in mm."""
    scale = DPI / 25.4
    left, bottom, right, top = (edge * scale for edge in rect)
    high = image.shape[0]
    return image[max(0, int(high - top)):int(high - bottom) + 1, max(0, int(left)):int(right) + 1]


def room_of(sheet: FinishedSheet) -> tuple[float, float, float, float]:
    """The part of a page that its own content may fill."""
    if sheet.window:
        return sheet.window
    left, bottom, right, top = frame_rect(sheet.paper)
    return (left + 2, bottom + 22, right - 2, top - 17)


@pytest.mark.parametrize("case", CASES)
def test_no_text_touches_text_or_a_heavy_line(case: str) -> None:
    found = []
    for sheet in sheets(case):
        page = frame_rect(sheet.paper)
        if sheet.window:
            page = Room(0.0, 0.0, sheet.paper.width, sheet.paper.height).inset(EDGE).rect
        found += [f"{sheet.number}: {conflict}" for conflict in text_conflicts(sheet.marks, letters(), page, wider_than=0.2)]
    assert found == []


@pytest.mark.parametrize("case", CASES)
def test_lettering_stands_out_from_its_ground_in_grey(case: str) -> None:
    """Relative luminance of the darkest and the lightest dot in the box of every text, from the rendered page."""
    pale = []
    for sheet, image in zip(sheets(case), pictures(case), strict=True):
        for mark in sheet.marks:
            if not isinstance(mark, Text) or not mark.string.strip() or not mark.string.strip(" .,·-"):
                continue
            corners = letters().box(mark)
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            seen = pixels(image, (min(xs), min(ys), max(xs), max(ys)))
            if seen.size and contrast(int(seen.min()), int(seen.max())) < CONTRAST:
                pale.append(f"{sheet.number}: {mark.string!r}")
    assert pale == []


def contrast(dark: int, light: int) -> float:
    """Contrast ratio of two greys 0..255 (WCAG 2.x, relative luminance)."""
    def luminance(grey: int) -> float:
        share = grey / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    return (luminance(light) + 0.05) / (luminance(dark) + 0.05)


def test_contrast_is_that_of_the_standard() -> None:
    """Black on white 21, #767676 on white 4.54 (WCAG 2.x, from memory)."""
    assert contrast(0, 255) == pytest.approx(21.0)
    assert contrast(0x76, 255) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("case", list(PACKETS))
def test_no_letter_is_smaller_than_the_least(case: str) -> None:
    """Capitals of 2.5 mm at least, read back from the file (capital height 668/1000 of the em in this type)."""
    with pdfplumber.open(io.BytesIO(content(case))) as document:
        for page, sheet in zip(document.pages, sheets(case), strict=True):
            upright = [char["size"] for char in page.chars if char["matrix"][1] == 0]
            assert min(upright) * 25.4 / 72 * 0.668 >= 2.49, sheet.number


@pytest.mark.parametrize("case", CASES)
def test_no_page_is_nearly_empty(case: str) -> None:
    """Share of the cells of a grid of 12 x 8 over a page's room that hold any ink."""
    empty = []
    for sheet, image in zip(sheets(case), pictures(case), strict=True):
        ink = pixels(image, room_of(sheet)) < 200
        cells = [part.any() for row in np.array_split(ink, 8, axis=0) for part in np.array_split(row, 12, axis=1)]
        share = sum(map(bool, cells)) / len(cells)
        if share < FULL and not sheet.title.startswith(tuple(EMPTY)):
            empty.append(f"{sheet.number} {sheet.title}: {share:.0%}")
    assert empty == []


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed here: pdftoppm is missing")
def test_another_renderer_draws_the_same(tmp_path: Path) -> None:
    """pdfium and poppler at 100 dpi, every fourth page, blurred to 8 x 8 dots: the two place dots half a dot apart."""
    case, dpi, blur = "fish_box", 100, 8
    (tmp_path / "packet.pdf").write_bytes(content(case))
    document = pypdfium2.PdfDocument(content(case))
    for index in range(0, len(document), 4):
        page = str(index + 1)
        subprocess.run(["pdftoppm", "-gray", "-r", str(dpi), "-f", page, "-l", page, "-singlefile", "packet.pdf", "page"],
                       cwd=tmp_path, check=True)
        with Image.open(tmp_path / "page.pgm") as picture:
            theirs = np.asarray(picture.convert("L")).astype(float)
        ours = np.asarray(document[index].render(scale=dpi / 72, grayscale=True).to_pil()).astype(float)
        assert ours.shape == theirs.shape
        high, wide = (blur * (side // blur) for side in ours.shape)
        first, second = (image[:high, :wide].reshape(high // blur, blur, wide // blur, blur).mean(axis=(1, 3))
                         for image in (ours, theirs))
        apart = np.abs(first - second)
        number = sheets(case)[index].number
        assert abs(first.mean() - second.mean()) < 1.5, number
        assert apart.mean() < 6.0, number
        assert np.percentile(apart, 99.5) < 45.0, number


# --- the file (ISO 32000; keys as in the Arlington model) ------------------------------------------


@pytest.mark.parametrize("case", CASES[:6])
def test_pages_are_labelled_and_outlined_by_their_sheets(case: str) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content(case)))
    numbers = [sheet.number for sheet in sheets(case)]
    assert list(reader.page_labels) == numbers
    listed = [entry.title.split()[0] for group in reader.outline if isinstance(group, list) for entry in group]
    assert sorted(listed) == sorted(numbers)


@pytest.mark.parametrize("case", list(PACKETS))
def test_callouts_and_the_register_lead_to_the_sheets_they_name(case: str) -> None:
    """Every link rests on lettering that names its sheet; the register names and leads to every sheet but its own."""
    reader = pypdf.PdfReader(io.BytesIO(content(case)))
    numbers = {sheet.number for sheet in sheets(case)}
    led = set()
    for sheet, page in zip(sheets(case), reader.pages, strict=True):
        for link in sheet.links:
            assert link.target in numbers, f"{sheet.number} leads to {link.target}"
            left, bottom, right, top = link.rect
            ground = shapely.box(left, bottom, right, top)
            under = " ".join(mark.string for mark in sheet.marks if isinstance(mark, Text)
                             and shapely.Polygon(letters().box(mark)).intersects(ground))
            assert link.target in under, f"{sheet.number}: a link to {link.target} over {under!r}"
        if sheet.number.startswith("L-1") or sheet.number == "L-01":
            led |= {link.target for link in sheet.links}
        assert len(page.get("/Annots", [])) == len(sheet.links)
    assert numbers - led <= {number for number in numbers if number.startswith(("L-01", "L-1", "L1"))}


@pytest.mark.parametrize("case", CASES)
def test_every_scaled_view_can_be_measured(case: str) -> None:
    """Viewport and Measure keys (ISO 32000-2 tables 265 to 268): R, X, D, A required; X times 72 is the scale."""
    with pikepdf.open(io.BytesIO(content(case))) as document:
        for sheet, page in zip(sheets(case), document.pages, strict=True):
            if not sheet.viewports:
                assert "/VP" not in page
                continue
            assert len(page.VP) == len(sheet.viewports)
            for viewport, wanted in zip(page.VP, sheet.viewports, strict=True):
                assert viewport.Type == "/Viewport"
                assert len(viewport.BBox) == 4
                measure = viewport.Measure
                assert measure.Subtype == "/RL"
                assert {"/R", "/X", "/D", "/A"} <= set(measure.keys())
                for entry in (measure.X[0], measure.D[0], measure.A[0]):
                    assert {"/U", "/C"} <= set(entry.keys())
                factor = float(measure.X[0].C) * 72
                unit = 25.4 if sheet.system is System.METRIC else 1.0
                assert factor == pytest.approx(wanted.ratio * unit, rel=1e-5)


@pytest.mark.parametrize("case", CASES)
def test_a_sheet_that_states_a_scale_has_a_view_of_it(case: str) -> None:
    for sheet in sheets(case):
        texts = [mark.string for mark in sheet.marks if isinstance(mark, Text)]
        stated = "Scale" in texts and texts[texts.index("Scale") + 1] != "none"
        assert bool(sheet.viewports) or not stated, sheet.number


@pytest.mark.parametrize("case", list(PACKETS))
def test_the_file_asks_for_its_true_size_and_carries_its_type(case: str) -> None:
    with pikepdf.open(io.BytesIO(content(case))) as document:
        assert document.Root.ViewerPreferences.PrintScaling == "/None"
        for page in document.pages:
            assert "/UserUnit" not in page
            for font in page.Resources.get("/Font", {}).values():
                assert re.match(r"/[A-Z]{6}\+", str(font.BaseFont))
                assert "/FontFile2" in font.FontDescriptor
