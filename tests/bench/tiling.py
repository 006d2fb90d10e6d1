"""All boards at full size on letter tiles, against the one-form version: each board's drawing once, placed on every tile.

The one-form file is made by a bare process (`replay.py`) with plain reportlab calls. Viewing is all pages drawn on a screen
by pdfium, in this process and warm.
"""

from __future__ import annotations

import statistics
import time
from pathlib import Path

import pypdfium2

from packet.description import load
from packet.drawing.full_size import window
from packet.pdf.fonts import lettering
from packet.plan import make_plan
from packet.sheets.kit import make_kit
from packet.sheets.part_drawing import part_named
from packet.sheets.tiles import tile_sheets, tiled
from tests.bench.measuring import DRAWING, bare, packet, pair, row
from tests.bench.recording import Placed, record_forms

SCREEN = 96 / 72  # pixels to a point


def record(project: Path, marks: Path) -> int:
    """Write the one-form version for the bare process, and say how many pages it has."""
    plan = make_plan(load(project))
    kit = make_kit(plan, lettering())
    forms, pages, first = {}, list[Placed](), 1
    for number, board in enumerate(plan.boards, 1):
        part = part_named(plan, kit, f"board {board.mark}")
        name = f"board-{board.mark}"  # with a space in it, a form cannot be placed
        forms[name] = part.marks
        tiling = tiled(part, kit, first)
        first += len(tiling.tiles)
        room = window(tiling.paper)
        sheets = tuple(tile_sheets(part, tiling, f"M{number:03d}", kit))
        pages.append((sheets[0], "", (0.0, 0.0)))
        pages += [(sheet, name, (room.left - tile.rect[0], room.bottom - tile.rect[1]))
                  for sheet, tile in zip(sheets[1:], tiling.tiles, strict=True)]
    record_forms(forms, pages, plan.description.title, marks)
    return len(pages)


def viewed(file: Path) -> float:
    """Seconds to draw all pages of a file on a screen."""
    with pypdfium2.PdfDocument(file) as document:
        began = time.perf_counter()
        for page in document:
            page.render(scale=SCREEN)
            page.close()
        return time.perf_counter() - began


def rows(folder: Path, project: Path, rounds: int) -> None:
    marks, own, form = folder / "marks", folder / "own.pdf", folder / "form.pdf"
    count = record(project, marks)
    command = packet("full-size", project, "all boards", "--paper", "letter", "-o", own)
    taken = pair(command, bare("replay.py", marks, form, ",".join(DRAWING)), rounds)
    row(f"all boards at 1:1, {count} pages; floor: one form", *taken, "1.5",
        f"{own.stat().st_size // 1000} kB, one form {form.stat().st_size // 1000} kB")
    seconds: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds + 1):
        for each, file in zip(seconds, (own, form), strict=True):
            each.append(viewed(file))
    mine, other = (statistics.median(each[1:]) for each in seconds)
    print(f"| viewing them; floor: one form | {mine:.3f} | {other:.3f} | {mine / other:.2f} | 0.4 | | warm |", flush=True)
