"""Sentences read once, when the package is built, instead of in every process.

To jinja2 a sentence is a small program. Reading and compiling it takes a hundred times what saying it does, and was a tenth
of printing a packet. The build therefore writes the code of the program's own sentences into one file beside this module
(`hatch_build.py`, or `python -m packet.prepared` in a checkout).

A code is found by the whole text of its sentence, and the file counts only where this module as it stands, this jinja2 and
this Python made it. What is not found (a sentence that was edited, one of a project's own, another version of anything) is
compiled when it is said first. While the program runs nothing is written.
"""

from __future__ import annotations

import marshal
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from importlib.util import MAGIC_NUMBER
from keyword import iskeyword
from pathlib import Path
from typing import Any, NamedTuple, NoReturn

from jinja2 import StrictUndefined
from jinja2.sandbox import SandboxedEnvironment

from packet.resources import languages, sentences

FILE = Path(__file__).with_name("sentences.prepared")
FILTERS = ("measure", "figure", "both", "long", "angle", "area", "volume", "mass", "name")
"""The filters of the program; jinja2's own stand beside them."""
PLAIN = re.compile(r"\{\{ *([A-Za-z_][A-Za-z0-9_]*)((?: *\| *[a-z]+)*) *\}\}")
"""A value asked for by its name alone, and the filters that write it."""

Filter = Callable[[Any], str]


class Plain(NamedTuple):
    """A sentence that asks for values by their names alone: what stands around them, and the filters of each."""

    literals: tuple[str, ...]
    names: tuple[str, ...]
    filters: tuple[tuple[str, ...], ...]


def plain(sentence: str) -> Plain | None:
    """A sentence that can be said without making a program of it; None for any other."""
    texts = PLAIN.split(sentence)
    literals, names = texts[::3], texts[1::3]
    filters = tuple(tuple(one.strip() for one in several.split("|")[1:]) for several in texts[2::3])
    if any("{" in text or "}" in text for text in literals) or any(
            iskeyword(name) or name in ("true", "false", "none") for name in names) or any(
            one not in FILTERS for several in filters for one in several):
        return None
    return Plain(tuple(literals), tuple(names), filters)


def environment(filters: Mapping[str, Filter]) -> SandboxedEnvironment:
    """Where sentences are compiled and said. A value that a sentence asks for and does not get is an error."""
    made = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False)
    made.filters.update(filters)
    return made


@cache
def codes() -> Mapping[str, bytes]:
    """The code of each prepared sentence, marshalled; none where the file was not made here and now, or is not there."""
    try:
        found = FILE.read_bytes()
    except FileNotFoundError:
        return {}
    stamp = _stamp()
    if not found.startswith(stamp):
        return {}
    told: dict[str, bytes] = marshal.loads(memoryview(found)[len(stamp):])  # noqa: S302  the package's own file, as a .pyc is
    return told


def prepare(target: Path) -> None:
    """Write the code of all sentences that are not plain, of all languages."""
    # Their numbers are written when they are said: jinja2 leaves a filter that fails on a constant until then.
    room = environment(dict.fromkeys(FILTERS, _not_yet))
    made = {sentence: marshal.dumps(room.compile(sentence))
            for language in languages() for sentence in _sentences(sentences(language))
            if "{" in sentence and not plain(sentence)}
    target.write_bytes(_stamp() + marshal.dumps(made))


def _stamp() -> bytes:
    """What the code depends on besides its sentence."""
    return sha256(b"\0".join((MAGIC_NUMBER, version("jinja2").encode(), Path(__file__).read_bytes()))).digest()


def _not_yet(value: Any) -> NoReturn:
    raise ValueError("only when it is said")


def _sentences(folder: Path) -> Iterator[str]:
    import yaml

    for file in sorted(folder.glob("*.yaml")):
        yield from _lines(yaml.safe_load(file.read_text(encoding="utf-8")))


def _lines(entry: Any) -> Iterator[str]:
    if isinstance(entry, dict | list):
        for one in entry.values() if isinstance(entry, dict) else entry:
            yield from _lines(one)
    else:
        yield str(entry)


if __name__ == "__main__":
    prepare(FILE)
