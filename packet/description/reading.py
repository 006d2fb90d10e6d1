"""A file's bytes -> text without anything that would mislead -> plain data with positions."""

from __future__ import annotations

import re
from pathlib import Path

from packet.description.problems import Kind, Problem, ProjectError, cannot_read
from packet.description.source import Source
from packet.description.structure import Builder
from packet.places import is_special

LARGEST_FILE = 1_000_000  # bytes
_MOST_MARKS = 50  # a file with more is no text; telling each would bury the reason


def read_file(path: Path) -> str:
    """The text of a project file. Raises ProjectError where there is no such text."""
    try:
        if path.is_dir():
            raise cannot_read(path, "this is a folder, not a project file", "Name the YAML file inside it.")
        if is_special(path):
            raise cannot_read(path, "this is a pipe or a device, not a file", "Write its text to a file first.")
        with path.open("rb") as stream:
            content = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise cannot_read(
            path, "there is no such file", "Check the name, or write a starter file first.", Kind.MISSING
        ) from None
    except OSError as error:
        raise cannot_read(
            path,
            f"the file cannot be read: {(error.strerror or str(error)).lower()}",
            "Check its name and its permissions.",
        ) from None
    if len(content) > LARGEST_FILE:
        raise cannot_read(
            path,
            f"the file is larger than the {LARGEST_FILE:,} bytes that a project file can have",
            "Name a project file; one of ordinary size is a few thousand bytes.",
        )
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise cannot_read(path, "the file is UTF-16 text", "Save it as UTF-8 text.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8-sig").split("\n")
        problem = Problem(
            str(path), len(before), len(before[-1]) + 1, "", f"byte 0x{content[error.start]:02x}",
            "this is not UTF-8 text", "UTF-8", "Save the file as UTF-8 text.",
        )  # fmt: skip
        raise ProjectError([problem]) from None


def read_text(text: str, file: Path) -> Source:
    """The data of a project file's text. Raises ProjectError where the text has no YAML structure; what can
    be told apart from the rest is noted in `problems` instead."""
    source = Source(file, tuple(re.split(r"\r\n|\r|\n", text)))
    _refuse_marks(source)
    if source.problems:
        raise source.error()
    Builder(source).build(text)
    return source


def _refuse_marks(source: Source) -> None:
    """Control characters and tabs as indents, with their places; YAML's own words for them help nobody."""
    # U+0085, U+2028 and U+2029 are line breaks to YAML alone: editors would count other lines than we do.
    control = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
    for number, line in enumerate(source.lines):
        if len(source.problems) == _MOST_MARKS:
            break
        found = control.search(line) or re.match(r" *(\t)\s*[^\s#]", line)
        if found is None:
            continue
        column = found.start(1) if found.re.groups else found.start()
        tab = line[column] == "\t"
        source.problems.append(
            Problem(
                str(source.file),
                number + 1,
                column + 1,
                "",
                "tab" if tab else f"U+{ord(line[column]):04X}",
                "a line is indented with a tab" if tab else "this character cannot be seen and has no meaning here",
                "spaces and printable characters",
                "Indent with spaces." if tab else "Delete it.",
            )
        )
