"""Tables read back from the page: bare figures, whose unit stands at the head of their column or nowhere, are those of the
project, each in its own row.

A table is a grey head and what hangs below it, down to its last rule; a cell belongs to the column with whose head it shares
an edge or its middle. What a row must say is worked out from strips, boards and slits, not by the sheets' code.
"""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from packet.boards.records import Board, CutKind
from packet.drawing.marks import Line, Path, Text, bounds
from packet.drawing.page import FinishedSheet
from packet.tape.strips import Role, Strip
from packet.units import System
from tests.packets.figures import NUMBER, Figure, figure
from tests.packets.otherwise import closing, leaf_kilograms, sides
from tests.packets.packet import Packet, content, name_of
from tests.sheets.drawn import letters

HEAD_GREY = 0.88
RULE = 0.18
"""mm, width of the rules between rows."""
NEAR = 0.05
"""mm by which edges of one column may differ."""
TITLE = 14.0
"""mm above a head in which the title of its table stands."""
BARE = re.compile(rf"(?<![\w./-]){NUMBER}(?![\w/]|-\d)")
FOOT = 304.8


@dataclass(frozen=True, slots=True)
class Row:
    """One row: what stands in each column, and all of it in the order of drawing."""

    cells: Mapping[str, str]
    text: str

    def figures(self, system: System) -> list[Figure]:
        return [figure(found, system) for found in BARE.findall(self.text)]


@dataclass(frozen=True, slots=True)
class Table:
    title: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]


def tables(sheet: FinishedSheet) -> Iterator[Table]:
    """The tables of a page that have a head, in drawing order."""
    marks = content(sheet)
    texts = [mark for mark in marks if isinstance(mark, Text) and mark.string.strip()]
    rules = [mark for mark in marks if isinstance(mark, Line) and mark.pen.width == RULE and abs(mark.a[1] - mark.b[1]) < NEAR]
    grounds = [bounds([mark], letters()) for mark in marks if isinstance(mark, Path) and mark.pen is None
               and mark.fill == HEAD_GREY and len(mark.points) == 4]
    for left, low, right, high in grounds:
        ends = max((top for start, _, _, top in grounds if abs(start - left) < NEAR and top < low), default=0.0)
        levels = sorted({round(rule.a[1], 2) for rule in rules if ends + NEAR < rule.a[1] < low - NEAR
                         and abs(min(rule.a[0], rule.b[0]) - left) < NEAR and abs(max(rule.a[0], rule.b[0]) - right) < NEAR},
                        reverse=True)
        inside = [text for text in texts if left < text.at[0] < right + NEAR]
        heads = _columns(text for text in inside if low < text.at[1] < high)
        above = [text.string for text in inside if high < text.at[1] < high + TITLE and text.at[0] < left + 3.0]
        rows = []
        top = low
        for level in levels:
            rows.append(_row([text for text in inside if level < text.at[1] < top], heads))
            top = level
        if rows:
            yield Table(above[0] if above else "", tuple(head for head, _ in heads), tuple(rows))


Edges = tuple[float, float, float]


def _edges(text: Text) -> Edges:
    """Left, middle and right of a text."""
    xs = [x for x, _ in letters().box(text)]
    return (min(xs), (min(xs) + max(xs)) / 2, max(xs))


def _columns(found: Iterable[Text]) -> list[tuple[str, Edges]]:
    """The heads of the columns; lines of one head joined."""
    columns: list[tuple[str, Edges]] = []
    for text in found:
        edges = _edges(text)
        if columns and _shared(columns[-1][1], edges):
            columns[-1] = (f"{columns[-1][0]} {text.string}", columns[-1][1])
        else:
            columns.append((text.string, edges))
    return columns


def _shared(first: Edges, second: Edges) -> bool:
    return any(abs(a - b) < NEAR for a, b in zip(first, second, strict=True))


def _row(found: list[Text], heads: list[tuple[str, Edges]]) -> Row:
    cells: dict[str, str] = defaultdict(str)
    for text in found:
        edges = _edges(text)
        head = next((head for head, place in heads if _shared(place, edges)), "")
        cells[head] = f"{cells[head]} {text.string}".strip()
    return Row(cells, " ".join(text.string for text in found).replace("\u00a0", " "))


def untrue(packet: Packet) -> Iterator[str]:
    """Figures of tables that are none of those of their row; rows that are missing."""
    pages: dict[str, list[FinishedSheet]] = defaultdict(list)
    for sheet in packet.sheets:
        pages[name_of(sheet)].append(sheet)
    for name, check in TABLES.items():
        if pages[name]:
            yield from (f"{pages[name][0].number} {name}: {fault}" for fault in check(packet, pages[name]))


# --- strips and take-off -------------------------------------------------------------------------------


def _is_foil(strip: Strip) -> bool:
    return strip.role in (Role.FOIL, Role.SEAL)


def _pieces(packet: Packet) -> Iterator[tuple[Strip, float]]:
    """Every piece that is cut: strips of one pull in one piece, with its length."""
    strips = packet.plan.strips
    under = {strip.mark: strip.role for strip in strips}
    pulls: dict[tuple[object, ...], list[Strip]] = defaultdict(list)
    for strip in strips:
        covered = under.get(strip.mark.removeprefix("foil over ")) if strip.role is Role.FOIL else None
        key = (strip.role, covered, strip.pull, strip.tapes) if strip.pull else (strip.mark,)
        pulls[key].append(strip)
    for some in pulls.values():
        yield some[0], sum(strip.length for strip in some)


def _strip_list(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """Of each roll: as many pieces of each length as there are strips of it, and no other length."""
    words, system = packet.kit.words, packet.kit.system
    wanted: dict[str, Counter[float]] = defaultdict(Counter)
    for strip, length in _pieces(packet):
        for width in strip.tapes:
            wanted[words.text(f"strips.{'foil' if _is_foil(strip) else 'strapping'}", width=width)][round(length, 2)] += 1
    read: dict[str, Counter[str]] = defaultdict(Counter)
    count, length = words.text("strips.head.count"), words.text("strips.head.length", unit=packet.kit.form.unit)
    for sheet in pages:
        for table in tables(sheet):
            name = next((name for name in wanted if table.title in (name, words.text("strips.more", name=name))), table.title)
            for row in table.rows:
                number = row.cells[count]
                if not number.isdigit() or not re.fullmatch(NUMBER, said := row.cells[length].partition(" ")[0]):
                    yield f"{name}: {row.text!r} is no count and no length"
                    continue
                read[name][said] += int(number)
    for name in wanted.keys() | read.keys():
        for text, many in read[name].items():
            there = sum(number for size, number in wanted[name].items() if figure(text, system).is_(size))
            if there != many:
                yield f"{name}: {many} strips of {text}, and there are {there}"
        if read[name].total() != wanted[name].total():
            yield f"{name}: {read[name].total()} strips, and there are {wanted[name].total()}"


def _take_off(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """Net lengths by role and roll, their sum, the sum with the allowance, and whole rolls that hold it."""
    words, tape = packet.kit.words, packet.plan.description.tape
    roll = words.text("order.takeoff.roll", unit=packet.kit.form.feet(0.0).partition(" ")[2])
    seen = set()
    for table in (table for sheet in pages for table in tables(sheet) if table.heads[0] == roll):
        for row in table.rows:
            for foil in (False, True):
                for width in {width for strip in packet.plan.strips for width in strip.tapes if _is_foil(strip) == foil}:
                    if row.cells[roll] == words.text(f"order.takeoff.{'foil' if foil else 'strapping'}", width=width):
                        seen.add((foil, width))
                        some = [strip for strip in packet.plan.strips if _is_foil(strip) == foil and width in strip.tapes]
                        yield from _take_off_row(packet, row, some, width, tape.allowance)
    missing = {(_is_foil(strip), width) for strip in packet.plan.strips for width in strip.tapes} - seen
    yield from (f"no line for {'foil' if foil else 'strapping'} of {width:.0f} mm" for foil, width in missing)


def _take_off_row(packet: Packet, row: Row, some: list[Strip], width: float, allowance: float) -> Iterator[str]:
    words = packet.kit.words
    size = FOOT if packet.kit.system is System.INCH else 1000.0
    by_role: Counter[Role] = Counter()
    for strip in some:
        by_role[strip.role] += strip.length * strip.tapes.count(width)  # type: ignore[assignment]
    heads = {words.text(f"order.takeoff.role.{role}"): length for role, length in by_role.items()}
    heads[words.text("order.takeoff.net", quantity=1)] = net = sum(by_role.values())
    heads[words.text("order.takeoff.needed", allowance=packet.kit.form.plain(allowance))] = net * (1 + allowance / 100)
    for head, length in heads.items():
        said = row.cells.get(head, "")
        if not said or abs(float(said) * size - length) > 0.05 * size + 1e-6:
            yield f"{row.text}: {said!r} under {head!r}, not {length / size:.2f}"
    foil = _is_foil(some[0])
    spool = packet.plan.description.foil.roll if foil else packet.plan.description.tape.roll
    rolls = int(row.cells[words.text("order.takeoff.rolls")])
    lap = packet.plan.description.tape.join
    holds = [count * spool - (count - 1) * lap - net * (1 + allowance / 100) for count in (rolls, rolls - 1)]
    if holds[0] < -1e-6 or (rolls > 1 and holds[1] > 1e-6):
        yield f"{row.text}: {rolls} rolls of {spool:.0f} mm for {net * (1 + allowance / 100):.0f} mm"


# --- boards --------------------------------------------------------------------------------------------


def _cut_list(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """Of each board: how long its cuts of each kind are, and all together; then of all boards."""
    words = packet.kit.words
    size = FOOT if packet.kit.system is System.INCH else 1000.0
    unit = packet.kit.form.feet(0.0).partition(" ")[2]
    rows = [row for sheet in pages for table in tables(sheet) for row in table.rows]
    for board in (*packet.plan.boards, None):
        some = [board] if board else list(packet.plan.boards)
        name = board.mark if board else words.text("cuts.head.total")
        row = next((row for row in rows if row.cells.get(words.text("cuts.head.board")) == name), None)
        if row is None:
            yield f"no line for board {name}"
            continue
        cuts = [cut for one in some for cut in one.cuts]
        wanted = {words.text(f"cuts.head.{kind.name.lower()}"): sum(cut.length for cut in cuts if cut.kind is kind)
                  for kind in CutKind if any(cut.kind is kind for cut in cuts)}
        wanted[words.text("cuts.head.all", unit=unit)] = sum(cut.length for cut in cuts)
        if board:
            wanted[words.text("cuts.head.each", unit=unit)] = board.cut_length
        for head, length in wanted.items():
            said = re.match(NUMBER, row.cells.get(head, ""))
            if not said or abs(float(said[0]) * size - length) > 0.05 * size + 1e-6:
                yield f"board {name}: {row.cells.get(head, '')!r} under {head!r}, not {length / size:.2f}"


def _snap_lines(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """Every line that is snapped on a board, but tip trims: from where to where, in the order of the numbers."""
    by_number: dict[int, list[Row]] = defaultdict(list)
    for sheet in pages:
        # A table in groups of columns is several tables side by side.
        by_number[int(re.sub(r"\D", "", sheet.number[:3] if sheet.number[1] != "-" else sheet.number[2:]))] += [
            row for table in tables(sheet) for row in table.rows]
    for number, board in enumerate(packet.plan.boards, 1):
        yield from (f"board {board.mark}: {fault}" for fault in _snapped(board, by_number[number], packet.kit.system))


def _snapped(board: Board, rows: list[Row], system: System) -> Iterator[str]:
    wanted = [cut for cut in board.cuts if cut.kind is not CutKind.TIP]
    if len(rows) != len(wanted):
        yield f"{len(rows)} lines in the table, and there are {len(wanted)}"
    for row, cut in zip(rows, wanted, strict=False):
        figures = row.figures(system)
        if len(figures) != 5 or int(figures[0].text) != cut.number:
            yield f"{row.text!r} is no line {cut.number}"
        elif not all(one.is_(value) for one, value in zip(figures[1:], (*cut.a, *cut.b), strict=True)):
            yield f"line {cut.number} from {cut.a} to {cut.b} is told as {row.text!r}"


def _received(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """A line for every board that is bought, numbered from 1."""
    numbers = [row.text.split()[0] for sheet in pages for table in tables(sheet) for row in table.rows if row.text]
    bought = len(packet.plan.boards) + packet.plan.description.boards.spare
    if numbers != [str(number) for number in range(1, bought + 1)]:
        yield f"boards {', '.join(numbers)}, and {bought} are bought"


# --- slits ---------------------------------------------------------------------------------------------


def _relief(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """The list: beside the numbers of the slits only their lengths, and what a strip lies on across its width. The map: as
    many numbers as there are slits, and the lengths of slits."""
    plan, system = packet.plan, packet.kit.system
    lengths = [cut.length for cut in plan.relief]
    parts = [part for cut in plan.relief for _, part in cut.parts]
    strips = {strip.mark: strip for strip in plan.strips}
    lands = [strips[cut.strip].land for cut in plan.relief]
    known = (*lengths, *parts, *lands, plan.assembly.thickness, 2 * plan.assembly.thickness)
    most = len(plan.relief)
    for sheet in pages:
        listed = [row for table in tables(sheet) for row in table.rows]
        figures = [one for row in listed for one in row.figures(system)]
        if not listed:
            said = [mark.string.replace("\u00a0", " ") for mark in content(sheet) if isinstance(mark, Text)]
            figures = [figure(text, system) for text in said if re.fullmatch(NUMBER, text)]
            if not figures:
                yield f"{sheet.number} shows no slit"
        for one in figures:
            numbered = one.text.isdigit() and int(one.text) <= most
            if not numbered and not any(one.is_(length) for length in (known if listed else lengths)):
                yield f"{sheet.number}: {one.text} is neither a slit's number nor a length of one"


# --- masses and wind -----------------------------------------------------------------------------------

POUND = 0.45359237
"""kg (international avoirdupois pound, exact)."""
GRAVITY = 9.80665


def _masses(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """What is lifted: a board, all boards, a leaf, a half, the whole, by density and tape."""
    plan = packet.plan
    boards = [board.stock.length * board.stock.breadth for board in plan.boards]
    sizes = [breadth * length for breadth, length in plan.description.boards.sizes]
    by_area = plan.description.boards.thickness * 1e-9 * plan.description.assume.density
    leaves = leaf_kilograms(packet)
    halves = [sum(leaves[leaf.mark] for leaf in plan.assembly.leaves if leaf.half == half) for half in plan.assembly.halves]
    spare = plan.description.boards.spare * sizes[0]
    known = [*(area * by_area for area in (*boards, *sizes, sum(boards) + spare, len(boards) * sizes[0] + spare)),
             *leaves.values(), *halves, sum(halves)]
    unit = POUND if packet.kit.system is System.INCH else 1.0
    for row in (row for sheet in pages for table in tables(sheet) for row in table.rows):
        for said, _ in re.findall(r"([\d.]+) (kg|lb)\b", row.text):
            if not any(abs(float(said) * unit - mass) <= 0.05 * unit + 1e-9 for mass in known):
                yield f"{row.text}: {said} is no mass of the project"


def _wind(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """Pressure of the gusts, 0.00256 V2 or 0.613 V2 (ASCE 7); push and uplift, each the factor times the pressure times an
    area. That of the greatest silhouette is no less than those from every 15 degrees, nor more than with those square to any
    side; what a ring's roof covers lies between the polygons of its inner and of its outer faces. Forces are rounded up."""
    wind, ring, words = packet.plan.description.wind, packet.plan.ring, packet.kit.words
    if wind.terrain is not None:
        return  # by another standard, EN 1991-1-4: tests/published/test_wind_published.py has its worked example
    inch = packet.kit.system is System.INCH
    pascal = 0.613 * wind.speed**2 * wind.exposure
    pound_force, square_foot = POUND * GRAVITY, 0.3048**2
    if inch:
        pascal = 0.00256 * (wind.speed / 0.44704) ** 2 * wind.exposure * pound_force / square_foot
    force = pound_force if inch else 1.0
    found = next((table for sheet in pages for table in tables(sheet)), None)
    if found is None:
        yield "no table of forces"
        return
    said = re.search(r", ([\d.]+) (?:Pa|lb/sq)", found.heads[0])
    if not said or abs(float(said[1]) * (pound_force / square_foot if inch else 1.0) - pascal) > 0.006 * pascal:
        yield f"{found.heads[0]}: the pressure is {pascal:.1f} Pa"
    areas = [max(side.area for side in sides(packet, square)) * 1e-6 for square in (False, True)]
    wanted = {words.text("wind.rows.drag"): [[wind.drag * area for area in areas]] * 2}
    if ring is not None:
        turn = math.pi / ring.walls
        apothem = ring.leaf_width / math.tan(turn)
        outer = apothem + ring.thickness * math.sqrt(ring.slant**2 - apothem**2) / ring.slant
        covered = [ring.walls * math.tan(turn) * reach**2 * 1e-6 for reach in (apothem, outer)]
        wanted[words.text("wind.rows.uplift")] = [[factor * area for area in covered]
                                                  for factor in (wind.uplift, wind.uplift_open)]
    for row in found.rows:
        cells = [row.cells[head] for head in found.heads[1:]]
        for said_force, (least, most) in zip(cells, wanted.get(row.cells[found.heads[0]], []), strict=False):
            number = float((said_force or "0").partition(" ")[0])
            if not least * pascal / force - 1e-6 <= number < most * pascal / force + 1:
                yield f"{row.text}: {least * pascal / force:.2f} to {most * pascal / force:.2f} is asked for"


# --- readings ------------------------------------------------------------------------------------------


def _readings(packet: Packet, pages: list[FinishedSheet]) -> Iterator[str]:
    """The gap where faces meet: what errors of marking and cutting leave there, or a mark's own limit where that is more;
    the open Vs, 2 t sin(turn / 2), and how far they may be off: by that and a cut."""
    words, system, limits = packet.kit.words, packet.kit.system, packet.plan.description.limits
    likely, worst = closing(packet)
    close = max(likely, limits.mark)
    met = words.text("inspection.rows.closure", worst=0.0, nominal=1.0)
    rows = [row for sheet in pages for table in tables(sheet) for row in table.rows]
    gaps = [2 * packet.plan.assembly.thickness * math.sin(math.radians(180 - seam.angle_open) / 2)
            for seam in packet.plan.assembly.bonded()]
    meeting = [row for row in rows if row.text.find(met) >= 0]
    if len(meeting) != 1:
        yield f"{len(meeting)} lines for the gap where faces meet"
    for row in meeting:
        above = BARE.findall(row.text.partition(met)[2])
        wanted = [close] if len(above) == 1 else [worst, close]
        if [figure(said, system).is_(value) for said, value in zip(above, wanted, strict=False)] != [True] * len(wanted):
            yield f"{row.text}: {close:.2f} mm is likely, {worst:.2f} at worst"
    for row in rows:
        said = re.search(rf"({NUMBER}) ± ({NUMBER})", row.text)
        if said and row.text.split(",")[0].endswith(words.text("inspection.rows.v", face="", name="", count=2).split(",")[0]):
            gap, off = (figure(text, system) for text in said.groups())
            if not any(gap.is_(value) for value in gaps) or not off.is_(close + limits.cut):
                known = sorted({round(value, 1) for value in gaps})
                yield f"{row.text}: the Vs are {known} mm, off by {close + limits.cut:.2f}"


TABLES: dict[str, Callable[[Packet, list[FinishedSheet]], Iterator[str]]] = {
    "strips": _strip_list, "order": _take_off, "cuts": _cut_list, "marking": _snap_lines, "receiving": _received,
    "relief": _relief, "carry": _masses, "wind": _wind, "inspection": _readings,
}
"""Sheets whose tables have bare figures, and what theirs must be."""
