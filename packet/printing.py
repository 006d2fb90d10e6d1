"""From a plan to a PDF on disk."""

from __future__ import annotations

from pathlib import Path

from packet.drawing.page import FinishedSheet
from packet.pdf.fonts import lettering
from packet.pdf.writer import write
from packet.plan import Plan
from packet.sheets.kit import make_kit
from packet.sheets.register import Progress, draw_all, draw_board


def print_sheets(plan: Plan, target: Path, *, board: str | None = None,
                 progress: Progress = lambda name: None) -> tuple[FinishedSheet, ...]:
    """Draw all sheets, or one board's, and write them to `target` whole or not at all.

    Raises OSError when the file cannot be written, GlyphError when a text of the project cannot be set.
    """
    kit = make_kit(plan, lettering())
    finished = draw_all(plan, kit, progress) if board is None else draw_board(plan, kit, board)
    progress("pdf")
    write(finished, target, plan.description.title, subject="Build packet", author=plan.description.identity.owner)
    return finished
