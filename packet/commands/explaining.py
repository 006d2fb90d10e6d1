"""Commands about the project file itself: what a key means, and a schema for editors."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import refuse, report, tell

if TYPE_CHECKING:
    from packet.description.meanings import Meaning


def explain(
    key: Annotated[str, typer.Argument(help="A key such as tape.land, or the last part of one.", show_default=False)],
    project: Annotated[Path | None, typer.Option("--in", help="A project file: tells on which of its sheets the value "
                                                 "appears, by drawing them with another.")] = None,
) -> None:
    """What a key of the project file means. Its unit, limits and default, and where it appears.

    Example: packet explain tape.land --in hut.yaml
    """
    from packet.description.meanings import meanings

    known = meanings()
    for meaning in _wanted(key.strip().lower().removesuffix(":"), known):
        for line in _told(meaning, known):
            tell(line)
        if project is not None:
            tell(_places(meaning, project))


def schema() -> None:
    """A JSON Schema of the project file. An editor completes and checks by it.

    Example: packet schema > packet.schema.json
    """
    import json

    from packet.description.schema import schema as make

    typer.echo(json.dumps(make(), indent=1, ensure_ascii=False))


def _wanted(key: str, known: dict[str, Meaning]) -> list[Meaning]:
    from packet.description.value_kind import nearest

    if key in known:
        return [known[key]]
    found = [meaning for name, meaning in known.items() if name.rpartition(".")[2] == key]
    if not found:
        near = nearest(key, known) or nearest(key, (name.rpartition(".")[2] for name in known))
        refuse(f"explain {key!r}: there is no such key (limit: {', '.join(name for name in known if '.' not in name)} and "
               f"the keys in them). {near or 'Write a key as it stands in the project file, such as tape.land.'}")
    return found


def _told(meaning: Meaning, known: dict[str, Meaning]) -> list[str]:
    from packet.units import System

    lines = [meaning.key, f"  {meaning.text}"]
    limits = [meaning.limit(system) for system in System]
    if meaning.kind is None and meaning.listed is None:
        limits = []
        lines.append("  keys: " + ", ".join(
            name.rpartition(".")[2] for name in known if name.rpartition(".")[0] == meaning.key))
    elif meaning.listed:
        lines.append(f"  value: a list of at most {meaning.listed.most} entries, such as {meaning.listed.example}")
    if limits and meaning.kind is not None:
        each = "each: " if meaning.listed else "limits: "
        same = limits[0] == limits[1]
        lines.append(f"  {each}{limits[0] if same else f'{limits[0]} in an inch project, {limits[1]} in a metric one'}")
    if meaning.needed:
        lines.append("  default: none; it must be written")
    elif meaning.default is not None:
        inch, metric = (text or "nothing" for text in meaning.default)
        lines.append(f"  default: {inch if inch == metric else f'{inch} in an inch project, {metric} in a metric one'}")
    elif meaning.kind is not None:
        lines.append("  default: none; it may be left out")
    if len(meaning.presets) < 3:
        lines.append(f"  only where preset is {' or '.join(str(preset) for preset in meaning.presets)}")
    return lines


def _places(meaning: Meaning, project: Path) -> str:
    from packet.appearing import sheets_that_change
    from packet.description.problems import ProjectError
    from packet.description.reading import read_file

    try:
        found = sheets_that_change(read_file(project), project, meaning)
    except ProjectError as fault:
        report(fault)
    if found is None:
        return f"  in {project}: no other value that was tried can be built, so its sheets are not known"
    if not found:
        return f"  in {project}: no sheet depends on it"
    return f"  in {project} it appears on: " + "; ".join(f"{sheet.number} {sheet.title}" for sheet in found)
