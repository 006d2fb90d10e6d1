"""The command line: which commands there are. What each does stands in `packet/commands/`.

Exit codes: 0 done, 1 a fault of the program or the machine, 2 something in the project file or the
command line that the user can mend. Heavy imports wait until a command needs them.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from io import TextIOWrapper

import typer

from packet.commands import (
    asking,
    beginning,
    common,
    explaining,
    faults,
    full_size,
    gauging,
    handing,
    measuring,
    ordering,
    preview,
    printing,
    recording,
    spoiled,
)

app = typer.Typer(
    name="packet",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Build packets for folding shelters made of rigid foam boards and tape.\n\n"
    "Write a project file (packet start hut.yaml), see whether it closes, folds and packs "
    "(packet check hut.yaml), then print the packet (packet print hut.yaml).",
    epilog="Exit codes: 0 done; 1 a fault of the program or the machine; 2 something to mend in the "
    "project file or on the command line.",
)

app.callback()(common.options)
app.command()(beginning.start)
app.command()(asking.check)
app.command("print")(printing.print_packet)
app.command()(printing.board)
app.command()(printing.sheet)
app.command()(preview.preview)
app.command()(handing.handout)
app.command("full-size")(full_size.full_size)
app.command()(gauging.gauge)
app.command()(asking.figures)
app.command()(ordering.order)
app.command()(explaining.explain)
app.command()(explaining.schema)
app.command()(measuring.measured)
app.command()(recording.issue)
app.command()(recording.collect)
app.command()(recording.done)
app.command()(recording.ledger)
app.command()(recording.verify)
app.command()(spoiled.miscut)


def main() -> None:
    """Entry point of the command `packet`."""
    # The matrices here are small: threads would only wait for each other, and for those of other processes.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Nothing installed beside this program changes how a project is read, and no time goes to looking for it.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # One command is over in seconds and makes hardly any cycles: looking for them takes a tenth of its time and finds no
    # memory worth having. Who prints many projects has it look again (`commands/many`).
    gc.disable()
    _keep_the_called(sys.argv[1:])
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # an old console lacks letters; that must stop nobody
            stream.reconfigure(errors="backslashreplace")
    try:
        faults.guarded(app)
    finally:
        # Python looks through everything for cycles once more before it ends, which would take as long as a tenth of a
        # print: what is kept from it goes with the process. Exit handlers, streams and exit codes are as ever.
        gc.freeze()


def _keep_the_called(words: Sequence[str]) -> None:
    """Only the command that is called is made ready: all twenty take longer than reading the project file. Where something
    else is asked for, such as help or a command that is not there, all stay."""
    called = next((word for word in words if word not in ("--quiet", "-q")), "")
    found = [one for one in app.registered_commands if called == (one.name or getattr(one.callback, "__name__", None))]
    app.registered_commands = found or app.registered_commands
