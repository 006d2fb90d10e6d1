"""A good packet outlives kill -9: python -m tests.bench.kills COUNT. Ends with 1 where it did not.

A packet is printed over and over onto one file, and each run is killed at a random moment. After every kill the file
must be, byte for byte, the packet it was before or the whole new one.
"""

from __future__ import annotations

import random
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from packet.resources import samples

PROJECT = samples() / "ticket_booth.yaml"


def command(project: Path, target: Path) -> list[str]:
    return [sys.executable, "-m", "packet", "print", str(project), "-o", str(target)]


def survive(count: int, folder: Path, seed: int = 0) -> dict[str, int]:
    """How often the file was the old or the new packet after a kill; raises AssertionError for anything else."""
    dice = random.Random(seed)
    target = folder / "hut.pdf"
    other = folder / "other.yaml"
    text = re.sub("(?m)^project: .*", "project: Another", PROJECT.read_text(encoding="utf-8"))
    other.write_text(text, encoding="utf-8")
    whole: list[bytes] = []
    began = time.monotonic()
    for project in (PROJECT, other):
        subprocess.run(command(project, target), check=True, capture_output=True)
        whole.append(target.read_bytes())
    usual = (time.monotonic() - began) / 2
    target.write_bytes(whole[0])
    seen = {"old": 0, "new": 0}
    for turn in range(count):
        before = target.read_bytes()
        # Half of the kills fall into the end of a run, where the file is written.
        moment = dice.uniform(0, 1.1 * usual) if turn % 2 else dice.uniform(0.8 * usual, 1.1 * usual)
        began = time.monotonic()
        process = subprocess.Popen(command(other if before == whole[0] else PROJECT, target), stdout=subprocess.DEVNULL,
                                   stderr=subprocess.DEVNULL)
        try:
            process.wait(moment)
            usual = 0.8 * usual + 0.2 * (time.monotonic() - began)  # a busy machine gets slower and faster
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
            usual *= 1.01  # for as long as none is done in time
        after = target.read_bytes()
        assert after in whole, f"kill {turn} after {moment:.3f} s left a damaged file"
        seen["old" if after == before else "new"] += 1
    subprocess.run(command(PROJECT, target), check=True, capture_output=True)
    left = sorted(path.name for path in folder.glob(".*"))
    assert left == [], f"a whole run left what killed ones had begun: {left}"
    return seen


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        print(survive(int(sys.argv[1]) if len(sys.argv) > 1 else 200, Path(name)))
