"""The structure of a YAML text -> plain data that remembers where every key and value stands.

Works on the parser's events, one at a time: no object is ever made from the file, limits on depth and count stop
a hostile file early, and nothing recurses. Types are decided later, by the key that is filled: a title stays the
text that was written, whatever YAML would make of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, cast

import yaml

from packet.description.problems import Kind, cannot_read
from packet.description.source import Node, Position, Scalar, Source, join, shown

DEEPEST = 20
MOST_NODES = 20_000

# libyaml's parser is several times faster; both give the same events.
_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(slots=True)
class _Open:
    """A mapping or a list whose end has not come yet."""

    node: dict[str, Node] | list[Node]
    key: str
    kept: bool  # False below a key that is written for the second time
    name: str | None = None  # the key that waits for its value
    name_mark: Any = None
    name_kept: bool = True


class Builder:
    """Builds a Source from the parser's events."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.root_mark: Any = None
        self.nodes = 0
        self.documents = 0

    def build(self, text: str) -> None:
        try:
            for event in yaml.parse(text, Loader=_Loader):
                self._take(event)
                if self.documents > 1:
                    break
        except yaml.MarkedYAMLError as error:
            message, remedy = _in_plain_words(error.problem or "")
            mark = error.problem_mark or error.context_mark
            if error.context_mark and any(word in message for word in _OPENED):
                mark = error.context_mark
            self.source.report(mark, "", "", message, "YAML", remedy)
            raise self.source.error() from None
        if isinstance(self.root, dict):
            self.source.data = self.root
            return
        if self.root is None or (isinstance(self.root, Scalar) and self.root.empty):
            raise cannot_read(
                self.source.file, "the file is empty", "Write a starter file and change it.", Kind.MISSING
            )
        self.source.report(
            self.root_mark, "", self.root.raw if isinstance(self.root, Scalar) else "",
            "the file does not start with keys", "keys and values", "Begin with a line such as `project: a title`.",
        )  # fmt: skip
        raise self.source.error()

    def _take(self, event: Any) -> None:
        mark = event.start_mark
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                self.source.report(
                    mark, "", "---", "a second document starts here", "one project in a file",
                    "Delete the line of dashes and what does not belong to this project.",
                )  # fmt: skip
        elif isinstance(event, yaml.NodeEvent):
            self._count(mark)
            top = self.stack[-1] if self.stack else None
            if top is not None and isinstance(top.node, dict) and top.name is None:
                self._name(top, event)
                return
            self._refuse_shorthand(event)
            key = self._next_key()
            if isinstance(event, yaml.AliasEvent):
                self._place(Scalar("", key), mark)
            elif isinstance(event, yaml.ScalarEvent):
                self._place(Scalar(event.value.strip(), key, event.style in ("'", '"')), mark)
            else:
                self._open({} if isinstance(event, yaml.MappingStartEvent) else [], key, mark)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.stack.pop()

    def _count(self, mark: Any) -> None:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self.source.report(
                mark, "", "", "the file holds more values than a project can use", f"{MOST_NODES:,} keys and values",
                "Keep only the keys of a project file.",
            )  # fmt: skip
            raise self.source.error()

    def _refuse_shorthand(self, event: Any) -> None:
        """Anchors, aliases and tags: who reads the file would have to look elsewhere for the value."""
        if isinstance(event, yaml.AliasEvent):
            text, what = f"*{event.anchor}", "this refers to a value somewhere else"
        elif event.anchor:
            text, what = f"&{event.anchor}", "this names a value for use somewhere else"
        elif event.tag:
            text, what = str(event.tag), "this tag names a type, and types are not used here"
        else:
            return
        self.source.report(
            event.start_mark,
            self._next_key(),
            text,
            what,
            "plain values only",
            "Write the value out where it belongs.",
        )

    def _next_key(self) -> str:
        if not self.stack:
            return ""
        top = self.stack[-1]
        return join(top.key, len(top.node) if isinstance(top.node, list) else top.name or "")

    def _name(self, top: _Open, event: Any) -> None:
        """The key of a pair. A key written twice keeps its first value."""
        mark = event.start_mark
        if not isinstance(event, yaml.ScalarEvent):
            self.source.report(
                mark, top.key, "", "what stands where a key should be is not a word", "a key is one word",
                "Write one word, a colon, and the value after it.",
            )  # fmt: skip
            raise self.source.error()
        name = event.value
        top.name, top.name_mark, top.name_kept = name, mark, name not in top.node
        self._refuse_shorthand(event)
        if "." in name:
            group, _, inner = name.partition(".")
            top.name_kept = False
            self.source.report(
                mark, top.key, name, "a key has no dot in it", "one word",
                f"Write `{shown(group)}:` and, on the next line and indented, `{shown(inner)}:`.",
            )  # fmt: skip
        elif not top.name_kept and top.kept:
            first = self.source.positions[join(top.key, name)].key_line
            self.source.report(
                mark, join(top.key, name), name, f"this key was already written in line {first}", "each key once",
                "Keep one of the two lines and delete the other.",
            )  # fmt: skip

    def _open(self, node: dict[str, Node] | list[Node], key: str, mark: Any) -> None:
        if len(self.stack) >= DEEPEST:
            self.source.report(
                mark,
                "",
                "",
                "the file is nested too deep",
                f"{DEEPEST} levels",
                "Write the keys of a project file.",
            )
            raise self.source.error()
        kept = self._place(node, mark)
        self.stack.append(_Open(node, key, kept))

    def _place(self, node: Node, mark: Any) -> bool:
        """Put a value where it belongs; says whether it was kept."""
        if not self.stack:
            if self.documents == 1:
                self.root, self.root_mark = node, mark
            return True
        top = self.stack[-1]
        kept = top.kept
        key, name_mark = self._next_key(), mark
        if isinstance(top.node, list):
            top.node.append(node)
        else:
            kept = kept and top.name_kept
            name_mark = top.name_mark
            if kept:
                top.node[cast(str, top.name)] = node
            top.name = None
        if kept:
            self.source.positions[key] = Position(
                name_mark.line + 1, name_mark.column + 1, mark.line + 1, mark.column + 1
            )
        return kept


#: What the parser says, and what it means to who wrote the file.
_PLAIN_WORDS = (
    (
        "mapping values are not allowed",
        "there is a second colon in this line, or the line is indented too far",
        "Put the whole value in quotes if the colon belongs to it; else line the key up with its neighbours.",
    ),
    (
        "could not find expected ':'",
        "this line has no colon after its key",
        "Write the key, a colon, a space and the value.",
    ),
    (
        "did not find expected key",
        "this line does not line up with the keys above it, or a quoted value goes on after its closing quote",
        "Indent the keys of one group alike; take away the quotes around a part of a value.",
    ),
    (
        "cannot start any token",
        "a value cannot start with this character",
        "Put the value in quotes.",
    ),
    (
        "end of stream",
        "a quote that is opened here is never closed",
        "Close the quote, or take it away: a length such as 4' 2-1/2\" needs none.",
    ),
    (
        "expected ',' or ']'",
        "a list that starts with [ is not closed",
        "Separate the values with commas and end the list with ].",
    ),
    (
        "expected ',' or '}'",
        "a group that starts with { is not closed",
        "Separate the pairs with commas and end the group with }.",
    ),
    (
        "block sequence entries are not allowed",
        "a dash for a list entry stands where none can be",
        "Start each entry on a line of its own.",
    ),
    (
        "did not find expected '-' indicator",
        "this line does not belong to the list above it",
        "Start each entry with a dash, all in one column.",
    ),
    (
        "undefined alias",
        "this refers to a value somewhere else",
        "Write the value out where it belongs.",
    ),
)


#: Of these the place that counts is where they begin: the parser stops far below it.
_OPENED = ("opened here", "starts with [", "starts with {")


def _in_plain_words(problem: str) -> tuple[str, str]:
    for phrase, message, remedy in _PLAIN_WORDS:
        if phrase in problem:
            return message, remedy
    return (
        f"the line cannot be read as YAML: {problem}",
        "Write one key, a colon, a space and the value on each line.",
    )
