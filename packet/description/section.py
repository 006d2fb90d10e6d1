"""A group of keys in the project file: which keys it has, and how it is read whole, with everything that is wrong in it.

A model is a class of annotated names. `name: Annotated[type, kind]` is a value or, with `Listed`, a list of them;
`name: Model` is a group within the group; `= None` beside a name says that the key need not be written.
Modules of models evaluate their annotations, so they do without `from __future__ import annotations`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import Enum, auto
from typing import Annotated, Any, ClassVar, TypeVar, get_args, get_origin

from packet.description.kinds import Listed
from packet.description.source import Node
from packet.description.value_kind import Reading, RefusalError, ValueKind


class Section:
    """The base of every group of keys. A section is read, not made, and does not change."""

    _keys: ClassVar[dict[str, Key]] = {}

    def __init_subclass__(cls) -> None:
        own = {name: _key(hint, name not in vars(cls), vars(cls).get(name))
               for name, hint in vars(cls).get("__annotations__", {}).items()}
        cls._keys = cls._keys | own

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a section does not change: {name}")

    def __iter__(self) -> Iterator[tuple[str, Any]]:
        """Keys and values in the order of the model."""
        return iter(vars(self).items())


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a model: its type, the kind or the list that says what it may hold, and whether it must be written."""

    annotation: Any
    marks: tuple[Any, ...]
    required: bool
    default: Any = None

    @property
    def kind(self) -> ValueKind | None:
        return next((mark for mark in self.marks if isinstance(mark, ValueKind)), None)

    @property
    def listed(self) -> Listed | None:
        return next((mark for mark in self.marks if isinstance(mark, Listed)), None)

    @property
    def entry(self) -> Key:
        """What each entry of its list holds."""
        return _key(get_args(self.annotation)[0])

    @property
    def group(self) -> type[Section] | None:
        """The model, where the key holds further keys."""
        return self.annotation if isinstance(self.annotation, type) and issubclass(self.annotation, Section) else None


def keys_of(model: type[Section]) -> dict[str, Key]:
    """The keys of a model, those of the model that it is derived from first."""
    return model._keys


def _key(hint: Any, required: bool = True, default: Any = None) -> Key:
    if isinstance(hint, str):
        raise TypeError(f"the annotation {hint!r} of a model is not evaluated")
    annotation, *marks = get_args(hint) if get_origin(hint) is Annotated else (hint,)
    return Key(annotation, tuple(marks), required, default)


class Fault(Enum):
    """What can be wrong at a place of the file."""

    MISSING = auto()
    UNKNOWN = auto()
    NO_GROUP = auto()
    REFUSED = auto()


Place = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Mistake:
    """What is wrong at one place; `refusal` where its kind did not take the value."""

    place: Place
    fault: Fault
    refusal: RefusalError | None = None


_Model = TypeVar("_Model", bound=Section)


def read_section(model: type[_Model], given: Node, reading: Reading) -> tuple[_Model | None, list[Mistake]]:
    """The section that the data make; None where there are mistakes, which come in the order of the model."""
    reader = _Reader(reading)
    section = reader.section(model, given, ())
    return (None if reader.mistakes else section), reader.mistakes


@dataclass(slots=True)
class _Reader:
    reading: Reading
    mistakes: list[Mistake] = field(default_factory=list)

    def section(self, model: type[_Model], given: Node, place: Place) -> _Model | None:
        if not isinstance(given, dict):
            self.mistakes.append(Mistake(place, Fault.NO_GROUP))
            return None
        keys = keys_of(model)
        section = model()
        for name, key in keys.items():
            if name in given:
                vars(section)[name] = self._value(key, given[name], (*place, name))
            elif key.required:
                self.mistakes.append(Mistake((*place, name), Fault.MISSING))
            else:
                vars(section)[name] = key.default
        self.mistakes += (Mistake((*place, name), Fault.UNKNOWN) for name in given if name not in keys)
        return section

    def _value(self, key: Key, given: Node, place: Place) -> Any:
        """What a key holds. Where it has mistakes, nobody asks for the result."""
        kind, listed = key.kind, key.listed
        try:
            if kind is not None:
                return kind.take(given, self.reading)
            if listed is not None:
                entry = key.entry
                return tuple([self._value(entry, one, (*place, number))
                              for number, one in enumerate(listed.entries(given))])
        except RefusalError as refusal:
            self.mistakes.append(Mistake(place, Fault.REFUSED, refusal))
            return None
        if key.group is None:
            raise TypeError(f"{place} has no kind")
        return self.section(key.group, given, place)
