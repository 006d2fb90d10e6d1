"""Safety messages of the packet and the rule that gives each its signal word."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from packet.description.site_values import Caution as Extra
from packet.description.terms import Harm
from packet.words import Words
from packet.work.facts import holds
from packet.work.stations import Station


class Signal(StrEnum):
    """Signal words, gravest first (ANSI Z535.4)."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


@dataclass(frozen=True, slots=True)
class Caution:
    """One message: the hazard, its consequence, how to avoid it, and the stations it concerns."""

    key: str
    injury: Harm
    certain: bool
    hazard: str
    consequence: str
    avoid: tuple[str, ...]
    stations: tuple[Station, ...]

    @property
    def signal(self) -> Signal:
        """DANGER: will kill or maim; WARNING: could; CAUTION: could injure less; NOTICE: no injury."""
        if self.injury is Harm.NONE:
            return Signal.NOTICE
        if self.injury in (Harm.MODERATE, Harm.MINOR):
            return Signal.CAUTION
        return Signal.DANGER if self.certain else Signal.WARNING


def cautions(words: Words, known: Mapping[str, bool], extra: tuple[Extra, ...] = ()) -> tuple[Caution, ...]:
    """The messages that concern the project, gravest first, otherwise in the order they are written.

    `known` are its facts (packet.work.facts): a message or a line with `when` is left out where that is not so.
    `extra` are the project's own, which come on top, at every station; nothing takes one of the packet's away.
    """
    found = [
        Caution(key, Harm(entry["injury"]), bool(entry["certain"]), words.render(entry["hazard"]),
                words.render(entry["consequence"]), _lines(words, entry["avoid"], known),
                tuple(Station(letter) for letter in entry["stations"]))
        for key, entry in words.entry("cautions.messages").items() if holds(entry.get("when", []), known)
    ]
    found += [Caution(f"extra {number}", each.harm, each.certain, each.hazard, each.consequence, (each.avoid,), tuple(Station))
              for number, each in enumerate(extra, 1)]
    return tuple(sorted(found, key=lambda caution: list(Signal).index(caution.signal)))


def _lines(words: Words, entries: list[Any], known: Mapping[str, bool]) -> tuple[str, ...]:
    """Sentences; one that is not always so is written as a mapping with `say` and `when`."""
    found = ({"say": entry} if isinstance(entry, str) else entry for entry in entries)
    return tuple(words.render(entry["say"]) for entry in found if holds(entry.get("when", []), known))
