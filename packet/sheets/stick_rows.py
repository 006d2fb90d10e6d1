"""Story sticks in rows: a stick is drawn in pieces as long as the page, each a row with marks at full size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packet.boards.story import Mark as Place
from packet.boards.story import Stick, segments, sticks
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Text, rectangle
from packet.drawing.pens import CUT, HIDDEN, LEADER, NARROW, VISIBLE
from packet.plan import Plan
from packet.sheets.gauge_cards import Card
from packet.sheets.kit import Kit
from packet.units import INCH, System

OVERLAP = {System.INCH: INCH / 2, System.METRIC: 12.0}
"""mm by which pieces of a full-size drawing overlap."""
GRADED = {System.INCH: (INCH / 2, 2), System.METRIC: (10.0, 5)}
"""mm between the graduations of a stick, and how many of them to a longer one."""
LINE = 6.5
"""mm that the line of a mark runs up from the edge."""
RAISED = 10.0
"""mm from the edge of a stick to its figures."""
HIGH = 16.2
"""mm of height of a stick."""
APART = 2.5
"""mm between the words of neighbouring marks."""
TOUCH = 1e-6
"""mm; slack for a mark on the end of a piece."""
NAMES = 3
"""Names of edges that stand at a mark; of more, one says how many."""


def stick_rows(plan: Plan, kit: Kit, width: float) -> tuple[Card, ...]:
    """Every story stick of the project in pieces of `width` mm."""
    found = sticks(plan.assembly, plan.boards)
    return tuple(row for number, stick in enumerate(found, 1) for row in _rows(stick, number, kit, width))


def _rows(stick: Stick, number: int, kit: Kit, width: float) -> Iterator[Card]:
    overlap = OVERLAP[kit.system]
    starts = segments(stick.length, width, overlap)
    parts = kit.words.text(f"gauges.stick.{stick.use.name.lower()}", parts=_listed(stick.parts, kit), count=len(stick.parts))
    for piece, start in enumerate(starts, 1):
        stop = min(start + width, stick.length)
        name = kit.words.text("gauges.stick.piece", number=number, piece=piece, pieces=len(starts), parts=parts)
        span = kit.words.text("gauges.stick.span", start=start, stop=stop)
        marks = _strip(stick, start, stop, kit)
        joints = [x for x, wanted in ((overlap / 2, piece > 1), (stop - start - overlap / 2, piece < len(starts))) if wanted]
        registers = tuple(mark for x in joints for mark in register((x, LINE / 2), LINE + 1.0))
        told = paragraph((0.0, 0.0), width, f"**{name}**, {span}", BODY, kit.lettering)
        title = told.moved((0.0, HIGH + 0.5 + told.height)).marks
        yield Card((*marks, *registers, *title), (0.0, 0.0, stop - start, HIGH), name)


def register(at: tuple[float, float], reach: float = 0.0) -> Drawing:
    """A cross in a circle, where a mark of the next piece is laid on it; with `reach`, the line to join at."""
    x, y = at
    cross: Drawing = (Circle(at, 2.2, NARROW), Line((x - 3.4, y), (x + 3.4, y), NARROW),
                      Line((x, y - 3.4), (x, y + 3.4), NARROW))
    return (*cross, Line((x, 0.0), (x, reach), HIDDEN)) if reach else cross


def _strip(stick: Stick, start: float, stop: float, kit: Kit) -> Drawing:
    """The piece from `start` to `stop` with its marks, its measuring edge on y = 0."""
    step, longer = GRADED[kit.system]
    marks: list[Mark] = []
    first = int(-(-start // step))
    while first * step <= stop + 1e-6:
        x = first * step - start
        marks.append(Line((x, 0.0), (x, 3.0 if first % longer else 5.0), NARROW))
        first += 1
    shown = [(place.at - start, _figures(place, kit)) for place in stick.marks if start - TOUCH <= place.at <= stop + TOUCH]
    places, length = _spread([(x, sum(wide for _, _, wide in words)) for x, words in shown], stop - start)
    for (x, words), low in zip(shown, places, strict=True):
        marks += [Line((x, 0.0), (x, LINE), VISIBLE), Line((x, LINE), (low + 1.5, RAISED - 1.0), LEADER)]
        for text, style, wide in words:
            marks.append(Text((low, RAISED), text, style))
            low += wide
    return (*marks, rectangle((0.0, 0.0, length, HIGH), CUT))


def _figures(place: Place, kit: Kit) -> list[tuple[str, Style, float]]:
    """The figure of a mark and the names that stand at it, each with the width it takes, mm."""
    figure, names = kit.form.length(place.at), _named(place, kit)
    found = [(figure, NUMBER, kit.lettering.width(figure, NUMBER) + (2.0 if names else 0.0))]
    return [*found, (names, BODY, kit.lettering.width(names, BODY))] if names else found


def _spread(shown: Sequence[tuple[float, float]], length: float) -> tuple[list[float], float]:
    """Where the words of each mark (its place, their width) begin, in order and clear of each other; and the length
    of paper they need, which is more than the piece's where a short last piece has much to say."""
    needed = max(length, sum(wide for _, wide in shown) + APART * (len(shown) + 1))
    places: list[float] = []
    free = 1.0
    for x, wide in shown:
        places.append(max(free, x - 1.5))
        free = places[-1] + wide + APART
    end = needed - 1.0
    for index in range(len(shown) - 1, -1, -1):
        places[index] = min(places[index], end - shown[index][1])
        end = places[index] - APART
    return places, needed


def _named(place: Place, kit: Kit) -> str:
    # An edge of a kind of leaf has a word; a listed leaf's mark stands for itself.
    names = [kit.words.name(name) if " " in name else name for name in place.names]
    if len(names) > NAMES:
        return kit.words.text("gauges.stick.more", some=", ".join(names[:NAMES]), more=len(names) - NAMES)
    return ", ".join(names)


def _listed(parts: tuple[str, ...], kit: Kit) -> str:
    """Marks as people say them: boards that follow each other by the first and the last."""
    numbers = [int(part) for part in parts if part.isdecimal()]
    if len(numbers) == len(parts) > 2 and numbers == list(range(numbers[0], numbers[0] + len(numbers))):
        return kit.words.text("gauges.stick.range", first=parts[0], last=parts[-1])
    return ", ".join(parts)
