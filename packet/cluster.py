"""Printing on a cluster: jobs handed to a dask scheduler, which keeps its own count of workers that fail.

Optional: install the extra `cluster`. Workers need this program installed, in the same version as the one who asks; a
job carries all that it needs. A job whose worker dies is run again on another one by the scheduler.
"""

from __future__ import annotations

import socket
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from packet.batch import in_order

if TYPE_CHECKING:
    from packet.batch import Job, Outcome

AHEAD = 64
"""Jobs handed out or waiting to be taken, so that neither memory nor the scheduler fills up."""

PATIENCE = 10
"""Seconds to wait for the scheduler."""


class NoClusterError(RuntimeError):
    """The cluster cannot be used; says why and what to do."""


def _knock(address: str) -> None:
    """Whether anybody listens, asked first: the client itself waits long and complains at length."""
    try:
        place = urlsplit(address if "://" in address else f"tcp://{address}")
        socket.create_connection((place.hostname or "", place.port or 8786), PATIENCE).close()
    except (OSError, ValueError) as fault:
        raise NoClusterError(f"no scheduler answers at this address within {PATIENCE} s ({fault}); start one with `dask "
                             "scheduler`, or leave --scheduler out and print on this machine") from None


def run_on(address: str, work: Callable[[Job], Outcome], jobs: Iterable[Job]) -> Iterator[Outcome]:
    """Outcomes in the order of the jobs. Raises NoClusterError."""
    try:
        from distributed import Client
    except ImportError:
        raise NoClusterError("the extra for clusters is not installed; install packet[cluster], or leave --scheduler "
                             "out and print on this machine") from None
    _knock(address)
    with Client(address, timeout=PATIENCE, set_as_default=False) as client:
        # Not pure: the same project may be asked for twice, and each is to be answered.
        yield from in_order(lambda job: client.submit(work, job, pure=False), jobs, AHEAD)
