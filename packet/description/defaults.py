"""Defaults: keys that were not written get the text that the models give for them, in the project's units."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from packet.description.kinds import Listed
from packet.description.source import Node, Scalar, join
from packet.description.value_kind import ValueKind
from packet.units import INCH, System


def fill(
    data: dict[str, Node], model: type[BaseModel], system: System, parent: str = ""
) -> tuple[dict[str, Node], tuple[str, ...]]:
    """`data` with every default in place, and the dotted keys that were filled.

    A group that was not written is made where all its keys have defaults. What is missing after this is
    either required or worked out from other values.
    """
    filled = dict(data)
    assumed: list[str] = []
    for name, info in model.model_fields.items():
        key = join(parent, name)
        given = filled.get(name)
        if (group := group_of(info)) is not None:
            if given is None and required_keys(group):
                continue
            if given is None or (isinstance(given, Scalar) and given.empty):
                given = {}
            if isinstance(given, dict):
                filled[name], more = fill(given, group, system, key)
                assumed.extend(more)
        elif (entry_group := entry_model(info.annotation)) is not None and isinstance(given, list):
            entries: list[Node] = []
            for number, one in enumerate(given):
                if isinstance(one, dict):
                    one, more = fill(one, entry_group, system, join(key, number))
                    assumed.extend(more)
                entries.append(one)
            filled[name] = entries
        elif given is None:
            entry = _default(info, system, key)
            if entry is not None:
                filled[name] = entry
            if entry is not None or not info.is_required():
                assumed.append(key)
    return filled, tuple(assumed)


def group_of(info: FieldInfo) -> type[BaseModel] | None:
    """The model of a key that holds further keys."""
    kind = info.annotation
    return kind if isinstance(kind, type) and issubclass(kind, BaseModel) else None


def entry_model(annotation: Any) -> type[BaseModel] | None:
    """The model of the entries of a list of groups."""
    entry = next(iter(getattr(annotation, "__args__", ())), None)
    return entry if isinstance(entry, type) and issubclass(entry, BaseModel) else None


def required_keys(model: type[BaseModel]) -> tuple[str, ...]:
    """The keys of a model that must be written."""
    names = []
    for name, info in model.model_fields.items():
        group = group_of(info)
        if required_keys(group) if group else info.is_required() and _default(info, System.INCH, name) is None:
            names.append(name)
    return tuple(names)


def _default(info: FieldInfo, system: System, key: str) -> Node | None:
    place = list(System).index(system)
    for mark in info.metadata:
        if isinstance(mark, ValueKind) and mark.default is not None:
            return Scalar(mark.default[place], key)
        if isinstance(mark, Listed):
            return [Scalar(text, join(key, number)) for number, text in enumerate(mark.default[place])]
    return None


def latch_below_head(wall_height: float, system: System) -> float:
    """Half the wall height, to the nearest inch or 10 mm; mm."""
    step = INCH if system is System.INCH else 10.0
    return int(wall_height / 2 / step + 0.5) * step


def saw_kerf(system: System) -> float:
    """What a saw takes away, mm."""
    return INCH / 8 if system is System.INCH else 3.0
