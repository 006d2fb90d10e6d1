"""Pages as pictures, to look at before they are printed."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import (
    Open,
    Paper,
    Project,
    counted,
    folder_beside,
    plan_of,
    progress,
    refuse,
    say,
    show,
    warn,
    written,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from packet.drawing.page import FinishedSheet


def preview(
    project: Project,
    pages: Annotated[str | None, typer.Option(help="Pages to draw: places or sheet numbers, such as 1-4,C-02; else "
                                              "all.")] = None,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="The folder to write to; beside the project file by "
                                             "default.")] = None,
    dpi: Annotated[int, typer.Option(min=30, max=600, help="Dots per inch.")] = 100,
    paper: Paper = None,
    open_it: Open = False,
) -> None:
    """Write pages as PNG pictures. Each is named by its place and its sheet number.

    Example: packet preview hut.yaml --pages 1-3 --out pictures
    """
    from packet.printing import drawn, pdf_of

    try:
        import pypdfium2
    except ImportError:
        refuse("packet preview needs the library pypdfium2, which is not installed (limit: the extra \"preview\"). "
               f"Install it: {sys.executable} -m pip install pypdfium2.")
    plan = plan_of(project, paper)
    folder = out or folder_beside(project, "preview")
    if folder.exists() and not folder.is_dir():
        refuse(f"{folder}: is a file (limit: a folder). Give the name of a folder with --out.")

    def draw() -> tuple[FinishedSheet, ...]:
        sheets = drawn(plan, progress)
        chosen = _chosen(sheets, pages)
        document = pypdfium2.PdfDocument(pdf_of(plan, [sheets[i] for i in chosen]))
        folder.mkdir(parents=True, exist_ok=True)
        for place, index in enumerate(chosen):
            _picture(document[place], dpi, folder / f"{index + 1:03d}-{sheets[index].number}.png")
        return tuple(sheets[i] for i in chosen)

    shown = written(folder / "page.png", draw)
    warn(plan)
    say(f"Wrote {counted(len(shown), 'page')} to {folder}")
    show(folder, open_it)


def _picture(page: object, dpi: int, target: Path) -> None:
    from io import BytesIO

    from packet.pdf.files import write_atomically

    buffer = BytesIO()
    page.render(scale=dpi / 72).to_pil().save(buffer, "PNG")  # type: ignore[attr-defined]
    write_atomically(target, buffer.getvalue())


def _chosen(sheets: Sequence[FinishedSheet], pages: str | None) -> list[int]:
    """Indices of the pages asked for, in the order of the packet."""
    if not pages:
        return list(range(len(sheets)))
    places = {sheet.number.lower(): index for index, sheet in enumerate(sheets)}
    found: set[int] = set()
    for part in (text.strip().lower() for text in pages.split(",")):
        span = re.fullmatch(r"(\d{1,6})(?:-(\d{1,6}))?", part)
        if part in places:
            found.add(places[part])
        elif span and 1 <= int(span[1]) <= int(span[2] or span[1]) <= len(sheets):
            found.update(range(int(span[1]) - 1, int(span[2] or span[1])))
        else:
            refuse(f"--pages: {part!r} is no page of this packet (limit: 1 to {len(sheets)}, or a sheet number from "
                   f"{sheets[0].number} to {sheets[-1].number}). Write such as 1-4,{sheets[-1].number}.")
    return sorted(found)
