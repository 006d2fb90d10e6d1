"""The measuring process: what it says of a program is that program's own."""

from __future__ import annotations

import sys

import pytest

from tests.bench.measuring import measure

MEGABYTE = 1_000_000
BODY = "import sys; held = b'x' * int(sys.argv[1])"


def test_memory_is_the_programs_own() -> None:
    """A program of known size, started from here, where much is held: neither more nor less than its own is told."""
    held = bytearray(300 * MEGABYTE)
    plain = measure([sys.executable, "-c", BODY, "0"])
    large = measure([sys.executable, "-c", BODY, str(200 * MEGABYTE)])
    assert plain.megabytes < 40
    assert large.megabytes - plain.megabytes == pytest.approx(200 * MEGABYTE / 2**20, abs=4)
    assert len(held) == 300 * MEGABYTE


def test_a_program_that_fails_is_no_measurement() -> None:
    with pytest.raises(RuntimeError, match="ended with 3"):
        measure([sys.executable, "-c", "import sys; sys.exit(3)"])
