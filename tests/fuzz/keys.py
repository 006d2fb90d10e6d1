"""Keys put into a project file that it does not have: any that there is, with a value a person might write or a nasty one."""

from __future__ import annotations

import random
import re
from functools import cache

from packet.description.kinds import Choice, Count, Extent, Flag, Length, Money, Number, Paper, Text
from packet.description.meanings import Meaning, meanings
from packet.description.terms import Preset
from packet.description.value_kind import ValueKind
from packet.units import System

WORDS = ("Ana", "north table", "2031-05-02", "EUR", "B", "7", "B\u00f6e \u00f8st", "x" * 24, "A3", "GB-12")
PAPERS = ("letter", "a4", "legal", "tabloid", "a3", "24 x 36 in", "594 x 841 mm", "4 x 4 in")
NASTY = 0.04
"""Share of the values that are no honest ones."""


@cache
def keys() -> tuple[Meaning, ...]:
    """Every key that holds a value or a list, but those of list entries, which come with their list."""
    found = meanings()
    listed = tuple(f"{key}." for key, meaning in found.items() if meaning.listed)
    return tuple(meaning for key, meaning in found.items()
                 if (meaning.kind or meaning.listed) and not key.startswith((*listed, "shelter.leaves.")))


def grafted(text: str, dice: random.Random, nasty: tuple[str, ...]) -> str:
    """One to a dozen keys more."""
    system = System.METRIC if re.search(r"^units: *mm", text, re.M) else System.INCH
    preset = next((each for each in Preset if re.search(rf"preset: *{each}", text)), Preset.RING)
    fitting = tuple(meaning for meaning in keys() if preset in meaning.presets)
    for _ in range(dice.choice((1, 1, 2, 3, 5, 12))):
        meaning = dice.choice(keys() if dice.random() < NASTY else fitting)
        group, _, name = meaning.key.rpartition(".")
        text = _put(text, group, f"{name}: {_written(meaning, text, system, dice, nasty)}")
    return text


def _put(text: str, group: str, entry: str) -> str:
    """The entry in its group where the file has that, in either style of writing it; else in a group of its own."""
    if not group:
        return re.sub(rf"^{entry.partition(':')[0]}:.*\n", "", text, flags=re.M) + f"{entry}\n"
    found = re.search(rf"^{group}:( *\{{ *)?(.*\n)?", text, re.M)
    name, _, said = entry.partition(": ")
    stands = re.search(rf"\b{name}: *(\[.*?\]|[^\[{{,}}\n#]+)", text)
    if stands is not None and found is not None and stands.start() > found.start():
        return f"{text[:stands.start(1)]}{said}{text[stands.end(1):]}"
    if found is None:
        return f"{text}{group}: {{{entry}}}\n"
    if found[1]:
        return f"{text[:found.end(1)]}{entry}, {text[found.end(1):]}"
    return f"{text[:found.end()]}  {entry}\n{text[found.end():]}"


def _written(meaning: Meaning, text: str, system: System, dice: random.Random, nasty: tuple[str, ...]) -> str:
    if dice.random() < NASTY:
        return dice.choice(nasty)
    if meaning.listed is None:
        assert meaning.kind is not None
        return value(meaning.kind, system, dice)
    if meaning.key.startswith("boards."):
        entries = [_board(meaning.key, text, dice) for _ in range(dice.choice((1, 1, 2, 5, 8)))]
    else:
        example = meaning.listed.example.removeprefix("- ").strip()
        entries = [example.strip("[]")] * dice.choice((1, 1, 2, 30))
    return f"[{', '.join(entries)}]"


def _board(key: str, text: str, dice: random.Random) -> str:
    """A board that came, or another that can be bought: near the one of the project."""
    own = re.search(r"size: *([\d.]+) x ([\d.]+)\b", text)
    breadth, length = (float(side) for side in own.groups()) if own else (48.0, 96.0)
    thick = re.search(r"thickness: *([\d.]+)", text)
    deep = float(thick[1]) if thick else 1.0
    share = dice.choice((0.0, 0.0005, 0.002, 0.01, 0.3))
    broad, long, thin = (f"{side * (1 + dice.uniform(-share, share)):.4g}" for side in (breadth, length, deep))
    if key == "boards.measured":
        more = f", thickness: [{thin}, {deep}, {thin}, {deep}]" if dice.random() < 0.4 else ""
        across = (breadth ** 2 + length ** 2) ** 0.5
        more += f", diagonals: [{across:.5g}, {across * (1 + share / 5):.5g}]" if dice.random() < 0.4 else ""
        return f"{{length: {long}, breadth: {broad}{more}}}"
    more = f", price: {dice.choice(('31.50', '0', '9999999.99', '12'))}" if dice.random() < 0.7 else ""
    if key == "boards.alternates":
        more += f", thickness: {thin}"
    return f"{{size: {broad} x {long}{more}}}"


def value(kind: ValueKind, system: System, dice: random.Random) -> str:
    """A value within its limits, as a person would write it."""
    if isinstance(kind, Choice):
        return str(dice.choice(tuple(kind.words)))
    if isinstance(kind, Flag):
        return dice.choice(("yes", "no", "true", "off"))
    if isinstance(kind, Paper):
        return dice.choice(PAPERS)
    if isinstance(kind, Text):
        return dice.choice(WORDS)
    if isinstance(kind, Money):
        return dice.choice(("0", "12", "31.50", "9999999.99"))
    if isinstance(kind, Count):
        return str(dice.choice((kind.least, kind.most, dice.randint(kind.least, kind.most), kind.least + 1)))
    if isinstance(kind, Number):
        return _between(*(kind.metric if system is System.METRIC else kind.inch), dice)
    if isinstance(kind, Length):
        return f"{_between(*kind.bounds(system), dice)} mm"
    if isinstance(kind, Extent):
        least, most = kind.each.bounds(system)
        return f"{_between(least, most, dice)} x {_between(least, most, dice)} mm"
    return kind.example(system)


def _between(least: float, most: float, dice: random.Random) -> str:
    """From the least to the most, small ones as often as large ones, both ends now and then."""
    if dice.random() < 0.2:
        return f"{dice.choice((least, most)):.6f}".rstrip("0").rstrip(".")
    low = max(least, most / 1000)
    return f"{max(least, low * (most / low) ** dice.random()):.3f}"
