"""Running text: wrapped paragraphs, bullets, numbered steps, and blocks stacked down a page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache, partial
from itertools import pairwise
from typing import NamedTuple

from packet.drawing.lettering import BODY, Lettering, Style
from packet.drawing.marks import Anchor, Circle, Drawing, Mark, Point, Text, shift
from packet.drawing.symbols import TICK_SIZE, circled, tick_box

FIRST_BASELINE = 1.25  # first baseline below the top of a paragraph, in capital heights
_FOOT = 0.35  # room kept below the last baseline for descenders


Hung = Callable[[Point], Drawing]
"""What makes marks that hang from a given point, their top left."""


class Block(NamedTuple):
    """Marks that hang from a point: `at` is the top left, width and height in mm are the room they take.

    `made` is the marks themselves, or what makes them. Pages are tried in many ways before one is taken, and all that
    counts until then is the room: so the marks of running text are made only when they are asked for.
    """

    made: Drawing | Hung
    at: Point
    width: float
    height: float

    @property
    def marks(self) -> Drawing:
        """The marks where they hang."""
        return self.made if isinstance(self.made, tuple) else self.made(self.at)

    @property
    def bottom(self) -> float:
        """y of the lower edge."""
        return self.at[1] - self.height

    def moved(self, at: Point) -> Block:
        """The same block hung from another point."""
        if at == self.at:
            return self
        made = partial(_shifted, self.made, self.at) if isinstance(self.made, tuple) else self.made
        return Block(made, at, self.width, self.height)


def _shifted(marks: Drawing, hung: Point, at: Point) -> Drawing:
    return shift(marks, at[0] - hung[0], at[1] - hung[1])


def wrap(text: str, width: float, style: Style, lettering: Lettering) -> tuple[str, ...]:
    """The text as lines no longer than `width` mm. A newline in the text always breaks; `**bold**` stays as
    written. A word longer than the width is broken between letters."""
    return tuple(
        "".join(("**" + part + "**") if bold else part for part, bold in line)
        for line in _lines(text, width, style, lettering)
    )


def paragraph(
    at: Point, width: float, text: str, style: Style, lettering: Lettering, align: Anchor = "left"
) -> Block:
    """A wrapped paragraph hung from its top left, with `**bold**` runs set bold."""
    count = len(_breaks(text, width, style, lettering))
    height = (FIRST_BASELINE + _FOOT) * style.height + (count - 1) * style.leading
    return Block(partial(_set, width, text, style, lettering, align), at, width, height)


def _set(width: float, text: str, style: Style, lettering: Lettering, align: Anchor, at: Point) -> Drawing:
    """The marks of a paragraph."""
    strong = Style(style.height, True, style.italic)
    marks: list[Mark] = []
    baseline = at[1] - FIRST_BASELINE * style.height
    for line in _lines(text, width, style, lettering):
        runs = [(part, strong if bold else style) for part, bold in line]
        lengths = [lettering.width(part, cut) for part, cut in runs]
        x = at[0]
        if align != "left":
            spare = width - sum(lengths)
            x += spare / 2 if align == "centre" else spare
        for (part, cut), length in zip(runs, lengths, strict=True):
            if part.strip():
                marks.append(Text((x, baseline), part, cut))
            x += length
        baseline -= style.leading
    return tuple(marks)


def bullets(
    at: Point,
    width: float,
    items: Iterable[str],
    style: Style,
    lettering: Lettering,
    gap: float | None = None,
) -> Block:
    """Paragraphs with a round bullet each; `gap` mm between them (half a capital height if left out)."""
    indent = 1.3 * style.height
    space = 0.5 * style.height if gap is None else gap
    blocks = []
    for item in items:
        body = paragraph(at, width - indent, item, style, lettering)
        blocks.append(Block(partial(_bulleted, body, style, indent), at, width, body.height))
    return stack(at, blocks, space, width)


def _bulleted(body: Block, style: Style, indent: float, at: Point) -> Drawing:
    spot = Circle((at[0] + 0.45 * style.height, at[1] - (FIRST_BASELINE - 0.4) * style.height), 0.18 * style.height, None,
                  0.0)
    return (spot, *body.moved((at[0] + indent, at[1])).marks)


def steps(
    at: Point,
    width: float,
    items: Sequence[str],
    lettering: Lettering,
    style: Style = BODY,
    tick: bool = False,
    start: int = 1,
    gap: float = 2.0,
) -> Block:
    """Numbered steps: a circled number, the text beside it, and a tick box at the left if wanted."""
    radius = 0.95 * style.height
    ticks = TICK_SIZE + 3.0 if tick else 0.0
    indent = ticks + 2 * radius + 2.5
    lead = max(2 * radius, TICK_SIZE if tick else 0.0)
    # A single line stands level with the middle of its number or tick box.
    drop = max(0.0, (lead - (FIRST_BASELINE + _FOOT) * style.height) / 2)
    blocks = []
    for number, item in enumerate(items, start):
        body = paragraph(at, width - indent, item, style, lettering)

        def made(at: Point, number: int = number, body: Block = body) -> Drawing:
            middle = at[1] - lead / 2
            marks: Drawing = circled(
                (at[0] + ticks + radius, middle), str(number), lettering, radius, Style(style.height, True))
            if tick:
                marks += tick_box((at[0], middle - TICK_SIZE / 2))
            return marks + body.moved((at[0] + indent, at[1] - drop)).marks

        blocks.append(Block(made, at, width, max(lead, body.height + drop)))
    return stack(at, blocks, gap, width)


def stack(at: Point, blocks: Iterable[Block], gap: float, width: float | None = None) -> Block:
    """Blocks hung one below the other from `at`, `gap` mm apart; width is that of the widest unless given."""
    stacked = tuple(blocks)
    tall = sum(block.height for block in stacked) + gap * max(0, len(stacked) - 1)
    widest = max((block.width for block in stacked), default=0.0) if width is None else width
    return Block(partial(_stacked, stacked, gap), at, widest, tall)


def _stacked(blocks: Sequence[Block], gap: float, at: Point) -> Drawing:
    marks: list[Mark] = []
    y = at[1]
    for block in blocks:
        marks.extend(block.moved((at[0], y)).marks)
        y -= block.height + gap
    return tuple(marks)


def together(at: Point, blocks: Sequence[Block], width: float, height: float) -> Block:
    """Blocks that stay where they hang, as one block that hangs from `at`."""
    return Block(partial(_together, tuple(blocks), at), at, width, height)


def _together(blocks: Sequence[Block], hung: Point, at: Point) -> Drawing:
    dx, dy = at[0] - hung[0], at[1] - hung[1]
    marks: list[Mark] = []
    for block in blocks:
        marks += block.moved((block.at[0] + dx, block.at[1] + dy)).marks
    return tuple(marks)


_Run = tuple[str, bool]


class _Word(NamedTuple):
    """A word or a piece of one: its runs, its length in mm, the space before it where it follows on a line, and whether it
    begins a line in any case."""

    runs: tuple[_Run, ...]
    length: float
    space: float
    first: bool


@lru_cache(maxsize=2048)
def _measured(text: str, style: Style, lettering: Lettering) -> tuple[tuple[_Word, ...], float]:
    """The words of a text with their lengths, which are the same whatever the width, and the greatest of these; a line
    without words is one empty."""
    strong = Style(style.height, True, style.italic)
    found: list[_Word] = []
    bold = False
    spaces = {bold: lettering.width(" ", strong if bold else style) for bold in (False, True)}
    for paragraph_text in text.split("\n"):
        words, bold = _words(paragraph_text, bold)
        first, after = True, False
        for runs in words or [()]:
            # A space between two bold words is bold too, and wider or narrower than a plain one.
            space = spaces[after and runs[0][1]] if not first else 0.0
            found.append(_Word(runs, _measure(runs, style, strong, lettering), space, first))
            first, after = False, bool(runs) and runs[-1][1]
    return tuple(found), max(word.length for word in found)


def _fitting(text: str, width: float, style: Style, lettering: Lettering) -> Sequence[_Word]:
    """The words, those wider than `width` in pieces that are not."""
    words, longest = _measured(text, style, lettering)
    if longest <= width + 1e-9:
        return words
    strong = Style(style.height, True, style.italic)
    found: list[_Word] = []
    for word in words:
        if word.length <= width + 1e-9:
            found.append(word)
            continue
        for place, piece in enumerate(_broken(word.runs, width, style, strong, lettering)):
            length = _measure(piece, style, strong, lettering)
            found.append(_Word(tuple(piece), length, word.space, word.first) if not place else
                         _Word(tuple(piece), length, 0.0, True))
    return found


@lru_cache(maxsize=8192)
def _breaks(text: str, width: float, style: Style, lettering: Lettering) -> tuple[int, ...]:
    """The numbers of the words that begin a line.

    Kept, since a page is tried in several ways before one is taken, and most of its words come back alike."""
    starts: list[int] = []
    used = 0.0
    for index, word in enumerate(_fitting(text, width, style, lettering)):
        if word.first or used + word.space + word.length > width + 1e-9:
            starts.append(index)
            used = word.length
        else:
            used += word.space + word.length
    return tuple(starts)


def _lines(text: str, width: float, style: Style, lettering: Lettering) -> list[list[_Run]]:
    """The text as lines of runs (string, bold); a run keeps the spaces inside and at its end."""
    words = _fitting(text, width, style, lettering)
    lines: list[list[_Run]] = []
    for start, stop in pairwise((*_breaks(text, width, style, lettering), len(words))):
        if "**" not in text:
            lines.append([(" ".join([word.runs[0][0] for word in words[start:stop] if word.runs]), False)])
            continue
        line: list[_Run] = list(words[start].runs)
        for word in words[start + 1:stop]:
            line.append((" ", line[-1][1] and word.runs[0][1]))
            line += word.runs
        lines.append(_merged(line))
    return lines


def _words(text: str, bold: bool) -> tuple[list[tuple[_Run, ...]], bool]:
    """Words (runs without spaces; a word may change weight inside), and whether bold is on at the end."""
    if "**" not in text:
        return [((word, bold),) for word in text.split(" ") if word], bold
    words: list[tuple[_Run, ...]] = []
    word: list[_Run] = []
    for index, part in enumerate(text.split("**")):
        if index:
            bold = not bold
        pieces = part.split(" ")
        for place, piece in enumerate(pieces):
            if place and word:
                words.append(tuple(word))
                word = []
            if piece:
                word.append((piece, bold))
    if word:
        words.append(tuple(word))
    return words, bold


def _measure(word: Sequence[_Run], style: Style, strong: Style, lettering: Lettering) -> float:
    return sum([lettering.width(part, strong if bold else style) for part, bold in word])


def _broken(
    word: Sequence[_Run], width: float, style: Style, strong: Style, lettering: Lettering
) -> list[list[_Run]]:
    """A word cut into pieces no wider than the column."""
    pieces: list[list[_Run]] = [[]]
    used = 0.0
    for part, bold in word:
        for letter in part:
            length = lettering.width(letter, strong if bold else style)
            if pieces[-1] and used + length > width:
                pieces.append([])
                used = 0.0
            pieces[-1].append((letter, bold))
            used += length
    return [_merged(piece) for piece in pieces]


def _merged(runs: Iterable[_Run]) -> list[_Run]:
    """Neighbouring runs of one weight as one run."""
    merged: list[_Run] = []
    for part, bold in runs:
        if merged and merged[-1][1] == bold:
            merged[-1] = (merged[-1][0] + part, bold)
        else:
            merged.append((part, bold))
    return merged
