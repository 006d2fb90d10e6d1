"""Every project on every paper, one after another: `python -m tests.packets.run [PROJECT ...]` prints what is wrong. Of the
samples every page is drawn by a second renderer too."""

from __future__ import annotations

import sys

from tests.packets.packet import PAPERS, PROJECTS, SAMPLES, packet_of
from tests.packets.renderers import INSTALLED, disagreements
from tests.packets.test_packets import CHECKS

RENDERED = ("letter", "a4")
"""Papers of the samples that both renderers draw."""


def main(projects: list[str]) -> int:
    """The count of faults found."""
    count = 0
    samples = {path.stem for path in SAMPLES}
    if not INSTALLED:
        print("poppler is not installed here (pdftoppm is missing): pages are drawn by pdfium alone")
    for project in projects or PROJECTS:
        for paper in PAPERS:
            packet = packet_of(project, paper)
            found = [fault for check in CHECKS for fault in check(packet)]
            compared = INSTALLED and project in samples and paper in RENDERED
            found += disagreements(packet) if compared else ()
            print(f"{project} on {paper}: {len(packet.sheets)} pages{' by two renderers' if compared else ''}, "
                  f"{len(found)} faults", flush=True)
            for fault in found:
                print(f"    {fault}")
            count += len(found)
    return count


if __name__ == "__main__":
    sys.exit(bool(main(sys.argv[1:])))
