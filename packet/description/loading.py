"""Project file -> Description: read, fill defaults, validate, check together, resolve. All problems at once."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from packet.description import defaults, feasible, listed
from packet.description.buying_values import Alternate, OtherSize, Prices, RollPrice
from packet.description.crew_values import Crew, Pause, Rates, Seats
from packet.description.decided import RepairLimits
from packet.description.kinds import Choice
from packet.description.models import PROJECTS, ChainProject, Common, FreeProject, OpeningEntry, RingProject
from packet.description.own_words import own_words
from packet.description.problems import Kind, Problem, counted
from packet.description.reading import read_file, read_text
from packet.description.resolved import (
    Assumptions,
    Boards,
    Chain,
    Description,
    Doors,
    Foil,
    Identity,
    Limits,
    MeasuredBoard,
    OpeningPlace,
    Ring,
    Shape,
    Tape,
)
from packet.description.site_values import Air, Caution, Cautions, Lift, Passage, Site, Taping, Transport, Wind
from packet.description.source import Node, Scalar, Source, place_of, shown
from packet.description.terms import Preset, Tool
from packet.description.value_kind import Reading, RefusalError, nearest
from packet.units import Format, System, celsius

Word = TypeVar("Word", bound=StrEnum)


def load(path: Path) -> Description:
    """The project that a file describes. Raises ProjectError with every problem found."""
    return describe(read_text(read_file(path), path))


def describe(source: Source) -> Description:
    """The project that was read. Raises ProjectError with every problem found."""
    system = _system(source.data)
    model = _project_model(source.data)
    filled, assumed = defaults.fill(source.data, model, system or System.METRIC)
    reading = Reading(system)
    problems = list(source.problems)
    told = {problem.key for problem in problems if problem.key}
    project = None
    try:
        project = model.model_validate(filled, context=reading)
    except ValidationError as error:
        problems.extend(
            _problem(model, source, filled, detail)
            for detail in error.errors(include_url=False)
            if not _is_told(".".join(map(str, detail["loc"])), told)
        )
    if system is not None:
        _complete(filled, assumed, reading)
        findings = feasible.check(reading.values, system)
        if project is not None:
            findings += listed.opening_sizes(project, Format(system))
            findings += listed.readings(project, Format(system))
            findings += listed.other_sizes(project, Format(system))
        if isinstance(project, FreeProject):
            findings += listed.check(project, Format(system))
        problems.extend(_unfeasible(source, filled, finding) for finding in findings)
    if problems or project is None:
        source.problems = problems
        raise source.error()
    return _resolve(project, source, assumed)


def _system(data: dict[str, Node]) -> System | None:
    return _word(data.get("units"), System)


def _project_model(data: dict[str, Node]) -> type[Common]:
    """The keys that a project of this preset may have; a ring's where the preset cannot be read."""
    preset = _word(_at(data, ("shelter", "preset")) if isinstance(data.get("shelter"), dict) else None, Preset)
    return RingProject if preset is None else PROJECTS[preset]


def _word(node: Node | None, words: type[Word]) -> Word | None:
    """The value of a key by which others are read. None where it is none of the words: validation, which follows, tells
    that with its place."""
    if not isinstance(node, Scalar):
        return None
    try:
        return words(Choice(words).read(node.raw, None))
    except RefusalError:
        return None


def _is_told(key: str, told: set[str]) -> bool:
    """Whether a problem with this key, or with a group around it, was noted while reading."""
    return any(key == other or key.startswith(f"{other}.") for other in told)


def _complete(filled: dict[str, Node], assumed: tuple[str, ...], reading: Reading) -> None:
    """Add what the checks need beyond single values: lists that could be read whole, and the latch's height."""
    values = reading.values
    for group in ("tape", "foil"):
        entries = _at(filled, (group, "stock"))
        if isinstance(entries, list) and entries:
            keys = [f"{group}.stock.{number}" for number in range(len(entries))]
            if all(key in values for key in keys):
                values[f"{group}.stock"] = tuple(values[key] for key in keys)
    if "doors.latch_below_head" in assumed and "shelter.wall_height" in values and reading.system is not None:
        height = values["shelter.wall_height"]
        values["doors.latch_below_head"] = defaults.latch_below_head(height, reading.system)


# --- problems ----------------------------------------------------------------------------------


def _problem(model: type[Common], source: Source, filled: dict[str, Node], detail: Any) -> Problem:
    """A validation error in the words of the trade."""
    path: tuple[str | int, ...] = detail["loc"]
    key = ".".join(map(str, path))
    if detail["type"] == "missing":
        return _missing(model, source, path, key)
    if detail["type"] == "extra_forbidden":
        return _unknown(model, source, path, key)
    node = _at(filled, path)
    if detail["type"] == "refused":
        facts = detail["ctx"]
        return _at_value(source, key, node, facts["message"], facts["limit"], facts["remedy"])
    if detail["type"] != "model_type":
        raise AssertionError(f"no words for the validation error {detail}")
    group = _model(model, path)
    names = ", ".join(group.model_fields) if group else ""
    return _at_value(
        source, key, node, "a group of keys belongs here", f"keys: {names}",
        "Write each key on a line of its own below, indented by two spaces.",
    )  # fmt: skip


def _at_value(
    source: Source,
    key: str,
    node: Node | None,
    message: str,
    limit: str,
    remedy: str,
    kind: Kind = Kind.MALFORMED,
) -> Problem:
    written = key in source.positions
    line, column = place_of(source.positions, key)
    value = shown(node.raw) if isinstance(node, Scalar) else ""
    if value and not written:
        value += " (the default)"
    return Problem(str(source.file), line, column, key, value, message, limit, remedy, kind)


def _missing(model: type[Common], source: Source, path: tuple[str | int, ...], key: str) -> Problem:
    line, column = place_of(source.positions, key)
    parent, name = _model(model, path[:-1]), str(path[-1])
    info = parent.model_fields[name] if parent else None
    group = defaults.group_of(info) if info else None
    if group is not None:
        needed = ", ".join(defaults.required_keys(group))
        limit = f"needed keys in it: {needed}"
        remedy = f"Write `{name}:` and, indented below it, {needed}."
    else:
        limit = "this key must be written"
        remedy = f"Write `{name}:` and its value."
    where = f"in {counted(key.rpartition('.')[0])}" if len(path) > 1 else "in the file"
    return Problem(str(source.file), line, column, key, "", f"this key is missing {where}", limit, remedy, Kind.MISSING)


def _unknown(model: type[Common], source: Source, path: tuple[str | int, ...], key: str) -> Problem:
    place = source.positions[key]
    parent, name = _model(model, path[:-1]), str(path[-1])
    known = list(parent.model_fields) if parent else []
    remedy = nearest(name, known)
    if not remedy:
        homes = _homes(model, name)
        remedy = f"Move it: it belongs {homes[0]}." if homes else "Take it away, or write one of the known keys."
    return Problem(
        str(source.file), place.key_line, place.key_column, shown(key), shown(name), "this key is not known here",
        f"known keys: {', '.join(known)}", remedy,
    )  # fmt: skip


def _homes(model: type[Common], name: str) -> list[str]:
    """Where a key of this name is known."""
    homes = ["at the start of a line, in no group"] if name in model.model_fields else []
    for section, info in model.model_fields.items():
        group = defaults.group_of(info)
        if group is not None and name in group.model_fields:
            homes.append(f"in the group `{section}:`")
    return homes


def _unfeasible(source: Source, filled: dict[str, Node], finding: feasible.Finding) -> Problem:
    node = _at(filled, tuple(finding.key.split(".")))
    return _at_value(source, finding.key, node, finding.message, finding.limit, finding.remedy, Kind.UNFEASIBLE)


def _at(data: Node, path: tuple[str | int, ...]) -> Node | None:
    node: Node | None = data
    for name in path:
        if isinstance(node, dict):
            node = node.get(str(name))
        elif isinstance(node, list):
            node = node[name] if isinstance(name, int) else None  # a list where a group belongs
    return node


def _model(project: type[Common], path: tuple[str | int, ...]) -> type[BaseModel] | None:
    """The model of a group of keys; an entry of a list of groups counts as well."""
    model: type[BaseModel] | None = project
    for name in path:
        if isinstance(name, int):
            continue
        info = model.model_fields.get(name) if model else None
        model = None if info is None else defaults.group_of(info) or defaults.entry_model(info.annotation)
    return model


# --- the result --------------------------------------------------------------------------------


def _resolve(project: Common, source: Source, assumed: tuple[str, ...]) -> Description:
    system = project.units
    paper, paper_name = project.paper
    return Description(
        title=project.project,
        system=system,
        paper=paper,
        paper_name=paper_name,
        identity=_identity(project),
        language=project.language,
        words=own_words(source, project.words, project.language),
        shape=_shape(project),
        doors=_doors(project),
        quantity=project.quantity,
        boards=_boards(project),
        prices=Prices(**dict(project.prices) | {"rolls": tuple(RollPrice(**dict(roll)) for roll in project.prices.rolls)}),
        tape=Tape(**dict(project.tape) | {"stock": tuple(sorted(set(project.tape.stock)))}),
        foil=Foil(**dict(project.foil) | {"stock": tuple(sorted(set(project.foil.stock)))}),
        duct=project.duct if isinstance(project, RingProject) else None,
        openings=tuple(_opening(entry) for entry in project.openings),
        limits=Limits(**dict(project.limits)),
        assume=Assumptions(**dict(project.assume)),
        wind=Wind(**dict(project.wind)),
        lift=Lift(**dict(project.lift)),
        air=Air(**dict(project.air)),
        taping=Taping(celsius(project.taping.least, system), project.taping.spread),
        transport=Transport(tuple(Passage(**dict(entry)) for entry in project.transport.openings)),
        site=Site(**dict(project.site)),
        cautions=Cautions(tuple(Caution(**dict(entry)) for entry in project.cautions.extra)),
        crew=Crew(**dict(project.crew) | {
            "seats": Seats(**dict(project.seats)),
            "pauses": tuple(Pause(**dict(pause)) for pause in project.crew.pauses)}),
        rates=Rates(**dict(project.rates)),
        repair=RepairLimits(**dict(project.repair)),
        source=source.file,
        assumed=assumed,
        positions=source.positions,
        lines=source.lines,
    )


def _identity(project: Common) -> Identity:
    return Identity(
        number=project.number,
        owner=project.owner,
        revision=project.revision,
        date=project.date,
        drawn_by=project.drawn_by,
        approved_by=project.approved_by,
        replaces=project.replaces,
    )


def _boards(project: Common) -> Boards:
    boards = project.boards
    kerf = boards.kerf
    if kerf is None:
        kerf = defaults.saw_kerf(project.units) if boards.tool is Tool.SAW else 0.0
    return Boards(
        breadth=boards.size[0],
        length=boards.size[1],
        thickness=boards.thickness,
        printed_face=boards.printed_face,
        tool=boards.tool,
        kerf=kerf,
        spare=boards.spare,
        edge_trim=boards.edge_trim,
        splice=boards.splice,
        measured=tuple(MeasuredBoard(**dict(board), mark=str(number)) for number, board in enumerate(boards.measured, 1)),
        also=tuple(OtherSize(*one.size, one.price) for one in boards.also),
        alternates=tuple(Alternate(*one.size, one.thickness, one.price, one.density) for one in boards.alternates),
    )


def _opening(entry: OpeningEntry) -> OpeningPlace:
    width, height = entry.size or (entry.diameter or 0.0, entry.diameter or 0.0)
    return OpeningPlace(entry.leaf, entry.kind, width, height, entry.size is None, entry.across, entry.up)


def _shape(project: Common) -> Shape:
    if isinstance(project, RingProject):
        return Ring(**dict(project.shelter))
    if isinstance(project, ChainProject):
        return Chain(**dict(project.shelter))
    if isinstance(project, FreeProject):
        return listed.resolve(project)
    raise AssertionError(f"no shape for {type(project).__name__}")


def _doors(project: Common) -> Doors | None:
    if not isinstance(project, RingProject):
        return None
    doors, below_head = project.doors, project.doors.latch_below_head
    if below_head is None:
        below_head = defaults.latch_below_head(project.shelter.wall_height, project.units)
    return Doors(**dict(doors) | {"latch_below_head": below_head})
