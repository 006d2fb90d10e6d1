"""What every kind of value does: reads a text, says its limit in words, and serves as a pydantic type."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from packet.description.source import Scalar
from packet.units import LengthError, System

Pair = tuple[str, str]  # in an inch project, in a metric one


@dataclass(frozen=True, slots=True)
class Reading:
    """What the kinds need while a file is validated, and every value that could be read, by dotted key.

    `system` is None where the file does not say its units: ranges are then left unchecked."""

    system: System | None
    values: dict[str, Any] = field(default_factory=dict)


class RefusalError(Exception):
    """A value that its kind does not take."""

    def __init__(self, message: str, limit: str, remedy: str) -> None:
        super().__init__(message)
        self.message, self.limit, self.remedy = message, limit, remedy

    def for_pydantic(self) -> PydanticCustomError:
        facts = {"message": self.message, "limit": self.limit, "remedy": self.remedy}
        return PydanticCustomError("refused", "{message}", facts)


class ValueKind:
    """One value. `default` is a pair of texts, or None where the key must be written or is worked out later."""

    default: Pair | None = None
    needed = True  # an empty value is a mistake

    def read(self, text: str, system: System | None) -> Any:
        """The value of a text; raises RefusalError. `system` as in Reading."""
        raise NotImplementedError

    def limit(self, system: System | None) -> str:
        """The limit in words."""
        raise NotImplementedError

    def example(self, system: System | None) -> str:
        """A value that would do, as a person would write it."""
        raise NotImplementedError

    def remedy(self, system: System | None) -> str:
        return f"Write a value such as {self.example(system)}."

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        def validate(given: Any, info: core_schema.ValidationInfo[Reading]) -> Any:
            reading = info.context
            try:
                value = self._read_one(given, reading.system)
            except RefusalError as refusal:
                raise refusal.for_pydantic() from None
            reading.values[given.key] = value
            return value

        return core_schema.with_info_plain_validator_function(validate)

    def _read_one(self, given: Any, system: System | None) -> Any:
        if not isinstance(given, Scalar):
            what = "a list" if isinstance(given, list) else "a group of keys"
            raise RefusalError(f"one value belongs here, not {what}", self.limit(system), self.remedy(system))
        if self.needed and (given.empty or not given.raw):
            raise RefusalError("the value is missing", self.limit(system), self.remedy(system))
        return self.read("" if given.empty else given.raw, system)


def nearest(word: str, known: Iterable[str]) -> str:
    """`Write ...` with the known word that is nearest, or nothing where none is near."""
    names = {name.lower(): name for name in known}
    found = difflib.get_close_matches(word[:60].lower(), list(names), n=1, cutoff=0.6)
    return f"Write {names[found[0]]}." if found else ""


def either(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def column_of(system: System | None) -> int:
    """Which of a pair counts; where the units are not known, the first."""
    return 1 if system is System.METRIC else 0


def with_unit(text: str, system: System) -> str:
    return text if text[-1].isalpha() else f"{text} {system}"


def malformed(error: LengthError, kind: ValueKind, system: System | None) -> RefusalError:
    """The refusal of a text that is not a length."""
    remedy = f"{error.remedy[0].upper()}{error.remedy[1:]}: here, for example, {kind.example(system)}."
    return RefusalError(error.wrong, kind.limit(system), remedy)
