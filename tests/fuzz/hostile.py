"""Project files that come by mail from somebody who means harm. python -m tests.fuzz.hostile prints what became of each."""

from __future__ import annotations

import json
import tempfile
import time
from pathlib import Path

from packet.resources import samples
from tests.fuzz.trials import trial

PLAIN = (samples() / "ticket_booth.yaml").read_text(encoding="utf-8")
TITLE = next(line for line in PLAIN.splitlines() if line.startswith("project:"))
HEAD, BOARDS = "project: x\nunits: mm\n", "boards: {size: 1200 x 2400, thickness: 25}\n"
RING = f"{HEAD}shelter: {{walls: 6, leaf_width: 500, wall_height: 1100, slant: 1000}}\n{BOARDS}"
CHAIN = f"{HEAD}shelter: {{preset: chain, leaves: 1000000000, leaf_width: 500, height: 1800}}\n{BOARDS}"
LEAVES = "".join(f"    - {{mark: L{n}, size: 100 x 100}}\n" for n in range(5000))


def titled(title: str) -> bytes:
    return PLAIN.replace(TITLE, f"project: {title}").encode()


def hostile() -> dict[str, bytes]:
    """Files by name; those whose name begins with `good` are odd but honest, and print."""
    bomb = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
        f"{chr(97 + n)}: &{chr(97 + n)} [{', '.join([f'*{chr(96 + n)}'] * 9)}]\n" for n in range(1, 12))
    sizes = {name: RING.replace("leaf_width: 500", f"leaf_width: {value}").encode() for name, value in (
        ("not a number", ".nan"), ("infinite", ".inf"), ("negative", "-500"), ("zero", "0"), ("huge", "1e308"),
        ("too huge to be a float", "9" * 5000), ("a fraction of nothing", "1/0"))}
    return {
        **sizes,
        "aliases without bound": (PLAIN + bomb).encode(),
        "an alias of itself": b"a: &a [*a]\n",
        "nested lists": b"project: " + b"[" * 100_000 + b"]" * 100_000,
        "nested groups": b"a: " + b"{a: " * 5000 + b"x" + b"}" * 5000,
        "nested by indents": "\n".join(" " * n + f"k{n}:" for n in range(900)).encode(),
        "a billion leaves": CHAIN.encode(),
        "more leaves than may be listed": f"{HEAD}shelter:\n  preset: free\n  leaves:\n{LEAVES}{BOARDS}".encode(),
        "twenty thousand keys": "".join(f"k{n}: 1\n" for n in range(20_001)).encode(),
        "a file too large": b"#" * 1_000_001,
        "a type of the language": b"project: !!python/object/apply:os.system ['touch hacked']\n",
        "good: a path as a title": titled("../../outside"),
        "a control character": titled("a\x07b"),
        "an escape for the terminal": titled('"\\e]0;owned\\a"'),
        "right to left": titled("\u202egnirts"),
        "letters the type lacks": titled("\u05e9\u05dc\u05d5\u05dd"),
        "ten thousand characters": titled("a" * 10_000),
        "ten thousand characters in one key": b"a" * 10_000 + b": 1\n",
        "a null byte": titled("a\x00b"),
        "half a character": PLAIN.encode() + b"\xc3",
        "good: an operator of PDF": titled('"(x) Tj ET Q endstream endobj"'),
        "good: a sentence of jinja": titled("'{{ 7*7 }} {% set x = 1 %}'"),
        "good: a bracket never closed": titled('"((((\\\\"'),
    }


def main() -> None:
    found = {}
    with tempfile.TemporaryDirectory() as name:
        for title, content in hostile().items():
            folder = Path(name) / "a" / "b"
            folder.mkdir(parents=True, exist_ok=True)
            began = time.process_time()
            wrong, code = trial(content, folder, printing=True)
            strays = [str(path) for path in Path(name).rglob("*") if path.is_file() and path.name != "hut.yaml"]
            found[title] = {"wrong": wrong, "code": code, "seconds": time.process_time() - began, "strays": strays}
    # The kernel's own mark of this program's memory: what getrusage says counts the process that started it as well.
    status = Path("/proc/self/status").read_text(encoding="ascii")
    peak = int(status.partition("VmHWM:")[2].split()[0]) / 1024
    print(json.dumps({"files": found, "megabytes": peak}))


if __name__ == "__main__":
    main()
