"""A project file to begin with."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packet.commands.common import refuse, say


def start(
    file: Annotated[Path, typer.Argument(help="The project file to write.", show_default=False)],
    units: Annotated[str, typer.Option(help="in or mm: sizes and units of the starter file.")] = "in",
) -> None:
    """Write a commented project file that prints as it is.

    Example: packet start hut.yaml --units mm
    """
    from packet.description.starter import starter_text
    from packet.pdf.files import write_atomically
    from packet.units import System

    if units not in tuple(System):
        refuse(f"--units: {units!r} is not a unit system (limit: in or mm). Write --units in or --units mm.")
    try:
        if file.exists() or file.is_symlink():
            refuse(f"{file}: there is a file already, and it stays as it is. Give another name or move it away first.")
        write_atomically(file, starter_text(System(units)).encode())
    except OSError as fault:
        refuse(f"{file}: cannot be written ({fault.strerror}). Give a name in a folder that exists and can be written.")
    say(f"Wrote {file}. Next: packet check {file}")
