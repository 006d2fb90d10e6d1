"""The file of whole packets: what two renderers draw, links, labels, measures, type. How its pages look is checked in
`tests/packets`."""

from __future__ import annotations

import io
import re
from functools import cache

import numpy as np
import pikepdf
import pypdf
import pytest
import shapely

from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet
from packet.plan import Plan
from packet.printing import drawn, pdf_of
from packet.units import System
from tests.conftest import SAMPLES, plan_of
from tests.packets.packet import Packet
from tests.packets.renderers import INSTALLED, apart, disagreements
from tests.sheets.drawn import letters, on_paper
from tests.zoo import zoo_plan

PACKETS = {path.stem: path for path in SAMPLES}
ON_PAPERS = [("screen", "a3")]
CASES = [*PACKETS, *(f"{name} on {paper}" for name, paper in ON_PAPERS)]
SIZES = {"a3": (297.0, 420.0)}


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


@pytest.mark.skipif(not INSTALLED, reason="poppler is not installed here: pdftoppm is missing")
def test_another_renderer_draws_the_same() -> None:
    """Every fourth page of one sample; `python -m tests.packets.run` compares all pages of all samples."""
    packet = Packet(plan("fish_box"), sheets("fish_box"))
    assert list(disagreements(packet, every=4)) == []


def test_a_page_drawn_otherwise_is_found() -> None:
    page = np.full((200, 300), 255.0)
    other = page.copy()
    other[40:80, 60:90] = 0.0
    assert not list(apart(page, page)) and list(apart(page, other)) and list(apart(page, page[:-1]))


# --- the file (ISO 32000; keys as in the Arlington model) ------------------------------------------


@pytest.mark.parametrize("case", CASES)
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


@pytest.mark.parametrize("case", list(PACKETS))
def test_the_file_asks_for_its_true_size_and_carries_its_type(case: str) -> None:
    with pikepdf.open(io.BytesIO(content(case))) as document:
        assert document.Root.ViewerPreferences.PrintScaling == "/None"
        for page in document.pages:
            assert "/UserUnit" not in page
            for font in page.Resources.get("/Font", {}).values():
                assert re.match(r"/[A-Z]{6}\+", str(font.BaseFont))
                assert "/FontFile2" in font.FontDescriptor
