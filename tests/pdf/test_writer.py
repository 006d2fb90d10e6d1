"""The file read back: pages, labels, fonts, links, order of painting, and the same bytes every time."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import pytest

from packet.drawing.lettering import NUMBER, Lettering, Style
from packet.drawing.marks import Circle, Line, Text, rectangle
from packet.drawing.marks import Path as Outline
from packet.drawing.page import FinishedSheet, Identity, Sheet, finish_all
from packet.drawing.pens import HIDDEN, NARROW, VISIBLE, WIDTHS, Pen
from packet.pdf.fonts import lettering
from packet.pdf.writer import write
from tests.drawing import demo

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def letters() -> Lettering:
    return lettering()


@pytest.fixture(scope="module")
def sheets(letters: Lettering) -> tuple[FinishedSheet, ...]:
    return demo.sheets(demo.A4, "mm", letters)


def pdf_of(sheets: tuple[FinishedSheet, ...]) -> bytes:
    stream = io.BytesIO()
    write(sheets, stream, "Bell buoy watch hut", "build packet", "Causeway ringers")
    return stream.getvalue()


@pytest.fixture(scope="module")
def content(sheets: tuple[FinishedSheet, ...]) -> bytes:
    return pdf_of(sheets)


def one_sheet(marks: tuple[Line | Outline | Circle | Text, ...], letters: Lettering) -> bytes:
    sheet = Sheet("T-01", "Test", "TEST", "test", marks)
    return pdf_of(finish_all([sheet], Identity("Test hut"), demo.A4, letters, "mm"))


def test_the_document_says_what_it_is(content: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    assert content.startswith(b"%PDF-1.7")
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.subject, reader.metadata.author) == (
        "Bell buoy watch hut",
        "build packet",
        "Causeway ringers",
    )
    root = reader.root_object
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert str(root["/ViewerPreferences"]["/DisplayDocTitle"]).lower() == "true"


def test_pages_are_labelled_with_their_sheet_numbers(
    content: bytes, sheets: tuple[FinishedSheet, ...]
) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    assert (
        reader.page_labels == [sheet.number for sheet in sheets] == ["P-01", "P-02", "P-03", "H-01", "L-01"]
    )


def test_the_outline_lists_sheets_under_stations(content: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    heads = [entry for entry in reader.outline if not isinstance(entry, list)]
    groups = [entry for entry in reader.outline if isinstance(entry, list)]
    assert [head.title for head in heads] == ["PREPARE", "HINGE", "LEAD"]
    assert [[entry.title for entry in group] for group in groups] == [
        ["P-01  Signs and pens", "P-02  Dimensions", "P-03  Running dimensions"],
        ["H-01  Text and tables"],
        ["L-01  Pictorial"],
    ]
    pages = [[reader.get_destination_page_number(entry) for entry in group] for group in groups]
    assert pages == [[0, 1, 2], [3], [4]]


def test_a_link_leads_to_its_sheet(content: bytes, sheets: tuple[FinishedSheet, ...]) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    (note,) = [annotation.get_object() for annotation in reader.pages[2]["/Annots"]]
    (link,) = sheets[2].links
    assert [float(edge) for edge in note["/Rect"]] == pytest.approx(
        [edge * 72 / 25.4 for edge in link.rect], abs=1e-3
    )
    assert note["/Dest"][0].get_object() == reader.pages[0]


def test_all_fonts_are_embedded_subsets_of_the_type(content: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    used = {}
    for page in reader.pages:
        used.update({name: font.get_object() for name, font in page["/Resources"]["/Font"].items()})
    assert used
    for font in used.values():
        assert "/FontFile2" in font["/FontDescriptor"]
        assert re.match(r"/[A-Z]{6}\+\w*Atkinson", font["/BaseFont"])


def test_lettering_is_found_again_at_its_place_and_size(
    content: bytes, sheets: tuple[FinishedSheet, ...]
) -> None:
    with pdfplumber.open(io.BytesIO(content)) as document:
        for page, sheet in zip(document.pages, sheets, strict=True):
            read = page.extract_text(x_tolerance=1, y_tolerance=1)
            assert sheet.title in read
            assert sheet.serial in read
            # Capital height over em is 668/1000 in this type: sizes in the file against the series in mm.
            heights = {
                round(char["size"] * 25.4 / 72 * 0.668, 3) for char in page.chars if char["matrix"][1] == 0
            }
            assert heights <= {2.5, 3.5, 5.0, 7.0, 10.0}
        number = next(mark for mark in sheets[2].marks if isinstance(mark, Text) and mark.string == "72")
        found = document.pages[2].search("72")[0]
        middle = (found["x0"] + found["x1"]) / 2 * 25.4 / 72
        assert middle == pytest.approx(number.at[0], abs=0.05)


def test_stroke_widths_are_of_the_series(content: bytes) -> None:
    with pdfplumber.open(io.BytesIO(content)) as document:
        widths = {
            round(thing["linewidth"] * 25.4 / 72, 3)
            for page in document.pages
            for thing in (*page.lines, *page.curves, *page.rects)
            if thing["stroke"]
        }
    assert widths <= set(WIDTHS)
    assert {0.25, 0.5, 1.0} <= widths


def test_a_dashed_line_is_dashed(letters: Lettering) -> None:
    content = one_sheet((Line((50, 100), (90, 100), HIDDEN), Line((50, 90), (90, 90), NARROW)), letters)
    with pdfplumber.open(io.BytesIO(content)) as document:
        lines = {round(line["bottom"] * 25.4 / 72): line["dash"] for line in document.pages[0].lines}
    dashes = [length * 25.4 / 72 for length in lines[210 - 100][0]]
    assert dashes == pytest.approx(HIDDEN.dash, abs=1e-3)
    assert lines[210 - 90][0] == []


def grey_at(content: bytes, x: float, y: float) -> int:
    """The grey 0..255 of the first page at a point in mm, rendered at 150 dpi."""
    page = pypdfium2.PdfDocument(content)[0]
    image = page.render(scale=150 / 72, grayscale=True).to_pil()
    return int(image.getpixel((round(x * 150 / 25.4), image.height - 1 - round(y * 150 / 25.4))))


def test_a_line_ends_exactly_where_it_ends(letters: Lettering) -> None:
    content = one_sheet((Line((50, 100), (150, 100), Pen(2.0)),), letters)
    assert [grey_at(content, x, 100) < 90 for x in (49.5, 50.5, 149.5, 150.5)] == [False, True, True, False]


def test_the_point_of_a_narrow_leaf_is_drawn_no_farther_than_it_reaches(letters: Lettering) -> None:
    """A roof leaf's tip, drawn with a pen of 1 mm: half the pen beyond the point at most, and no spike."""
    leaf = Outline(((50, 96), (50, 104), (110, 100)), Pen(1.0))
    content = one_sheet((leaf,), letters)
    assert grey_at(content, 109.5, 100) < 90
    assert grey_at(content, 111.2, 100) == 255


def test_areas_cover_what_was_drawn_before_them_only(letters: Lettering) -> None:
    wide = Line((40, 100), (160, 100), VISIBLE)
    ground = rectangle((60, 90, 80, 110), None, 1.0)
    disc = Circle((100, 100), 8, None, 1.0)
    content = one_sheet((wide, ground, disc, Line((100, 80), (100, 120), VISIBLE)), letters)
    assert grey_at(content, 50, 100) < 90
    assert grey_at(content, 70, 100) == 255
    assert grey_at(content, 95, 100) == 255
    assert grey_at(content, 100, 104) < 90
    tag = one_sheet(
        (rectangle((60, 90, 80, 110), None, 0.0), Text((70, 97.5), "I", NUMBER, "centre", grey=1.0)), letters
    )
    assert grey_at(tag, 62, 92) == 0
    assert grey_at(tag, 70, 100) > 200


@pytest.mark.parametrize("angle", [0.0, 90.0, 30.0])
@pytest.mark.parametrize("anchor", ["left", "centre", "right"])
def test_text_is_written_inside_its_box(letters: Lettering, angle: float, anchor: str) -> None:
    """The box that the collision finder uses is where the ink is."""
    mark = Text((150, 110), "Hg 480", Style(14, bold=True), anchor, angle)  # type: ignore[arg-type]
    bare, lettered = one_sheet((), letters), one_sheet((mark,), letters)
    scale = 150 / 72
    before, after = (
        np.asarray(pypdfium2.PdfDocument(data)[0].render(scale=scale, grayscale=True).to_pil())
        for data in (bare, lettered)
    )
    # The footer's serial differs as well: look at the middle of the page only.
    rows, columns = (before[:1000] != after[:1000]).nonzero()
    mm = 25.4 / 150
    ink = (columns.min() * mm, 210 - (rows.max() + 1) * mm, (columns.max() + 1) * mm, 210 - rows.min() * mm)
    box = letters.box(mark)
    xs, ys = [x for x, _ in box], [y for _, y in box]
    assert ink[0] >= min(xs) - 0.3
    assert ink[2] <= max(xs) + 0.3
    assert ink[1] >= min(ys) - 0.3
    assert ink[3] <= max(ys) + 0.3
    assert ink[2] - ink[0] > 0.8 * (max(xs) - min(xs))
    assert ink[3] - ink[1] > 0.8 * (max(ys) - min(ys))


def test_a_file_is_written_whole(tmp_path: Path, sheets: tuple[FinishedSheet, ...], content: bytes) -> None:
    target = tmp_path / "packet.pdf"
    write(sheets, target, "Bell buoy watch hut", "build packet", "Causeway ringers")
    assert target.read_bytes() == content
    assert list(tmp_path.iterdir()) == [target]


def test_no_sheets_is_an_error() -> None:
    with pytest.raises(ValueError, match="at least one sheet"):
        write((), io.BytesIO(), "none")


SCRIPT = """
import hashlib, io
from packet.pdf.fonts import lettering
from packet.pdf.writer import write
from tests.drawing import demo
stream = io.BytesIO()
sheets = demo.sheets(demo.A4, "mm", lettering())
write(sheets, stream, "Bell buoy watch hut", "build packet", "Causeway ringers")
print(hashlib.sha256(stream.getvalue()).hexdigest())
"""


def digest(**settings: str) -> str:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **settings}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True, cwd=ROOT
    )
    return done.stdout.strip()


def test_the_same_sheets_give_the_same_bytes_anywhere(content: bytes) -> None:
    here = hashlib.sha256(content).hexdigest()
    assert digest(PYTHONHASHSEED="1", TZ="Pacific/Auckland", LC_ALL="C") == here
    assert digest(PYTHONHASHSEED="77", TZ="America/St_Johns") == here


def test_source_date_epoch_sets_the_date(
    monkeypatch: pytest.MonkeyPatch, sheets: tuple[FinishedSheet, ...]
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")  # 2025-11-25 00:00 UTC
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(sheets)))
    assert reader.metadata is not None
    assert reader.metadata["/CreationDate"].startswith("D:20251125000000")


def test_a_link_to_a_sheet_that_is_not_bound_here_is_left_out(sheets: tuple[FinishedSheet, ...]) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(sheets[2:])))
    assert sheets[2].links
    assert "/Annots" not in reader.pages[0]
