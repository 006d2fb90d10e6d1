"""What the user is told where the program has a fault, or the machine refuses something that no command expected."""

from __future__ import annotations

import sys
from collections.abc import Callable

from packet import __version__
from packet.commands.common import tell

WHOLE = "Every file is whole: as it was, or written to its end before this happened."
SEND = ("To have it mended, send whoever looks after this program: the command as you wrote it, the project file, its ledger "
        "(the file beside it that ends in .ledger), and the lines that follow.")


def guarded(run: Callable[[], object]) -> None:
    """Run a command. What it does not foresee ends with exit code 1, and is told as the machine's or the program's."""
    try:
        run()
    except OSError as refused:
        if refused.errno is None:  # raised by a library for reasons of its own
            _fault(refused)
        what = f"{refused.filename}: the" if refused.filename else "The"
        _end(f"{what} machine refuses to read or write: {refused.strerror}. {WHOLE} See that there is room on the disk, "
             "and that this user may read and write there; then run the command again.")
    except MemoryError:
        _end(f"The machine has not enough memory for this. {WHOLE} Close other programs, or print a part of the packet, "
             "such as one board or one station's handout.")
    except Exception as fault:
        _fault(fault)


def told_of(fault: str) -> str:
    """What is said of a fault, its trace at the end."""
    import platform

    return (f"packet has a fault: this is not due to your project. {WHOLE} {SEND}\n"
            f"packet {__version__}, Python {platform.python_version()}, {platform.platform()}\n{fault.rstrip()}")


def _fault(fault: BaseException) -> None:
    import traceback

    _end(told_of("".join(traceback.format_exception(fault))))


def _end(message: str) -> None:
    tell(message, err=True)
    sys.exit(1)
