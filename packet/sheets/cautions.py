"""Cautions: graded safety messages, what the packet is not, protection at each station, words of the trade."""

from __future__ import annotations

from collections.abc import Mapping

from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, FINE, LARGE, NUMBER, Style
from packet.drawing.marks import Mark, Text, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import FRAME, VISIBLE
from packet.drawing.symbols import alert_triangle
from packet.drawing.table import Column, spread, table
from packet.plan import Plan
from packet.sheets.columns import Make, roomiest
from packet.sheets.kit import Kit
from packet.work.cautions import Caution, Signal, cautions
from packet.work.facts import facts, holds
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks

GREYS = {Signal.DANGER: 0.0, Signal.WARNING: 0.72, Signal.CAUTION: 0.88, Signal.NOTICE: 1.0}
"""Ground of the signal word's panel: the graver, the darker. The word itself says it, in any print."""

PANEL = 9.0  # mm, height of the signal word's panel
PAD = 2.5
LIST_GAP = 0.7
COLUMNS = 2
GAP = 4.0  # mm between messages
TERM_GAP = 4.0
BETWEEN = 8.0  # mm between columns


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two columns, as many pages as they need."""
    words, known = kit.words, facts(plan)
    stations = {task.station for task in tasks(plan)}
    messages = cautions(words, known, plan.description.cautions.extra)

    def told(style: Style) -> list[Make]:
        return [*(_message(caution, stations, kit, style) for caution in messages), _approval(kit, style),
                _protection(stations, kit, style)]

    graded = roomiest(told, kit.room, COLUMNS, GAP, BETWEEN, (LARGE, BODY))
    terms = roomiest(lambda style: _terms(known, kit, style), kit.room, COLUMNS, TERM_GAP, BETWEEN)
    pages = [("cautions", marks) for marks in graded] + [("cautions.terms", marks) for marks in terms]
    return tuple(
        Sheet(number=sheet_number("cautions", page), title=words.text(f"{key}.title"), station=Station.L.word,
              kind=words.text(f"{key}.kind"), marks=marks, subtitle=words.text(f"{key}.subtitle"))
        for page, (key, marks) in enumerate(pages, 1))


def _message(caution: Caution, stations: set[Station], kit: Kit, style: Style) -> Make:
    """A panel with the signal word and the hazard, then the consequence, then how to avoid it."""
    lettering, words = kit.lettering, kit.words

    def make(width: float) -> Block:
        inner = width - 2 * PAD
        letters = words.text("cautions.stations", letters=[str(station) for station in caution.stations
                                                               if station in stations])
        body = stack((PAD, -PANEL - 1.0), (
            paragraph((0.0, 0.0), inner, f"**{caution.hazard}.** {caution.consequence}", style, lettering),
            bullets((0.0, 0.0), inner, caution.avoid, style, lettering, LIST_GAP)), LIST_GAP, inner)
        ground = GREYS[caution.signal]
        ink = 1.0 if ground < 0.5 else 0.0
        middle = -PANEL / 2
        marks: list[Mark] = [rectangle((0.0, -PANEL, width, 0.0), None, ground)]
        x = PAD
        if caution.signal is not Signal.NOTICE:
            if ink:
                marks.append(rectangle((1.2, -PANEL + 0.9, 10.8, -0.9), None, 1.0))
            marks += alert_triangle((x - 0.5, -PANEL + 1.4), 7.0)
            x += 10.0
        marks += [
            Text((x, middle - NUMBER.height / 2), words.name(caution.signal), NUMBER, grey=ink),
            Text((width - PAD, middle - FINE.height / 2), letters, FINE, "right", grey=ink),
            rectangle((0.0, -PANEL, width, 0.0), VISIBLE),
            *body.marks,
            rectangle((0.0, body.bottom - 1.5, width, 0.0), VISIBLE),
        ]
        return Block(tuple(marks), (0.0, 0.0), width, 1.5 - body.bottom)

    return make


def _protection(stations: set[Station], kit: Kit, style: Style) -> Make:
    words, lettering = kit.words, kit.lettering

    def make(width: float) -> Block:
        shares = spread(width, 28, 25, 17, 25, 20)
        columns = [Column(share, "left" if index == 0 else "centre", style) for index, share in enumerate(shares)]
        rows = [[f"**{station}** {words.name(station.word).lower()}", *words.entry(f"cautions.protection.stations.{station}")]
                for station in Station if station in stations]
        header = words.entry("cautions.protection.header")
        return stack((0.0, 0.0), (
            paragraph((0.0, 0.0), width, words.text("cautions.protection.title"), NUMBER, lettering),
            table((0.0, 0.0), columns, rows, header, lettering),
            paragraph((0.0, 0.0), width, words.text("cautions.protection.note"), style, lettering)), 1.5, width)

    return make


def _approval(kit: Kit, style: Style) -> Make:
    """A bordered box: assumptions, not an approval."""
    words, lettering = kit.words, kit.lettering

    def make(width: float) -> Block:
        inner = width - 2 * PAD
        lines = words.texts("cautions.approval.lines", sheet=sheet_number)
        body = stack((PAD, -1.5), (
            paragraph((0.0, 0.0), inner, words.text("cautions.approval.title"), NUMBER, lettering),
            bullets((0.0, 0.0), inner, lines, style, lettering, LIST_GAP)), LIST_GAP, inner)
        frame = rectangle((0.0, body.bottom - 2.0, width, 0.0), FRAME)
        return Block((frame, *body.marks), (0.0, 0.0), width, 2.0 - body.bottom)

    return make


def _terms(known: Mapping[str, bool], kit: Kit, style: Style) -> list[Make]:
    """One paragraph for each word of the trade that the packet uses."""
    def term(word: str, meaning: str) -> Make:
        return lambda width: paragraph((0.0, 0.0), width, f"**{word}**: {meaning}", style, kit.lettering)

    return [term(entry["word"], entry["means"]) for entry in kit.words.entry("terms")
            if holds(entry.get("when", []), known)]
