"""Running text: wrapped paragraphs, bullets, numbered steps, and blocks stacked down a page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from packet.drawing.lettering import BODY, Lettering, Style
from packet.drawing.marks import Anchor, Circle, Drawing, Mark, Point, Text, shift
from packet.drawing.symbols import TICK_SIZE, circled, tick_box

FIRST_BASELINE = 1.25  # first baseline below the top of a paragraph, in capital heights
_FOOT = 0.35  # room kept below the last baseline for descenders


@dataclass(frozen=True, slots=True)
class Block:
    """Marks that hang from a point: `at` is the top left, width and height in mm are the room they take."""

    marks: Drawing
    at: Point
    width: float
    height: float

    @property
    def bottom(self) -> float:
        """y of the lower edge."""
        return self.at[1] - self.height

    def moved(self, at: Point) -> Block:
        """The same block hung from another point."""
        if at == self.at:
            return self
        return Block(shift(self.marks, at[0] - self.at[0], at[1] - self.at[1]), at, self.width, self.height)


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
    lines = _lines(text, width, style, lettering)
    strong = Style(style.height, True, style.italic)
    marks: list[Mark] = []
    baseline = at[1] - FIRST_BASELINE * style.height
    for line in lines:
        runs = [(part, strong if bold else style) for part, bold in line]
        lengths = [lettering.width(part, cut) for part, cut in runs]
        spare = width - sum(lengths)
        x = at[0] + {"left": 0.0, "centre": spare / 2, "right": spare}[align]
        for (part, cut), length in zip(runs, lengths, strict=True):
            if part.strip():
                marks.append(Text((x, baseline), part, cut))
            x += length
        baseline -= style.leading
    height = (FIRST_BASELINE + _FOOT) * style.height + max(0, len(lines) - 1) * style.leading
    return Block(tuple(marks), at, width, height)


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
        body = paragraph((at[0] + indent, at[1]), width - indent, item, style, lettering)
        spot = Circle(
            (at[0] + 0.45 * style.height, at[1] - (FIRST_BASELINE - 0.4) * style.height),
            0.18 * style.height,
            None,
            0.0,
        )
        blocks.append(Block((spot, *body.marks), at, width, body.height))
    return stack(at, blocks, space, width)


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
    blocks = []
    for number, item in enumerate(items, start):
        body = paragraph((at[0] + indent, at[1]), width - indent, item, style, lettering)
        one_line = (FIRST_BASELINE + _FOOT) * style.height
        row = max(body.height, 2 * radius, TICK_SIZE if tick else 0.0)
        # A single line stands level with the middle of its number or tick box.
        lead = max(2 * radius, TICK_SIZE if tick else 0.0)
        drop = max(0.0, (lead - one_line) / 2)
        row = max(row, body.height + drop)
        middle = at[1] - lead / 2
        marks: Drawing = circled(
            (at[0] + ticks + radius, middle), str(number), lettering, radius, Style(style.height, True)
        )
        if tick:
            marks += tick_box((at[0], middle - TICK_SIZE / 2))
        blocks.append(Block(marks + shift(body.marks, 0, -drop), at, width, row))
    return stack(at, blocks, gap, width)


def stack(at: Point, blocks: Iterable[Block], gap: float, width: float | None = None) -> Block:
    """Blocks hung one below the other from `at`, `gap` mm apart; width is that of the widest unless given."""
    marks: list[Mark] = []
    y = at[1]
    widest = 0.0
    for index, block in enumerate(blocks):
        y -= gap if index else 0.0
        marks.extend(block.moved((at[0], y)).marks)
        y -= block.height
        widest = max(widest, block.width)
    return Block(tuple(marks), at, widest if width is None else width, at[1] - y)


_Run = tuple[str, bool]


@lru_cache(maxsize=4096)
def _lines(text: str, width: float, style: Style, lettering: Lettering) -> tuple[tuple[_Run, ...], ...]:
    """The text as lines of runs (string, bold); a run keeps the spaces inside and at its end.

    Kept, since a page is tried in several ways before one is taken, and most of its words come back alike."""
    strong = Style(style.height, True, style.italic)
    lines: list[list[_Run]] = []
    bold = False
    for paragraph_text in text.split("\n"):
        words, bold = _words(paragraph_text, bold)
        line: list[_Run] = []
        used = 0.0
        for word in words:
            pieces = _broken(word, width, style, strong, lettering)
            for index, piece in enumerate(pieces):
                length = _measure(piece, style, strong, lettering)
                # A space between two bold words is bold too, and wider or narrower than a plain one.
                bold_space = bool(line) and line[-1][1] and piece[0][1]
                space = lettering.width(" ", strong if bold_space else style) if line and index == 0 else 0.0
                if line and (used + space + length > width + 1e-9 or index > 0):
                    lines.append(_merged(line))
                    line, used, space = [], 0.0, 0.0
                if space:
                    line.append((" ", bold_space))
                line.extend(piece)
                used += space + length
        lines.append(_merged(line))
    return tuple(tuple(line) for line in lines)


def _words(text: str, bold: bool) -> tuple[list[list[_Run]], bool]:
    """Words (runs without spaces; a word may change weight inside), and whether bold is on at the end."""
    words: list[list[_Run]] = []
    word: list[_Run] = []
    for index, part in enumerate(text.split("**")):
        if index:
            bold = not bold
        pieces = part.split(" ")
        for place, piece in enumerate(pieces):
            if place and word:
                words.append(word)
                word = []
            if piece:
                word.append((piece, bold))
    if word:
        words.append(word)
    return words, bold


def _measure(word: Sequence[_Run], style: Style, strong: Style, lettering: Lettering) -> float:
    return sum(lettering.width(part, strong if bold else style) for part, bold in word)


def _broken(
    word: list[_Run], width: float, style: Style, strong: Style, lettering: Lettering
) -> list[list[_Run]]:
    """A word cut into pieces no wider than the column; one piece if it fits."""
    if _measure(word, style, strong, lettering) <= width + 1e-9:
        return [word]
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
