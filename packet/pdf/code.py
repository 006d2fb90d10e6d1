"""The square code of a page as runs of dark modules, row by row."""

from __future__ import annotations

from functools import lru_cache

from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

from packet.drawing.page_code import VERSION

_MASK = 3
"""Every mask is read by every reader; trying all eight for the prettiest takes twenty times as long."""

Run = tuple[int, int, int]
"""Column and row of the first dark module, row 0 at the top, and how many follow each other."""


@lru_cache(maxsize=256)
def runs(text: str) -> tuple[Run, ...]:
    """The dark modules of a text in the alphanumeric set."""
    code = QRCode(VERSION, QRErrorCorrectLevel.M)
    code.addData(text)
    code.makeImpl(False, _MASK)
    found: list[Run] = []
    for row, modules in enumerate(code.modules):
        start = None
        for column, dark in enumerate((*modules, False)):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                found.append((start, row, column - start))
                start = None
    return tuple(found)
