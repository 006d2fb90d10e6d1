"""The kinds of value a key can hold: how each is read, its limits in words, and its default.

A kind stands in the `Annotated` type of a model field and carries everything that is to be known about the
value. Defaults are texts, as a person would write them, and go through the same reading.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import core_schema

from packet.description.letters import unknown_letters
from packet.description.paper import PaperError, paper_names, parse_paper
from packet.description.source import Scalar
from packet.description.value_kind import (
    Pair,
    RefusalError,
    ValueKind,
    column_of,
    either,
    malformed,
    nearest,
    with_unit,
)
from packet.units import LengthError, System, parse_length, parse_size

_SLACK = 1e-6  # mm: 1/8 in written as 3.175 mm is within a limit of 1/8 in

TYPED = str.maketrans("²³", "23")
"""Raised figures as most keyboards have them."""


@dataclass(frozen=True, slots=True, eq=False)
class Length(ValueKind):
    """A length between two limits, (least, most) for an inch project and for a metric one."""

    inch: Pair
    metric: Pair
    default: Pair | None = None
    usual: Pair | None = None  # for an example, where there is no default

    def _limits(self, system: System | None) -> Pair:
        return self.metric if system is System.METRIC else self.inch

    def bounds(self, system: System) -> tuple[float, float]:
        """Least and most in mm."""
        least, most = self._limits(system)
        return parse_length(least, system), parse_length(most, system)

    def limit(self, system: System | None) -> str:
        if system is None:
            return f"{self.limit(System.INCH)}, or {self.limit(System.METRIC)}"
        least, most = self._limits(system)
        return f"{with_unit(least, system)} to {with_unit(most, system)}"

    def example(self, system: System | None) -> str:
        pair = self.default or self.usual or (self.inch[0], self.metric[0])
        return with_unit(pair[column_of(system)], system or System.INCH)

    def read(self, text: str, system: System | None) -> float:
        try:
            mm = parse_length(text, system or System.METRIC)
        except LengthError as error:
            raise malformed(error, self, system) from None
        self.within(mm, system)
        return mm

    def within(self, mm: float, system: System | None) -> None:
        """Raises RefusalError for a length outside the limits."""
        if system is None:
            return
        least, most = self.bounds(system)
        if not least - _SLACK <= mm <= most + _SLACK:
            size = "small" if mm < least else "large"
            raise RefusalError(f"this is too {size}", self.limit(system), f"Write a length from {self.limit(system)}.")


@dataclass(frozen=True, slots=True, eq=False)
class Extent(ValueKind):
    """Two lengths in the order written: a width and a height, or a corner's x and y."""

    each: Length

    def limit(self, system: System | None) -> str:
        return f"each {self.each.limit(system)}"

    def example(self, system: System | None) -> str:
        return "600 x 1200" if system is System.METRIC else "24 x 48"

    def read(self, text: str, system: System | None) -> tuple[float, float]:
        try:
            lengths = parse_size(text, system or System.METRIC)
        except LengthError as error:
            raise malformed(error, self, system) from None
        if len(lengths) != 2:
            raise RefusalError("two lengths belong here", self.limit(system), self.remedy(system))
        for mm in lengths:
            self.each.within(mm, system)
        return lengths[0], lengths[1]


@dataclass(frozen=True, slots=True, eq=False)
class Size(Extent):
    """A board's breadth and length in either order, read as (breadth, length): the smaller is the breadth."""

    def example(self, system: System | None) -> str:
        return "1200 x 2500" if system is System.METRIC else "48 x 96"

    def read(self, text: str, system: System | None) -> tuple[float, float]:
        # A class with slots is made anew by its decorator, so a bare super() would look at the first one.
        breadth, length = sorted(Extent.read(self, text, system))
        return breadth, length


@dataclass(frozen=True, slots=True, eq=False)
class Paper(ValueKind):
    """A paper size by name, or as width x height; read as ((short, long) in mm, name)."""

    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return f"{', '.join(paper_names())}, or a size"

    def example(self, system: System | None) -> str:
        return (self.default or ("letter", "a4"))[column_of(system)]

    def read(self, text: str, system: System | None) -> tuple[tuple[float, float], str]:
        try:
            return parse_paper(text, system or System.METRIC)
        except PaperError as error:
            raise RefusalError(error.wrong, error.limit or self.limit(system), error.remedy) from None


@dataclass(frozen=True, slots=True, eq=False)
class Count(ValueKind):
    """A whole number between two limits."""

    least: int
    most: int
    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return f"a whole number from {self.least} to {self.most}"

    def example(self, system: System | None) -> str:
        return self.default[0] if self.default else "6"

    def read(self, text: str, system: System | None) -> int:
        if not re.fullmatch(r"[-+]?[0-9]{1,9}", text):
            raise RefusalError("this is not a whole number", self.limit(system), self.remedy(system))
        value = int(text)
        if not self.least <= value <= self.most:
            size = "small" if value < self.least else "large"
            remedy = f"Write a whole number from {self.least} to {self.most}."
            raise RefusalError(f"this is too {size}", self.limit(system), remedy)
        return value


@dataclass(frozen=True, slots=True, eq=False)
class Number(ValueKind):
    """A plain number between two limits, (least, most) for an inch project and for a metric one. What is read is
    the number times the factor of the project's units."""

    inch: tuple[float, float]
    metric: tuple[float, float]
    units: Pair
    factors: tuple[float, float] = (1.0, 1.0)
    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        least, most = self._limits(system)
        return f"{least:g} to {most:g} {self.units[column_of(system)]}".rstrip()

    def _limits(self, system: System | None) -> tuple[float, float]:
        return self.metric if system is System.METRIC else self.inch

    def example(self, system: System | None) -> str:
        return self.default[column_of(system)] if self.default else f"{self._limits(system)[0]:g}"

    def read(self, text: str, system: System | None) -> float:
        place = column_of(system)
        unit = self.units[place]
        plain = text.removesuffix(unit).removesuffix(unit.translate(TYPED)).removesuffix("%").strip()
        if not re.fullmatch(r"[-+]?(?:[0-9]{1,9}(?:\.[0-9]*)?|\.[0-9]+)", plain):
            remedy = f"Write a plain number, such as {self.example(system)}."
            raise RefusalError("this is not a number", self.limit(system), remedy)
        value = float(plain)
        least, most = self._limits(system)
        if system is not None and not least <= value <= most:
            size = "small" if value < least else "large"
            raise RefusalError(f"this is too {size}", self.limit(system), f"Write a number from {least:g} to {most:g}.")
        return value * self.factors[place]


@dataclass(frozen=True, slots=True, eq=False)
class Money(ValueKind):
    """An amount of the project's currency; read as whole hundredths, so that sums are exact."""

    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return "an amount from 0 to 9999999.99"

    def example(self, system: System | None) -> str:
        return "31.50"

    def read(self, text: str, system: System | None) -> int:
        found = re.fullmatch(r"([0-9]{1,7})(?:\.([0-9]{1,2}))?", text)
        if not found:
            raise RefusalError("this is not an amount of money", self.limit(system),
                               f"{self.remedy(system)} The currency stands in `prices.currency`.")
        return int(found[1]) * 100 + int((found[2] or "0").ljust(2, "0"))


@dataclass(frozen=True, slots=True, eq=False)
class Choice(ValueKind):
    """One word out of a few."""

    words: type[StrEnum]
    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return either([str(word) for word in self.words])

    def example(self, system: System | None) -> str:
        return self.default[column_of(system)] if self.default else str(next(iter(self.words)))

    def read(self, text: str, system: System | None) -> StrEnum:
        try:
            return self.words(text.lower())
        except ValueError:
            remedy = nearest(text, [str(word) for word in self.words]) or f"Write {self.limit(system)}."
            raise RefusalError("this word is not known here", self.limit(system), remedy) from None


@dataclass(frozen=True, slots=True, eq=False)
class Flag(ValueKind):
    """Yes or no."""

    default: Pair | None = None

    def limit(self, system: System | None) -> str:
        return "yes or no"

    def example(self, system: System | None) -> str:
        return "yes"

    def read(self, text: str, system: System | None) -> bool:
        word = text.lower()
        if word in ("yes", "true", "on"):
            return True
        if word in ("no", "false", "off"):
            return False
        raise RefusalError("this is neither yes nor no", self.limit(system), "Write yes or no.")


@dataclass(frozen=True, slots=True, eq=False)
class Text(ValueKind):
    """One line of printable text, taken as written."""

    most: int
    default: Pair | None = None
    needed: bool = False

    def limit(self, system: System | None) -> str:
        return f"one line of at most {self.most} characters"

    def example(self, system: System | None) -> str:
        return "a short title"

    def read(self, text: str, system: System | None) -> str:
        if not text.isprintable():
            raise RefusalError(
                "the text has a line break or a character that cannot be printed",
                self.limit(system),
                "Write it on one line, in plain characters.",
            )
        strange = unknown_letters(text)
        if strange:
            raise RefusalError(
                f"the packet's type has no {', '.join(f'{mark} (U+{ord(mark):04X})' for mark in strange[:5])}",
                "Latin letters, figures and the usual signs",
                "Write the text with Latin letters.",
            )
        if len(text) > self.most:
            raise RefusalError(
                f"the text has {len(text)} characters",
                self.limit(system),
                f"Shorten it to {self.most} characters.",
            )
        return text


@dataclass(frozen=True, slots=True, eq=False)
class Listed:
    """Marks a list of values. `default` holds the entries as texts, inch and metric."""

    most: int
    default: tuple[tuple[str, ...], tuple[str, ...]]
    example: str
    empty_allowed: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        limit = f"a list of at most {self.most} entries"
        remedy = f"Write a list such as {self.example}."

        def check(given: Any) -> Any:
            if isinstance(given, Scalar) and given.empty and self.empty_allowed:
                return []
            if not isinstance(given, list):
                raise RefusalError("a list belongs here", limit, remedy).for_pydantic()
            if not given and not self.empty_allowed:
                raise RefusalError("the list is empty", limit, remedy).for_pydantic()
            if len(given) > self.most:
                cut = f"Keep at most {self.most} entries."
                raise RefusalError(f"the list has {len(given)} entries", limit, cut).for_pydantic()
            return given

        return core_schema.no_info_before_validator_function(check, handler(source))
