"""Drawing practice and PDF against the published values."""

from __future__ import annotations

import io
import re
from fractions import Fraction

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import pytest

from packet.drawing import lettering as styles
from packet.drawing import pens
from packet.drawing.lettering import HEIGHTS, Style
from packet.drawing.marks import Line, Viewport
from packet.drawing.page import FinishedSheet, Identity, Paper, Sheet, finish_all, frame_rect
from packet.drawing.pens import VISIBLE, WIDTHS, Pen
from packet.drawing.symbols import check_bar
from packet.drawing.view import IMPERIAL, METRIC, ScaleError, View, full_size, pick_scale
from packet.pdf.fonts import lettering
from packet.pdf.writer import write
from packet.units import System

# ISO 216, and ASME Y14.1 (inches).
METRIC_PAPER = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "a2": (420.0, 594.0),
    "a1": (594.0, 841.0),
    "a0": (841.0, 1189.0),
}
INCH_PAPER = {"A": (8.5, 11.0), "B": (11.0, 17.0), "C": (17.0, 22.0), "D": (22.0, 34.0), "E": (34.0, 44.0)}
PAPERS = METRIC_PAPER | {name: (a * 25.4, b * 25.4) for name, (a, b) in INCH_PAPER.items()}


def printed(sheets: tuple[FinishedSheet, ...]) -> bytes:
    stream = io.BytesIO()
    write(sheets, stream, "Test hut")
    return stream.getvalue()


def one(sheet: Sheet, paper: Paper, system: System) -> bytes:
    return printed(finish_all([sheet], Identity("Test hut"), paper, lettering(), system))


@pytest.mark.parametrize("name", PAPERS)
def test_pages_are_of_the_standard_sizes_lying_down(name: str) -> None:
    short, long = PAPERS[name]
    content = one(Sheet("T-01", "Test", "TEST", "test", ()), Paper.landscape(short, long, name), "mm")
    box = pypdf.PdfReader(io.BytesIO(content)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(
        (long * 72 / 25.4, short * 72 / 25.4), abs=0.5
    )


@pytest.mark.parametrize(
    # ISO 5457 drawing space, lying down: sheet less 30 in length and 20 in height (A3 390 x 277).
    ("size", "space"),
    [((297.0, 420.0), (390, 277)), ((420.0, 594.0), (564, 400)), ((594.0, 841.0), (811, 574))],
)
def test_the_frame_leaves_the_standard_drawing_space(
    size: tuple[float, float], space: tuple[float, float]
) -> None:
    left, bottom, right, top = frame_rect(Paper.landscape(*size, "test"))
    assert (right - left, top - bottom) == space


def test_metric_scales_are_those_of_the_standard() -> None:
    # ISO 5455, clause 5.1: full size and reductions.
    published = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]
    assert [scale.ratio for scale in METRIC] == published
    assert [scale.label for scale in METRIC] == [f"SCALE 1:{ratio}" for ratio in published]


def test_each_inch_scale_is_twelve_over_its_inches() -> None:
    """The architect's scales: 3 in to the foot is 1:4, and so on down to 3/32, 1:128."""
    published = {
        "3": 4,
        "1-1/2": 8,
        "1": 12,
        "3/4": 16,
        "1/2": 24,
        "3/8": 32,
        "1/4": 48,
        "3/16": 64,
        "1/8": 96,
        "3/32": 128,
    }
    found = {}
    for scale in IMPERIAL[1:]:
        match = re.fullmatch(r"SCALE (\S+)\" = 1'-0\"", scale.label)
        assert match is not None
        inches = sum(Fraction(part) for part in match[1].split("-"))
        assert scale.ratio == 12 / inches
        found[match[1]] = scale.ratio
    assert published.items() <= found.items()
    # Full size over 2, and those of large sites: common practice, no source.
    assert found.keys() - published.keys() == {"6", "1/16", "1/32"}
    assert IMPERIAL[0] == full_size("in")
    assert full_size("mm").ratio == 1


def test_the_largest_scale_that_fits_is_chosen() -> None:
    assert pick_scale("mm", (2400, 1200), (240, 120)).ratio == 10
    assert pick_scale("mm", (2401, 1200), (240, 120)).ratio == 20
    assert pick_scale("in", (96 * 25.4, 48 * 25.4), (200, 120)).label == 'SCALE 3/4" = 1\'-0"'
    assert pick_scale("in", (96 * 25.4, 48 * 25.4), (200, 70)).ratio == 24
    with pytest.raises(ScaleError, match="larger paper"):
        pick_scale("in", (1e6, 10), (200, 100))


def test_a_view_carries_model_to_paper() -> None:
    view = View(pick_scale("mm", (2400, 1200), (240, 120)), (20, 30))
    assert view.points([(0, 0), (480, 1200)]) == ((20, 30), (68, 150))
    assert view.length(1200) == 120
    middle = View.centred(view.scale, (0, -600, 2400, 600), (10, 10, 270, 170))
    assert middle.point((1200, 0)) == pytest.approx((140, 90))


def test_line_widths_are_the_series_and_wide_is_twice_narrow() -> None:
    # ISO 128-24: each width sqrt(2) times the one before, in its rounded values; wide to narrow 2:1.
    assert WIDTHS == (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
    named = {name: pen for name, pen in vars(pens).items() if isinstance(pen, Pen)}
    assert {pen.width for pen in named.values()} <= set(WIDTHS)
    narrow = ("NARROW", "DIMENSION", "EXTENSION", "LEADER", "FOLD", "HIDDEN", "CENTRE")
    assert {pens.VISIBLE.width / named[name].width for name in narrow} == {2.0}
    assert pens.HEAVY.width == 2 * pens.VISIBLE.width
    # ISO 128: fold and dimension lines continuous, hidden dashed, centre chain, initial outline double-point.
    marks_per_period = {
        "FOLD": 0,
        "DIMENSION": 0,
        "VISIBLE": 0,
        "HIDDEN": 1,
        "CENTRE": 2,
        "CUTTING_PLANE": 2,
        "LAST": 3,
    }
    assert {name: len(named[name].dash) // 2 for name in marks_per_period} == marks_per_period


def test_lettering_heights_are_the_series_from_two_and_a_half_up() -> None:
    # ISO 3098 type B heights in mm; 1.8 is below the least that the packet allows.
    assert HEIGHTS == (2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
    named = [style for style in vars(styles).values() if isinstance(style, Style)]
    assert len(named) >= 8
    # Line pitch at least 13/10 of the height.
    assert all(style.leading >= 1.3 * style.height for style in named)
    # 2.5 mm capitals are 10 pt type and more.
    assert lettering().em(styles.FINE) * 72 / 25.4 >= 10


@pytest.fixture(scope="module")
def bars() -> bytes:
    letters = lettering()
    marks = (
        *check_bar((60, 60), 100, "100 mm", letters, divisions=10),
        *check_bar((50, 60), 100, "100 mm", letters, "vertical", divisions=10),
    )
    return one(Sheet("T-01", "Full size", "TEST", "gauge", marks), Paper.landscape(210, 297, "a4"), "mm")


def test_a_full_size_bar_measures_100_mm_in_the_file(bars: bytes) -> None:
    with pdfplumber.open(io.BytesIO(bars)) as document:
        wide = [line for line in document.pages[0].lines if abs(line["linewidth"] * 25.4 / 72 - 0.5) < 1e-3]
    across = [
        (line["x1"] - line["x0"]) * 25.4 / 72 for line in wide if line["height"] < 0.1 and line["width"] > 200
    ]
    up = [line["height"] * 25.4 / 72 for line in wide if line["width"] < 0.1 and line["height"] > 200]
    assert across == [pytest.approx(100, abs=0.05)]
    assert up == [pytest.approx(100, abs=0.05)]


def test_a_full_size_bar_measures_100_mm_as_rendered(bars: bytes) -> None:
    page = pypdfium2.PdfDocument(bars)[0]
    image = np.asarray(page.render(scale=300 / 72, grayscale=True).to_pil())
    mm = 25.4 / 300
    row = image[image.shape[0] - round(60 / mm)]
    ink = [column for column in range(round(55 / mm), round(170 / mm)) if row[column] < 128]
    # The end strokes are 0.25 mm wide and stand half outside the measure.
    assert (ink[-1] - ink[0] + 1) * mm - 0.25 == pytest.approx(100, abs=0.3)
    column = image[:, round(50 / mm)]
    ink = [place for place in range(round(30 / mm), round(160 / mm)) if column[place] < 128]
    assert (ink[-1] - ink[0] + 1) * mm - 0.25 == pytest.approx(100, abs=0.3)


@pytest.mark.parametrize(
    # ISO 32000-2, tables 265-268: X is user units to real lengths. 1/72 in is 0.352778 mm; drawn 1:10, ten
    # times that.
    ("system", "ratio", "factor", "unit"),
    [
        ("mm", 1.0, 0.352778, "mm"),
        ("mm", 10.0, 3.52778, "mm"),
        ("in", 1.0, 1 / 72, "in"),
        ("in", 16.0, 16 / 72, "in"),
    ],
)
def test_measure_dictionaries_answer_in_real_lengths(
    system: System, ratio: float, factor: float, unit: str
) -> None:
    views = (Viewport((40, 50, 160, 110), ratio, "board"), Viewport((100, 60, 150, 100), 1.0, "inset"))
    content = one(
        Sheet("T-01", "Test", "TEST", "test", (Line((40, 50), (160, 50), VISIBLE),), viewports=views),
        Paper.landscape(210, 297, "a4"),
        system,
    )
    first, inset = pypdf.PdfReader(io.BytesIO(content)).pages[0]["/VP"]
    assert [float(edge) for edge in first["/BBox"]] == pytest.approx(
        [e * 72 / 25.4 for e in (40, 50, 160, 110)], abs=1e-3
    )
    assert (first["/Name"], inset["/Name"]) == ("board", "inset")
    measure = first["/Measure"]
    assert measure["/Subtype"] == "/RL"
    assert {"/R", "/X", "/D", "/A"} <= measure.keys()
    assert float(measure["/X"][0]["/C"]) == pytest.approx(factor, rel=1e-5)
    assert measure["/X"][0]["/U"] == measure["/D"][0]["/U"] == unit
    assert float(measure["/D"][0]["/C"]) == 1
    # Areas: square feet of square inches, square metres of square millimetres.
    assert float(measure["/A"][0]["/C"]) == pytest.approx(1 / 144 if system == "in" else 1e-6, rel=1e-6)
    for entry in ("/X", "/D", "/A"):
        (form,) = measure[entry]
        assert {"/U", "/C"} <= form.keys()
        # A decimal precision is a multiple of ten, a fraction's denominator a power of two.
        assert form["/D"] % 10 == 0 if form["/F"] == "/D" else form["/D"] == 16
    one_mm = 120 * 72 / 25.4
    assert one_mm * float(measure["/X"][0]["/C"]) == pytest.approx(
        120 * ratio / (1 if system == "mm" else 25.4)
    )


def test_pages_stay_in_the_limits_of_the_format() -> None:
    # ISO 32000-1, annex C: 3 to 14 400 units a side.
    content = one(Sheet("T-01", "Test", "TEST", "test", ()), Paper.landscape(841, 1189, "a0"), "mm")
    page = pypdf.PdfReader(io.BytesIO(content)).pages[0]
    assert 3 <= float(page.mediabox.height) <= float(page.mediabox.width) <= 14400
    assert page.get("/UserUnit", 1) == 1
