"""The long run: python -m tests.fuzz.run COUNT [FIRST] [PRINT_EVERY] [KIND]. Ends with 1 where anything was found.

KIND is `project` (mutated project files through `check`, every so many through `print`), `ledger` (mutated ledgers) or
`command` (command lines and answers on the terminal). A number always stands for the same trial: a run that was broken
off goes on from the number that it named last. What counts as found: any exception but a refusal, an exit code other than
0 and 2, more than LONGEST seconds, a refusal without words, a ledger changed where none should be, a file left behind.
Project files that something was found in are written to the current folder as `found-NUMBER.yaml`.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz import mutations
from tests.fuzz.trials import command_trial, ledger_trial, project_trial, seeds

MEMORY = 1_500_000_000  # bytes of address space


def main() -> None:
    given = sys.argv[1:5]
    count, first, every = (int(text) for text in [*given[:3], *("1000", "0", "50")[len(given):]])
    kind = given[3] if len(given) > 3 else "project"
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    texts = seeds()
    codes: dict[int, int] = {}
    found = printed = 0
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for number in range(first, first + count):
            printing = kind == "project" and bool(every) and number % every == 0
            wrong, code = (ledger_trial(number, folder) if kind == "ledger" else command_trial(number, folder)
                           if kind == "command" else project_trial(number, folder, printing, texts))
            codes[code] = codes.get(code, 0) + 1
            printed += printing
            if wrong:
                found += 1
                if kind == "project":
                    Path(f"found-{number}.yaml").write_bytes(mutations.one(texts, number))
                print(f"--- {kind} {number}{' (printing)' if printing else ''}\n{wrong}", flush=True)
            if number % 1000 == 999:  # enough to go on from here when a run is broken off
                print(f"up to {number}: exit codes {dict(sorted(codes.items()))}, {printed} printed, {found} found, "
                      f"{time.monotonic() - began:.0f} s", flush=True)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{count} trials of kind {kind}, {printed} printed: exit codes {dict(sorted(codes.items()))}, {found} found, "
          f"{time.monotonic() - began:.0f} s, {peak} MB at most")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
