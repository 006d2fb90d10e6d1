"""Sentences of a project's own, in place of the program's: read from a folder beside the project file.

The folder holds files named as those of the program's templates, with the same keys. A sentence may say everything
otherwise, but it may ask only for what the sentence it replaces asks for: every `{{ ... }}` and `{% ... %}` in it must
stand in that one too, and no more often. So it can neither run anything, nor loop, nor fail on the page.
Cautions and the sheets on wind, air, site, weather, lifting, setting up and keeping are not to be replaced; a project adds
its own cautions with the key `cautions.extra`. Elsewhere a sentence that ends in `{#safety#}` keeps people whole: what
replaces its entry must still say it, word for word, and may add to it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from difflib import get_close_matches
from itertools import islice
from pathlib import Path
from typing import Any

from packet.description.problems import Kind, Problem, ProjectError
from packet.description.reading import read_file, read_text
from packet.description.source import Node, Scalar, Source, join, place_of, shown
from packet.resources import languages, sentences

OwnWords = tuple[tuple[str, str | tuple[str, ...]], ...]
"""(key, sentence or sentences), sorted by key."""

LONGEST = 1000
"""Characters of one sentence; the longest of the program's has about half of that."""
LARGEST = 200_000
"""Bytes of one file of sentences."""
MOST_FILES = 200
"""Files in the folder, those that count for nothing included; the program has a quarter of that."""
SAFETY = ("cautions", "wind", "air", "site", "weather", "carry", "cards", "keep")
"""Subjects that keep people whole: their sentences stay as they are."""
MARK = "{#safety#}"
"""Ends a sentence on safety among others; nothing of it is printed."""
TAG = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", re.DOTALL)


def own_words(project: Source, folder: str, language: str) -> OwnWords:
    """The sentences in a project's folder `words:`; none where the key is empty. Raises ProjectError."""
    if language not in languages():
        raise ProjectError([_at(project, "language", language, "there are no sentences in this language here",
                                f"languages: {', '.join(languages())}", f"Write language: {languages()[0]}")])
    if not folder:
        return ()
    place = _inside(project, folder)
    found: dict[str, str | tuple[str, ...]] = {}
    problems: list[Problem] = []
    for file in _listed(project, folder, place):
        if file.name.startswith("."):
            continue
        try:
            found |= _file(file, place, language)
        except ProjectError as error:
            problems += error.problems
    if problems:
        raise ProjectError(problems)
    return tuple(sorted(found.items()))


def _listed(project: Source, folder: str, place: Path) -> list[Path]:
    """The files of the folder. Raises ProjectError where it cannot be read, or holds far more than sentences."""
    try:
        found = sorted(islice(place.iterdir(), MOST_FILES + 1))
    except OSError as fault:
        raise ProjectError([_at(project, "words", folder, f"this folder cannot be read: {str(fault.strerror).lower()}",
                                "a folder beside the project file", "Let this user read it")]) from None
    if len(found) > MOST_FILES:
        raise ProjectError([_at(project, "words", folder, "there are too many files in this folder", f"{MOST_FILES} files",
                                "Keep only the files of sentences in it")])
    return found


def _inside(project: Source, folder: str) -> Path:
    """The folder, which must lie beside the project file or below."""
    base = project.file.parent.resolve()
    try:
        place = (base / folder).resolve()
        inside, there = place.is_relative_to(base) and place != base, place.is_dir()
    except (OSError, ValueError):
        inside, there = False, False
    if not inside:
        raise ProjectError([_at(project, "words", folder, "this leads out of the folder of the project file",
                                "a folder beside the project file", "Write the name of such a folder")])
    if not there:
        raise ProjectError([_at(project, "words", folder, "there is no such folder", "a folder beside the project file",
                                "Make the folder, or take the key away", Kind.MISSING)])
    return place


def _file(file: Path, folder: Path, language: str) -> dict[str, str | tuple[str, ...]]:
    subjects = sorted(path.stem for path in sentences(language).glob("*.yaml"))
    name = file.name.removesuffix(".yaml")
    if not file.resolve().is_relative_to(folder) or not file.is_file() or name not in subjects or name == file.name:
        near = get_close_matches(name, subjects, n=1)
        raise ProjectError([Problem(str(file), 0, 0, "", "", "this is no file of sentences",
                                    f"files: {', '.join(f'{subject}.yaml' for subject in subjects)}",
                                    f"Name it {near[0]}.yaml" if near else "Take it out of the folder")])
    if name in SAFETY:
        what = "the cautions are" if name == SAFETY[0] else "sentences on safety are"
        raise ProjectError([Problem(str(file), 0, 0, "", "", f"{what} not to be replaced", "add only",
                                    "Take the file away, and write what is to be added under cautions: extra: in the "
                                    "project file")])
    if file.stat().st_size > LARGEST:
        raise ProjectError([Problem(str(file), 0, 0, "", f"{file.stat().st_size:,} bytes", "the file is too large",
                                    f"{LARGEST:,} bytes", "Keep only the sentences that are to be replaced")])
    source = read_text(read_file(file), file)
    theirs = _original(sentences(language) / f"{name}.yaml")
    found = {}
    for key, node in _leaves(source.data, ""):
        said = _sentence(source, key, node, theirs)
        if said is not None:
            found[f"{name}.{key}"] = said
    if source.problems:
        raise source.error()
    return found


def _original(file: Path) -> Any:
    import yaml

    return yaml.safe_load(file.read_text(encoding="utf-8"))


def _leaves(data: dict[str, Node], parent: str) -> Iterator[tuple[str, Node]]:
    """Every sentence and every list with its key; groups are gone into."""
    for name, node in data.items():
        key = join(parent, name)
        if isinstance(node, dict):
            yield from _leaves(node, key)
        else:
            yield key, node


def _sentence(source: Source, key: str, node: Node, theirs: Any) -> str | tuple[str, ...] | None:
    """What replaces a sentence or a list of them; None, and a problem noted, for what does not fit."""
    found = theirs
    for part in key.split("."):
        found = found.get(part) if isinstance(found, dict) else None
    given = tuple(each.raw for each in node if isinstance(each, Scalar)) if isinstance(node, list) else (
        node.raw if isinstance(node, Scalar) else None)
    if found is None or isinstance(found, dict):
        near = get_close_matches(key, _keys(theirs), n=1)
        _wrong(source, key, "", "the program has no sentence of this key", "the keys of its own file",
               f"Write {near[0]}" if near else "Take it away")
    elif isinstance(found, str) and isinstance(given, str):
        return given if _allowed(source, key, given, (found,)) and _kept(source, key, (given,), (found,)) else None
    elif (isinstance(found, list) and all(isinstance(line, str) for line in found) and isinstance(given, tuple)
            and isinstance(node, list) and len(given) == len(node)):
        if 1 <= len(given) <= len(found) + 4:
            fine = [_allowed(source, join(key, number), line, tuple(found)) for number, line in enumerate(given)]
            return given if all(fine) and _kept(source, key, given, tuple(found)) else None
        _wrong(source, key, str(len(given)), "there are too few or too many sentences", f"1 to {len(found) + 4}",
               "Join or part them")
    else:
        wanted = "a list of sentences" if isinstance(found, list) else "one sentence"
        _wrong(source, key, "", "this does not have the form of what it replaces", wanted, f"Write {wanted}")
    return None


def _allowed(source: Source, key: str, said: str, theirs: tuple[str, ...]) -> bool:
    """Whether a sentence is short enough, whole, and asks for nothing that the replaced ones do not ask for."""
    if len(said) > LONGEST:
        _wrong(source, key, f"{len(said)} characters", "this is too long for a sentence", f"{LONGEST} characters", "Shorten it")
        return False
    known: Counter[str] = Counter()
    for line in theirs:
        known |= Counter(_tags(line))
    more = Counter(_tags(said)) - known
    if more:
        tag = next(iter(more))
        limit = ", ".join(dict.fromkeys(known)) or "none in this sentence"
        _wrong(source, key, tag, "the sentence that this replaces does not ask for that, or not so often", limit,
               "Use what it asks for, written the same way")
        return False
    fault = _syntax(said, theirs)
    if fault:
        _wrong(source, key, said, f"this cannot be read as a sentence: {fault}", "{{ ... }} and {% ... %} in pairs",
               "Close what is opened, as in the sentence that it replaces")
        return False
    return True


def _kept(source: Source, key: str, said: tuple[str, ...], theirs: tuple[str, ...]) -> bool:
    """Whether every sentence on safety still stands, at the beginning of a sentence of its own."""
    given = [_plain(line) for line in said]
    lost = next((line for line in map(_plain, (line for line in theirs if MARK in line))
                 if not any(own.startswith(line) for own in given)), None)
    if lost is None:
        return True
    _wrong(source, key, "", f"this leaves out a sentence on safety, {lost!r}", "add only",
           "Write that sentence as it is, and your own after it")
    return False


def _plain(sentence: str) -> str:
    return " ".join(sentence.replace(MARK, "").split())


def _tags(sentence: str) -> list[str]:
    return [" ".join(tag.split()) for tag in TAG.findall(sentence)]


def _syntax(sentence: str, theirs: tuple[str, ...]) -> str:
    """What is wrong with the way a sentence is written; empty where it can be said."""
    from jinja2 import TemplateSyntaxError
    from jinja2.meta import find_undeclared_variables
    from jinja2.sandbox import SandboxedEnvironment

    environment = SandboxedEnvironment()
    names = ("measure", "figure", "both", "long", "angle", "area", "volume", "mass", "name")
    environment.filters.update(dict.fromkeys(names, str))
    try:
        asked = find_undeclared_variables(environment.parse(sentence))
    except TemplateSyntaxError as error:
        return error.message or "it is not whole"
    lost = asked.difference(*(find_undeclared_variables(environment.parse(line)) for line in theirs))
    return f"{sorted(lost)[0]} stands outside the loop that gives it" if lost else ""


def _keys(data: Any, parent: str = "") -> list[str]:
    if not isinstance(data, dict):
        return [parent]
    return [key for name, value in data.items() for key in _keys(value, join(parent, str(name)))]


def _wrong(source: Source, key: str, value: str, message: str, limit: str, remedy: str) -> None:
    line, column = place_of(source.positions, key)
    source.problems.append(Problem(str(source.file), line, column, shown(key), shown(value), message, limit, remedy))


def _at(project: Source, key: str, value: str, message: str, limit: str, remedy: str,
        kind: Kind = Kind.MALFORMED) -> Problem:
    line, column = place_of(project.positions, key)
    return Problem(str(project.file), line, column, key, shown(value), message, limit, remedy, kind)
