"""Records decisions with their pages one after another until it is killed: `python recording_decisions.py PROJECT`."""

from __future__ import annotations

import sys
from pathlib import Path

from packet.description.decided import Decision, Remedy
from packet.ledger.store import Ledger
from packet.reissue import publish

PAGES = b"%PDF-1.7\n" + b"0" * 300_000 + b"\n%%EOF\n"

if __name__ == "__main__":
    project = Path(sys.argv[1])
    ledger = Ledger.of(project)
    sys.stdout.write("ready\n")
    sys.stdout.flush()
    while True:
        number = ledger.acts + 1
        target = project.with_name(f"{project.stem}-reissue-{number}.pdf")
        ledger = publish(ledger, Decision(number, Remedy.USE, "A3", "test"), (), PAGES, target)
