"""Whole packets, drawn once and read in three ways: as marks, as a file, as pictures."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from pypdfium2 import raw

from packet.drawing.lettering import HEAD, NUMBER
from packet.drawing.marks import Drawing, Rect, Text
from packet.drawing.page import FILING_EDGE, FinishedSheet
from packet.plan import Plan
from packet.printing import drawn, pdf_of
from packet.sheets.kit import Kit
from packet.work.sheet_numbers import sheet_named
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

DPI = 60
POINT = 25.4 / 72

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0), "legal": (215.9, 355.6), "a3": (297.0, 420.0),
          "tabloid": (279.4, 431.8)}
"""Short and long side, mm (ISO 216; ANSI/ASME Y14.1 for letter and tabloid; legal 8-1/2 x 14 in)."""

PROJECTS = {**{path.stem: path for path in (*SAMPLES, CHECK_CASE)},
            **dict.fromkeys((*zoo(), *plain_zoo(), *releasable_zoo()))}


@dataclass(frozen=True, slots=True)
class Written:
    """A string as the file has it, and where it starts, mm from the lower left corner of the page."""

    string: str
    x: float
    y: float
    upright: bool
    size: float
    """Type size, mm."""


@dataclass(frozen=True, eq=False)
class Packet:
    """One project on one paper."""

    plan: Plan
    sheets: tuple[FinishedSheet, ...]

    @cached_property
    def kit(self) -> Kit:
        return kit_of(self.plan)

    @cached_property
    def file(self) -> bytes:
        return pdf_of(self.plan, self.sheets)

    @cached_property
    def pictures(self) -> tuple[NDArray[np.uint8], ...]:
        """Every page in grey, as a viewer shows it."""
        document = pypdfium2.PdfDocument(self.file)
        return tuple(np.asarray(page.render(scale=DPI / 72, grayscale=True).to_pil()) for page in document)

    @cached_property
    def written(self) -> tuple[tuple[Written, ...], ...]:
        """Every string on every page, read back from the file in the order in which it is drawn."""
        document = pypdfium2.PdfDocument(self.file)
        return tuple(tuple(_strings(page)) for page in document)


def packet_of(project: str, paper: str) -> Packet:
    plan = plan_of(path) if (path := PROJECTS[project]) else zoo_plan(project)
    return packet_on(plan, paper)


def packet_on(plan: Plan, paper: str) -> Packet:
    plan = replace(plan, description=replace(plan.description, paper=PAPERS[paper], paper_name=paper.upper()))
    return Packet(plan, drawn(plan))


def name_of(sheet: FinishedSheet) -> str:
    """The name of the sheet that a page belongs to."""
    return sheet_named(sheet.number) or "marking"


def texts(sheet: FinishedSheet) -> tuple[Text, ...]:
    return tuple(mark for mark in sheet.marks if isinstance(mark, Text))


def content(sheet: FinishedSheet) -> Drawing:
    """The sheet's own drawing, without header, title block and frame: what comes before its title in the header. Of a
    full-size page all, its frame has no more than bars and lines of words."""
    if sheet.window:
        return (*sheet.clipped, *sheet.marks)
    places = [index for index, mark in enumerate(sheet.marks) if isinstance(mark, Text) and mark.string == sheet.title
              and mark.style in (HEAD, NUMBER) and abs(mark.at[0] - FILING_EDGE - 4) < 1e-6]
    return sheet.marks[:places[-1]]


def pixels(image: NDArray[np.uint8], rect: Rect) -> NDArray[np.uint8]:
    """What a picture shows of a rectangle of the page in mm."""
    scale = DPI / 25.4
    left, bottom, right, top = (edge * scale for edge in rect)
    high = image.shape[0]
    return image[max(0, int(high - top)):int(high - bottom) + 1, max(0, int(left)):int(right) + 1]


def _strings(page: pypdfium2.PdfPage) -> Iterator[Written]:
    on_page = page.get_textpage()
    for found in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
        size = raw.FPDFTextObj_GetText(found.raw, on_page.raw, None, 0)
        buffer = ctypes.create_string_buffer(size)
        raw.FPDFTextObj_GetText(found.raw, on_page.raw, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size)
        a, b, _, _, x, y = found.get_matrix().get()
        high = ctypes.c_float()
        raw.FPDFTextObj_GetFontSize(found.raw, high)
        yield Written(buffer.raw[:size - 2].decode("utf-16-le"), x * POINT, y * POINT, abs(b) < 1e-6,
                      high.value * (a * a + b * b) ** 0.5 * POINT)
