"""Every project on every paper, one after another: `python -m tests.packets.run [PROJECT ...]` prints what is wrong. Of the
samples every page is drawn by a second renderer too; in Spanish every project is on one paper, where nothing may touch and
every instruction must be whole."""

from __future__ import annotations

import sys
from dataclasses import replace

from packet.description.terms import Language
from packet.plan import Plan
from packet.printing import drawn
from tests.packets import instructions, look
from tests.packets.packet import PAPERS, PROJECTS, SAMPLES, Packet, packet_of
from tests.packets.renderers import INSTALLED, disagreements
from tests.packets.test_packets import CHECKS

RENDERED = ("letter", "a4")
"""Papers of the samples that both renderers draw."""
SPANISH = (look.collisions, look.outside, look.foreign_units, look.small, instructions.unsaid)


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
            count += _told(found)
        spanish = in_spanish(packet_of(project, RENDERED[0]).plan)
        found = [fault for check in SPANISH for fault in check(spanish)]
        print(f"{project} in Spanish: {len(spanish.sheets)} pages, {len(found)} faults", flush=True)
        count += _told(found)
    return count


def in_spanish(plan: Plan) -> Packet:
    plan = replace(plan, description=replace(plan.description, language=Language.ES))
    return Packet(plan, drawn(plan))


def _told(found: list[str]) -> int:
    for fault in found:
        print(f"    {fault}")
    return len(found)


if __name__ == "__main__":
    sys.exit(bool(main(sys.argv[1:])))
