"""Every project on every paper, one after another: `python -m tests.packets.run [PROJECT ...]` prints what is wrong."""

from __future__ import annotations

import sys

from tests.packets.packet import PAPERS, PROJECTS, packet_of
from tests.packets.test_packets import CHECKS


def main(projects: list[str]) -> int:
    """The count of faults found."""
    count = 0
    for project in projects or PROJECTS:
        for paper in PAPERS:
            packet = packet_of(project, paper)
            found = [fault for check in CHECKS for fault in check(packet)]
            print(f"{project} on {paper}: {len(packet.sheets)} pages, {len(found)} faults", flush=True)
            for fault in found:
                print(f"    {fault}")
            count += len(found)
    return count


if __name__ == "__main__":
    sys.exit(bool(main(sys.argv[1:])))
