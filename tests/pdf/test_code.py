"""The square code, read back by a reader of such codes from the page as it is printed."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import zxingcpp

from packet.drawing.lettering import Lettering
from packet.drawing.marks import Line
from packet.drawing.page import FinishedSheet, Identity, Paper, Sheet, finish, frame_rect
from packet.drawing.page_code import CAPACITY, MODULE, MODULES, QUIET, code_text, serial_in
from packet.drawing.pens import VISIBLE
from packet.pdf.code import runs
from packet.pdf.fonts import lettering
from packet.pdf.writer import write

HUT = Identity("Bell buoy watch hut", "Causeway ringers", "BB-7", fingerprint="8f3a01bc")
SHEET = Sheet("C-04", "Board 4 of 5", "CUT", "marking sheet", (Line((50, 60), (90, 60), VISIBLE),))
LETTER, A4 = Paper(279.4, 215.9, "letter"), Paper(297.0, 210.0, "A4")


@pytest.fixture(scope="module")
def letters() -> Lettering:
    return lettering()


def read(sheet: FinishedSheet, dpi: float) -> list[str]:
    stream = io.BytesIO()
    write([sheet], stream, "Test")
    page = pypdfium2.PdfDocument(stream.getvalue())[0]
    image = page.render(scale=dpi / 72, grayscale=True).to_numpy()
    return [found.text for found in zxingcpp.read_barcodes(image.squeeze())]


@pytest.mark.parametrize(("paper", "system"), [(LETTER, "in"), (A4, "mm")])
def test_a_scan_at_an_office_resolution_gives_serial_sheet_input_and_project(
        paper: Paper, system: str, letters: Lettering) -> None:
    sheet = finish(SHEET, HUT, paper, letters, system)  # type: ignore[arg-type]
    assert read(sheet, 200) == [f"{sheet.serial}/C-04/8F3A01BC/BB-7 BELL BUOY WATCH HUT"]


def test_a_project_too_long_for_the_code_is_cut_and_no_letter_stops_it(letters: Lettering) -> None:
    named = replace(HUT, project="Vogelwarte über dem Moor, Stück nº 2 (hoch)", number="ÄÖ_12345")
    sheet = finish(SHEET, named, A4, letters, "mm")
    (text,) = read(sheet, 200)
    assert len(text) <= CAPACITY
    assert text.startswith(f"{sheet.serial}/C-04/8F3A01BC/AO 12345 VOGELWARTE UBER")


def modules(text: str) -> bytearray:
    """Row by row, 1 where dark."""
    found = bytearray(MODULES * MODULES)
    for column, row, count in runs(text):
        found[row * MODULES + column:row * MODULES + column + count] = b"\1" * count
    return found


def scanned(dark: bytearray) -> list[str]:
    """What a reader finds in modules of 4 dots each, within their quiet zone."""
    side = MODULES + 2 * QUIET
    image = np.full((side, side), 255, np.uint8)
    image[QUIET:-QUIET, QUIET:-QUIET] -= 255 * np.frombuffer(dark, np.uint8).reshape(MODULES, MODULES)
    return [found.text for found in zxingcpp.read_barcodes(image.repeat(4, axis=0).repeat(4, axis=1))]


LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # ISO/IEC 18004, table 5


@pytest.mark.parametrize("text", ["A", LETTERS, LETTERS[:44], LETTERS[::-1], "0" * CAPACITY, "/" * CAPACITY])
def test_every_letter_and_every_length_is_read_back(text: str) -> None:
    assert scanned(modules(text)) == [text]


def test_it_is_the_code_that_another_maker_draws() -> None:
    from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

    for count in range(1, CAPACITY + 1):
        text = (LETTERS * 2)[count:2 * count]
        other = QRCode(3, QRErrorCorrectLevel.M)
        other.addData("A" + text[1:])  # a number alone would be told apart there
        other.makeImpl(False, 3)
        assert modules("A" + text[1:]) == bytearray(bool(dark) for row in other.modules for dark in row), text


def test_a_blot_over_twelve_codewords_of_seventy_is_borne_and_one_over_a_third_of_the_code_is_not() -> None:
    text = LETTERS[:40]
    dusty = modules(text)
    for row in range(12, 16):  # a codeword is 2 wide and 4 high: at most 6 across, 2 above each other; 13 can be borne
        dusty[row * MODULES + 10:row * MODULES + 20] = b"\1" * 10
    assert scanned(dusty) == [text]
    for row in range(9, 20):
        dusty[row * MODULES:(row + 1) * MODULES] = b"\1" * MODULES
    assert scanned(dusty) == []


@pytest.mark.parametrize("text", ["x", "A" * (CAPACITY + 1)])
def test_what_a_code_cannot_hold_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        runs(text)


def test_it_stands_in_the_title_block_with_its_quiet_zone_free(letters: Lettering) -> None:
    sheet = finish(SHEET, HUT, A4, letters, "mm")
    assert sheet.code
    quiet = QUIET * MODULE
    (x, y), (left, bottom, right, _) = sheet.code.at, frame_rect(A4)
    assert left < x - quiet and x + MODULES * MODULE + quiet == pytest.approx(right)
    assert y - quiet >= bottom
    rule = min(mark.a[1] for mark in sheet.marks if isinstance(mark, Line) and mark.a[1] == mark.b[1]
               and mark.b[0] - mark.a[0] == right - left)
    assert y + MODULES * MODULE + quiet <= rule


def test_the_code_is_no_part_of_the_serial(letters: Lettering) -> None:
    assert (finish(SHEET, HUT, A4, letters, "mm").serial
            == finish(SHEET, replace(HUT, fingerprint="00000000"), A4, letters, "mm").serial)


def test_what_was_scanned_or_typed_leads_to_the_serial() -> None:
    assert serial_in(code_text("K3F-9QZ1", "C-04", "8f3a01bc", "hut")) == "K3F-9QZ1"
    assert serial_in(" k3f-9qz1 ") == "K3F-9QZ1"
