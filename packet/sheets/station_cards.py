"""A card for every station: what it works on, with what, guarded how, what it receives and what it hands on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from packet.description.clock import DAY, written
from packet.drawing.flow import Block, bullets, paragraph, stack, together
from packet.drawing.lettering import BODY, LARGE, NUMBER, Style
from packet.drawing.marks import Drawing, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import VISIBLE
from packet.drawing.symbols import TICK_SIZE, tick_box
from packet.drawing.table import PAD, Cell, Column, table
from packet.plan import Plan
from packet.sheets.columns import Make, roomiest
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.work.cautions import cautions
from packet.work.facts import facts
from packet.work.mending import mending_tasks, numbered
from packet.work.passing import Passing, handed_on, passings, received
from packet.work.schedule import Schedule, plan_schedule, seats_of
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.wording import line, shared_values

COUNT = (13.0, TICK_SIZE)  # mm, box in which a count is written
TOGETHER = 6  # lines of a list that stand in one column

_Line = TypeVar("_Line")


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """As many pages for each station with work as its card takes."""
    made = plan_schedule(plan)
    passed = passings(plan, (each.task for each in made.efforts))
    stations = [station for station in Station if any(each.task.station is station for each in made.efforts)]
    return tuple(sheet for station in stations for sheet in _card(plan, kit, made, passed, station))


def _card(plan: Plan, kit: Kit, made: Schedule, passed: tuple[Passing, ...], station: Station) -> Iterable[Sheet]:
    words = kit.words

    def work(style: Style) -> list[Make]:
        makes = [_work(plan, kit, made, station, style), _outfit(plan, kit, station, style)]
        for key, found in (("receives", received(passed, station)), ("hands_on", handed_on(passed, station))):
            makes += [_passing(key, part, plan, kit, style) for part in _parted(found)]
        return makes + _holds(plan, kit, made, station, style)

    def warned(style: Style) -> list[Make]:
        return [_caution(text, style, kit) for text in _warnings(plan, kit, station)]

    pages = _roomy(kit, lambda style: [*work(style), *warned(style)])
    told = ["card"] * len(pages)
    if len(pages) > 1:
        # Cautions on a page of their own can be as large as that page allows.
        cards, apart = _roomy(kit, work), _roomy(kit, warned)
        if len(cards) + len(apart) <= len(pages):
            pages, told = (*cards, *apart), ["card"] * len(cards) + ["cautions"] * len(apart)
    for page, (marks, key) in enumerate(zip(pages, told, strict=True), 1):
        yield Sheet(
            number=sheet_number(f"passing.{station}", page),
            title=words.text(f"stations.{key}.title", word=words.name(station.word)),
            station=station.word, kind=words.text(f"stations.{key}.kind"),
            marks=with_notes(kit, marks) if key == "card" else marks,
            subtitle=words.text(f"stations.{key}.subtitle"))


def _roomy(kit: Kit, makes: Callable[[Style], list[Make]]) -> tuple[Drawing, ...]:
    return roomiest(makes, kit.room, 2, 4.0, 9.0, (LARGE, BODY))


def _parted(lines: Sequence[_Line]) -> list[Sequence[_Line]]:
    """A long list in parts that need not stand in one column."""
    return [lines[start:start + TOGETHER] for start in range(0, len(lines), TOGETHER)]


def _headed(heading: str, body: Block, kit: Kit) -> Block:
    head = paragraph((0.0, 0.0), body.width, heading, NUMBER, kit.lettering)
    return stack((0.0, 0.0), (head, body), 0.5, body.width)


def _work(plan: Plan, kit: Kit, made: Schedule, station: Station, style: Style) -> Make:
    words = kit.words
    own = [each.task.key for each in made.efforts if each.task.station is station]
    slots, at = [made.slots[key] for key in own], numbered(plan)
    planned = len(at) - len(mending_tasks(plan))
    listed = [at[key] for key in own if at[key] <= planned]
    first, last = min(slot.start for slot in slots), max(slot.finish for slot in slots)
    values = {"work": words.name(station.work(facts(plan))), "lead": station is Station.L,
              "seats": seats_of(plan.description.crew, station), "tasks": len(listed), "from_number": listed[0],
              "to_number": listed[-1], "checklist": sheet_number("checklist"),
              "added": [at[key] for key in own if at[key] > planned], "added_on": sheet_number("added"),
              "begins": words.text("crew.when", day=int(first // DAY) + 1, clock=written(first % DAY)),
              "ends": words.text("crew.when", day=int((last - 1e-6) // DAY) + 1, clock=written(last % DAY))}

    def make(width: float) -> Block:
        return _headed(words.text("stations.card.work"),
                       bullets((0.0, 0.0), width, words.texts("stations.card.work_lines", **values), style, kit.lettering),
                       kit)

    return make


def protection(kit: Kit, station: Station) -> tuple[str, ...]:
    """What is worn at the station: `gloves: cut-proof`; what is not needed is left out."""
    words = kit.words
    _, *names = words.entry("cautions.protection.header")
    yes, no = (words.text(f"cover.inputs.is_{answer}") for answer in ("yes", "no"))
    found = []
    for name, worn in zip(names, words.entry(f"cautions.protection.stations.{station}"), strict=True):
        if worn == no:
            continue
        found.append(words.text("stations.card.worn", name=name.lower(), worn=worn.removesuffix(" *"),
                                plain=worn.removesuffix(" *") == yes, starred=worn.endswith("*")))
    return tuple(found)


def tools(plan: Plan, kit: Kit, station: Station) -> tuple[str, ...]:
    """What lies on the station's tables."""
    return kit.words.texts(f"stations.tools.{station}", has=facts(plan), tool=str(plan.description.boards.tool))


def _outfit(plan: Plan, kit: Kit, station: Station, style: Style) -> Make:
    """Tools and protection, each to be ticked off as one."""
    words = kit.words
    rows: list[list[Cell]] = [
        [tick_box((0.0, 0.0)), f"**{words.text('stations.card.protection')}:** {', '.join(protection(kit, station))}"],
        [tick_box((0.0, 0.0)), f"**{words.text('stations.card.tools')}:** {', '.join(tools(plan, kit, station))}"]]

    def make(width: float) -> Block:
        columns = [Column(TICK_SIZE + 4.0), Column(width - TICK_SIZE - 4.0, style=style)]
        return _headed(words.text("stations.card.outfit"),
                       table((0.0, 0.0), columns, rows, None, kit.lettering, 12.0), kit)

    return make


def _passing(key: str, found: Sequence[Passing], plan: Plan, kit: Kit, style: Style) -> Make:
    """A row for each half: from or to where, the marks, how many in all sets, and a box for the count."""
    words, quantity = kit.words, plan.description.quantity
    halved = facts(plan)["halved"]
    box: Drawing = (rectangle((0.0, 0.0, *COUNT), VISIBLE),)
    rows: list[list[Cell]] = []
    for each in found:
        other = each.giver if key == "receives" else each.taker
        parts = words.text("stations.card.boards" if each.boards else "stations.card.parts", parts=each.parts,
                           half=each.half if halved else "", quantity=quantity)
        count = len(each.parts) * (1 if each.boards else quantity)
        rows.append([f"**{other}** {words.name(other.word).lower()}", parts, f"**{count}**", box])
    header = words.texts(f"stations.card.{key}_header")

    def wide(place: int) -> float:
        """What a column's heading and its cells need on one line, mm."""
        said = [header[place], *(str(row[place]).replace("**", "") for row in rows if isinstance(row[place], str))]
        return max(kit.lettering.width(text, Style(style.height, True)) for text in said) + 2 * PAD + 0.2

    def make(width: float) -> Block:
        first, third, fourth = wide(0), wide(2), max(wide(3), COUNT[0] + 2 * PAD)
        columns = [Column(first, style=style), Column(width - first - third - fourth, style=style),
                   Column(third, "centre", style), Column(fourth, "centre", style)]
        return _headed(words.text(f"stations.card.{key}"), table(
            (0.0, 0.0), columns, rows, header, kit.lettering, 12.0), kit)

    return make


def _holds(plan: Plan, kit: Kit, made: Schedule, station: Station, style: Style) -> list[Make]:
    """Hold points at this station, by number: the lead signs them on the checklist."""
    words, shared = kit.words, shared_values(plan, kit.words)
    held, at = [], numbered(plan)
    for each in made.efforts:
        if each.task.station is station and each.task.hold:
            told = line(each.task, words, shared)
            held.append(f"**{at[each.task.key]}** {told.name}{': ' if told.each else ''}{told.each}")

    def make(lines: Sequence[str], headed: bool) -> Make:
        def made(width: float) -> Block:
            block = bullets((0.0, 0.0), width, lines, style, kit.lettering)
            return _headed(words.text("stations.card.holds"), block, kit) if headed else block

        return made

    return [make(part, not place) for place, part in enumerate(_parted(held))]


def _warnings(plan: Plan, kit: Kit, station: Station) -> list[str]:
    """Every safety message that concerns the station, whole."""
    return [f"**{kit.words.name(each.signal)}: {each.hazard}.** {each.consequence} {' '.join(each.avoid)}"
            for each in cautions(kit.words, facts(plan), plan.description.cautions.extra) if station in each.stations]


def _caution(text: str, style: Style, kit: Kit) -> Make:
    def make(width: float) -> Block:
        body = paragraph((2.0, -1.0), width - 4.0, text, style, kit.lettering)
        frame = Block((rectangle((0.0, body.bottom - 1.5, width, 0.0), VISIBLE),), (0.0, 0.0), width, 1.5 - body.bottom)
        return together((0.0, 0.0), (body, frame), width, frame.height)

    return make
