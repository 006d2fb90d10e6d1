"""Times of day in a project file: `8:00`, and spans of them, `12:00-13:00`; read as minutes after midnight."""

from __future__ import annotations

import re
from dataclasses import dataclass

from packet.description.value_kind import Pair, RefusalError, ValueKind
from packet.units import System

DAY = 24 * 60
_TIME = re.compile(r"([0-9]{1,2}):([0-9]{2})")


@dataclass(frozen=True, slots=True, eq=False)
class Clock(ValueKind):
    """A time of day, read as minutes after midnight."""

    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return "0:00 to 23:59, by the clock of 24 hours"

    def example(self, system: System | None) -> str:
        return "8:00"

    def read(self, text: str, system: System | None) -> int:
        return _minutes(text, self, system)


@dataclass(frozen=True, slots=True, eq=False)
class Span(ValueKind):
    """From one time of day to a later one, read as two counts of minutes after midnight."""

    def limit(self, system: System | None) -> str:
        return "two times of one day, the earlier first"

    def example(self, system: System | None) -> str:
        return "12:00-13:00"

    def read(self, text: str, system: System | None) -> tuple[int, int]:
        first, dash, last = text.partition("-")
        if not dash:
            raise RefusalError("this is not from one time to another", self.limit(system), self.remedy(system))
        begins, ends = (_minutes(part.strip(), self, system) for part in (first, last))
        if begins >= ends:
            raise RefusalError("this ends before it begins", self.limit(system), self.remedy(system))
        return begins, ends


def _minutes(text: str, kind: ValueKind, system: System | None) -> int:
    found = _TIME.fullmatch(text)
    if not found or int(found[2]) > 59 or int(found[1]) > 23:
        raise RefusalError("this is not a time of day", kind.limit(system), kind.remedy(system))
    return 60 * int(found[1]) + int(found[2])


def written(minutes: float) -> str:
    """`8:05` of minutes after midnight, to the next whole minute."""
    whole = int(minutes + 0.999)
    return f"{whole // 60 % 24}:{whole % 60:02d}"
