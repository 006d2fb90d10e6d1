"""Defaults: keys that were not written get the text that the models give for them, in the project's units."""

from __future__ import annotations

from packet.description.section import Key, Section, keys_of
from packet.description.source import Node, Scalar, join
from packet.units import INCH, System


def fill(
    data: dict[str, Node], model: type[Section], system: System, parent: str = ""
) -> tuple[dict[str, Node], tuple[str, ...]]:
    """`data` with every default in place, and the dotted keys that were filled.

    A group that was not written is made where all its keys have defaults. What is missing after this is
    either required or worked out from other values.
    """
    filled = dict(data)
    assumed: list[str] = []
    for name, own in keys_of(model).items():
        key = join(parent, name)
        given = filled.get(name)
        if (group := own.group) is not None:
            if given is None and required_keys(group):
                continue
            if given is None or (isinstance(given, Scalar) and given.empty):
                given = {}
            if isinstance(given, dict):
                filled[name], more = fill(given, group, system, key)
                assumed.extend(more)
        elif (entry_group := entry_model(own)) is not None and isinstance(given, list):
            entries: list[Node] = []
            for number, one in enumerate(given):
                if isinstance(one, dict):
                    one, more = fill(one, entry_group, system, join(key, number))
                    assumed.extend(more)
                entries.append(one)
            filled[name] = entries
        elif given is None:
            entry = _default(own, system, key)
            if entry is not None:
                filled[name] = entry
            if entry is not None or not own.required:
                assumed.append(key)
    return filled, tuple(assumed)


def entry_model(key: Key) -> type[Section] | None:
    """The model of the entries of a list of groups."""
    return key.entry.group if key.listed is not None else None


def required_keys(model: type[Section]) -> tuple[str, ...]:
    """The keys of a model that must be written."""
    return tuple(
        name for name, key in keys_of(model).items()
        if (required_keys(key.group) if key.group else key.required and _default(key, System.INCH, name) is None))


def _default(own: Key, system: System, key: str) -> Node | None:
    place = list(System).index(system)
    if own.kind is not None and own.kind.default is not None:
        return Scalar(own.kind.default[place], key)
    if own.listed is not None:
        return [Scalar(text, join(key, number)) for number, text in enumerate(own.listed.default[place])]
    return None


def latch_below_head(wall_height: float, system: System) -> float:
    """Half the wall height, to the nearest inch or 10 mm; mm."""
    step = INCH if system is System.INCH else 10.0
    return int(wall_height / 2 / step + 0.5) * step


def saw_kerf(system: System) -> float:
    """What a saw takes away, mm."""
    return INCH / 8 if system is System.INCH else 3.0
