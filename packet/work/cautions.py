"""Safety messages of the packet and the rule that gives each its signal word."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from packet.words import Words
from packet.work.stations import Station


class Signal(StrEnum):
    """Signal words, gravest first (ANSI Z535.4)."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


class Injury(StrEnum):
    """What happens to a person who does not avoid the hazard."""

    DEATH = "death"
    SERIOUS = "serious"
    MODERATE = "moderate"
    MINOR = "minor"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Caution:
    """One message: the hazard, its consequence, how to avoid it, and the stations it concerns."""

    key: str
    injury: Injury
    certain: bool
    hazard: str
    consequence: str
    avoid: tuple[str, ...]
    stations: tuple[Station, ...]

    @property
    def signal(self) -> Signal:
        """DANGER: will kill or maim; WARNING: could; CAUTION: could injure less; NOTICE: no injury."""
        if self.injury is Injury.NONE:
            return Signal.NOTICE
        if self.injury in (Injury.MODERATE, Injury.MINOR):
            return Signal.CAUTION
        return Signal.DANGER if self.certain else Signal.WARNING


def cautions(words: Words) -> tuple[Caution, ...]:
    """All messages, gravest first, otherwise in the order they are written."""
    entries = words.entry("cautions.messages")
    found = [
        Caution(key, Injury(entry["injury"]), bool(entry["certain"]), words.render(entry["hazard"]),
                words.render(entry["consequence"]), tuple(words.render(text) for text in entry["avoid"]),
                tuple(Station(letter) for letter in entry["stations"]))
        for key, entry in entries.items()
    ]
    return tuple(sorted(found, key=lambda caution: list(Signal).index(caution.signal)))
