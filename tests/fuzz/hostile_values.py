"""Every key of the project file with every value that means harm: python -m tests.fuzz.hostile_values.

Prints how many were taken and refused, the slowest with its processor time, and the memory that all took; ends with 1 where
one raised anything but a refusal, was refused without a remedy, or took longer than LONGEST.
"""

from __future__ import annotations

import re
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from packet.description import ProjectError
from packet.description.loading import describe
from packet.description.meanings import Meaning, meanings
from packet.description.reading import read_text
from packet.description.terms import Preset
from packet.plan import make_plan
from tests.fuzz.hostile import BOARDS, HEAD, RING
from tests.fuzz.keys import _put

LONGEST = 1.0
"""Seconds of processor time from the file's text to the refusal, or to the plan."""

VALUES = {
    "not a number": ".nan", "infinite": ".inf", "below all": "-.inf", "negative": "-1", "zero": "0", "huge": "1e308",
    "too huge to be a float": "9" * 5000, "a billion": "1000000000", "a fraction of nothing": "1/0", "nothing": '""',
    "nested lists": "[" * 60 + "]" * 60, "nested groups": "{a: " * 60 + "x" + "}" * 60, "a list of many": f"[{'1, ' * 3000}1]",
    "control characters": '"a\\x07\\e[2Jb"', "right to left": '"\\u202egnirts"', "ten thousand characters": "a" * 10_000,
    "an operator of PDF": '"(x) Tj ET Q endstream endobj"', "a path": "../../outside",
    "a sentence of jinja": "\"{{ ''.__class__.__mro__ }}{% for x in range(10**9) %}x{% endfor %}\"",
    "a type of the language": "!!python/object/apply:os.system [x]", "an alias of itself": "&a [*a]",
}
BASES = {
    Preset.RING: RING,
    Preset.CHAIN: f"{HEAD}shelter: {{preset: chain, leaves: 4, leaf_width: 500, height: 1800}}\n{BOARDS}",
    Preset.FREE: f"{HEAD}shelter:\n  preset: free\n  leaves: [{{mark: K, size: 500 x 900}}, {{mark: M, size: 500 x 900}}]\n"
                 f"  seams: [{{join: K.left / M.right}}]\n{BOARDS}",
}


def cases() -> Iterator[tuple[str, str, str]]:
    """Key, name of the value, and the file."""
    known = meanings()
    for meaning in known.values():
        for name, value in VALUES.items():
            yield meaning.key, name, _written(meaning, value, known)


def _written(meaning: Meaning, value: str, known: dict[str, Meaning]) -> str:
    """A small project that has the key with this value; in an entry of a list the other keys as its example has them."""
    text = BASES[Preset.RING if Preset.RING in meaning.presets else next(iter(meaning.presets))]
    of = next((other for other in known.values() if other.listed and meaning.key.startswith(f"{other.key}.")), None)
    if of is None:
        group, _, name = meaning.key.rpartition(".")
        return _put(text, group, f"{name}: {value}")
    assert of.listed is not None
    example = of.listed.example.removeprefix("- ").strip().strip("[]").strip("{}")
    name = meaning.key.rpartition(".")[2]
    entry = re.sub(rf'\b{name}: *("[^"]*"|\[[^\]]*\]|[^,}}]*)', lambda _: f"{name}: {value}", example)
    if entry == example:
        entry = f"{name}: {value}, {example}"
    group, _, listed = of.key.rpartition(".")
    return _put(text, group, f"{listed}: [{{{entry}}}]")


def fault(text: str) -> tuple[str, bool]:
    """What is wrong with how it was taken (empty: nothing), and whether it was refused."""
    try:
        make_plan(describe(read_text(text, Path("hut.yaml"))))
    except ProjectError as refused:
        said = "\n".join(refused.rendered())
        if any(not mark.isprintable() for mark in said.replace("\n", "")):
            return "control characters are shown", True
        if len(said) > 100_000:
            return f"a refusal of {len(said)} characters", True
        return "" if all(one.remedy and one.message for one in refused.problems) else "no remedy", True
    return "", False


def main() -> None:
    counted, slowest, wrong = Counter[str](), (0.0, "", ""), 0
    for key, name, text in cases():
        began = time.process_time()
        try:
            said, refused = fault(text)
        except Exception as broken:
            said, refused = f"{type(broken).__name__}: {broken}", False
        took = time.process_time() - began
        slowest = max(slowest, (took, key, name))
        counted["refused" if refused else "taken"] += 1
        if said or took > LONGEST:
            wrong += 1
            print(f"{key}: {name}: {said or f'{took:.1f} s'}", flush=True)
    status = Path("/proc/self/status").read_text(encoding="ascii")
    peak = int(status.partition("VmHWM:")[2].split()[0]) // 1024
    took, key, name = slowest
    print(f"{sum(counted.values())} files, {dict(counted)}, {wrong} wrong; slowest {took:.2f} s ({key}, {name}); "
          f"{peak} MB at most")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
