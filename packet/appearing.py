"""Where a key of the project file appears: the sheets that are drawn differently when its value is another."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from packet.description import ProjectError
from packet.description.kinds import Choice, Count, Extent, Flag, Length, Number, Paper, Text
from packet.description.loading import describe
from packet.description.meanings import Meaning
from packet.description.reading import read_text
from packet.description.source import Scalar, Source
from packet.drawing.lettering import GlyphError
from packet.drawing.page import FinishedSheet
from packet.drawing.room import LayoutError
from packet.plan import make_plan
from packet.printing import drawn
from packet.units import INCH, Format, System

REGISTER = "L-01"


def sheets_that_change(text: str, file: Path, meaning: Meaning) -> tuple[FinishedSheet, ...] | None:
    """The sheets of a project, its cover left out, that change with the value of a key; None where no other value that
    was tried can be built. Raises ProjectError for a project that cannot be printed as it is."""
    description = describe(read_text(text, file))
    if description.shape.preset not in meaning.presets:
        return ()
    sheets = drawn(make_plan(description))
    before = {sheet.number: sheet.serial for sheet in sheets}
    given = read_text(text, file)
    for value in _others(meaning, description.system, _now(given, meaning)):
        changed = read_text(text, file)
        if not _put(changed.data, meaning.key.split("."), value):
            return None
        try:
            after = {sheet.number: sheet.serial for sheet in drawn(make_plan(describe(changed)))}
        except (ProjectError, LayoutError, GlyphError):
            continue
        found = [sheet for sheet in sheets if after.get(sheet.number) != before[sheet.number]]
        # The cover lists the serials of all others, so it changes with each of them.
        return tuple(sheet for sheet in found if sheet.number != REGISTER)
    return None


def _now(source: Source, meaning: Meaning) -> str:
    """The value as it is written, or its default."""
    node: Any = source.data
    for name in meaning.key.split("."):
        node = node.get(name) if isinstance(node, dict) else None
    if isinstance(node, Scalar):
        return node.raw
    system = source.data.get("units")
    place = 1 if isinstance(system, Scalar) and system.raw == System.METRIC else 0
    return meaning.default[place] if meaning.default else ""


def _others(meaning: Meaning, system: System, now: str) -> Iterator[str]:
    """Other values, the nearest first, as they may be written."""
    kind = meaning.kind
    if isinstance(kind, Choice):
        yield from (str(word) for word in kind.words if str(word) != now)
    elif isinstance(kind, Flag):
        yield "no" if kind.read(now, system) else "yes"
    elif isinstance(kind, Text):
        yield "A" if now != "A" else "B"
    elif isinstance(kind, Paper):
        yield from (name for name in ("a4", "letter") if name != now)
    elif isinstance(kind, Count):
        count = kind.read(now, system) if now else kind.least
        yield from (str(count + step) for step in (1, -1, 2, -2))
    elif isinstance(kind, Length):
        form, step = Format(system), INCH / 4 if system is System.INCH else 5.0
        length = kind.read(now, system) if now else sum(kind.bounds(system)) / 2
        tries = [length + turn * step for turn in (1, -1, 4, -4, 12, -12)]
        yield from (f"{form.decimal(mm)} {system}" for mm in tries if mm > 0)
    elif isinstance(kind, Number):
        base = float(now.rstrip("%").split()[0]) if now else float(kind.example(system))
        yield from (f"{base * share:.4g}" for share in (1.1, 0.9, 1.5, 0.5) if base)
        yield from ("1", "2", "5")
    elif isinstance(kind, Extent) and " x " in now:
        one, two = now.split(" x ", 1)
        unit = two.strip().split()[-1] if two.strip()[-1:].isalpha() else ""
        for more in (2, -2, 10, -10):
            yield f"{one} x {float(two.split()[0]) + more:g} {unit}".strip()


def _put(data: dict[str, Any], names: list[str], value: str) -> bool:
    """Write a value where its key belongs; whether it could be (not into the entries of a list)."""
    key = ".".join(names)
    for name in names[:-1]:
        inner = data.setdefault(name, {})
        if isinstance(inner, Scalar) and inner.empty:
            inner = data[name] = {}
        if not isinstance(inner, dict):
            return False
        data = inner
    data[names[-1]] = Scalar(value, key)
    return True
