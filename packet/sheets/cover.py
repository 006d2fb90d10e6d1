"""The cover: what is built, and the register of every sheet with its serial; then print check and inputs."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from packet.assembly.records import LeafKind, overall
from packet.assembly.views import cut, horizontal, into_board, standing
from packet.drawing.flow import bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, HEAD, Style
from packet.drawing.marks import Drawing, Line, Link, Mark, Path, Text, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW, TABLE, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import Camera, picture, prism
from packet.drawing.view import Scale, View
from packet.figures import MM2, board_mass
from packet.plan import Plan
from packet.sheets.inputs import input_pages
from packet.sheets.kit import Kit
from packet.sheets.print_check import print_check
from packet.words import Words
from packet.work.facts import facts, panels
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

TOP = 42.0  # mm, least height of the band with the name, the figures and the plan
APART = 6.0  # mm, the most that a line of the register takes
COLUMNS = 3
BETWEEN = 5.0
LABEL = 7.0  # mm above and below the small plan for the doors' marks
NUMBER_WIDTH = 5.4  # capital heights that the number of a sheet takes

@dataclass(frozen=True, slots=True)
class _Look:
    """Lettering of the register, and the height of a line, mm."""

    style: Style
    row: float

    @property
    def bold(self) -> Style:
        return Style(self.style.height, True)

    @property
    def number(self) -> float:
        """mm that the number of a sheet takes."""
        return NUMBER_WIDTH * self.style.height


SMALL, LARGE = _Look(FINE, 4.2), _Look(BODY, 6.0)


class Listed(Protocol):
    """A page that the register lists."""

    @property
    def number(self) -> str: ...

    @property
    def title(self) -> str: ...

    @property
    def serial(self) -> str: ...


Row = Listed | str
"""A page, or the heading of the station whose sheets follow."""


def draw(plan: Plan, kit: Kit, finished: Sequence[Listed]) -> tuple[Sheet, ...]:
    """The cover, the print check, the inputs, and as many further pages as the register needs.

    `finished` are all other sheets of the packet, in the order they are bound.
    """
    words = kit.words
    front, height = _front(plan, kit)
    below, left = kit.room.cut_top(height, gap=2.0)[1], _rows(finished, facts(plan), kit.words)
    look, part = _look(left, below, kit)
    marks, links, left = _register(left, below, kit, look, part)
    sheets = [
        Sheet(number=sheet_number("cover"), title=words.text("cover.title"), station=Station.L.word,
              kind=words.text("cover.kind"), marks=(*front, *marks), links=links,
              subtitle=words.text("cover.subtitle", sheet=sheet_number)),
        print_check(plan, kit),
    ]
    # Numbered here: how many pages the inputs and the register take depends on the project.
    sheets += [replace(page, number=sheet_number("cover", number))
               for number, page in enumerate(input_pages(plan, kit), len(sheets) + 1)]
    while left:
        marks, links, left = _register(left, kit.room, kit, look, part)
        sheets.append(Sheet(
            number=sheet_number("cover", len(sheets) + 1), title=words.text("cover.more.title"),
            station=Station.L.word, kind=words.text("cover.kind"), marks=marks, links=links,
            subtitle=words.text("cover.more.subtitle")))
    return tuple(sheets)


def _front(plan: Plan, kit: Kit) -> tuple[Drawing, float]:
    """The project's name over the key figures, the plan beside them; and the height they take, mm."""
    words, lettering = kit.words, kit.lettering
    right, left = kit.room.cut_right(TOP + 22.0, gap=6.0)
    figures = _figures(plan, kit)
    identity = plan.description.identity
    whose = words.text("cover.whose", owner=identity.owner, number=identity.number, revision=identity.revision)
    name = stack(left.top_left, (
        paragraph((0.0, 0.0), left.width, plan.description.title, HEAD, lettering),
        paragraph((0.0, 0.0), left.width, whose, BODY, lettering)), 0.6, left.width)
    under = left.cut_top(name.height, gap=0.8)[1].columns(1.0, 1.0, gap=BETWEEN)
    half = (len(figures) + 1) // 2
    lists = [bullets(column.top_left, column.width, part, BODY, lettering, 0.4)
             for column, part in zip(under, (figures[:half], figures[half:]), strict=True)]
    height = max(left.top - min(block.bottom for block in lists), TOP)
    marks = (*name.marks, *(mark for block in lists for mark in block.marks))
    return (*marks, *_outline(plan, kit, right.cut_top(height)[0])), height


def _figures(plan: Plan, kit: Kit) -> list[str]:
    """The key figures in words: of a ring its own, else the sizes over all."""
    words, pack = kit.words, plan.pack
    values: dict[str, Any] = {
        "leaves": len(plan.assembly.leaves), "seams": len(plan.assembly.bonded()), "over_all": overall(plan.assembly),
        "width": pack.width, "length": pack.length, "thick": pack.thickness + plan.bulk.most,
        "boards": len(plan.boards), "quantity": plan.description.quantity, "mass": board_mass(plan),
        "removable": [seam.mark for seam in plan.assembly.seams if seam.removable],
    }
    names = ["size", "made_of"] if plan.ring is None else ["walls", "peak", "corners", "flats", "floor"]
    names += ["packed", "made"]
    if plan.ring is not None:
        ring = plan.ring
        values |= {
            "walls": ring.walls, "side": ring.side, "wall_height": ring.wall_height, "apex": ring.apex,
            "across_corners": ring.across_corners, "across_flats": ring.across_flats,
            "floor_area": ring.floor_area * MM2, "opening": ring.opening_across_flats}
    if plan.description.doors is not None and plan.assembly.doors:
        values |= {"doors": tuple(door.mark for door in plan.assembly.doors), "panels": panels(plan),
                   "hand": str(plan.description.doors.hand)}
        names.append("doors")
    if values["removable"]:
        names.append("removable")
    return [words.text(f"cover.figures.{name}", **values) for name in names]


def _outline(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """A small picture of the whole: a ring in plan, anything else as it stands."""
    return _pictorial(plan, room.inset(2.0)) if plan.ring is None else _plan(plan, kit, room, plan.ring.wall_height / 2)


def _pictorial(plan: Plan, room: Room) -> Drawing:
    """The open leaves from one side and above, at no scale of the series."""
    faces = [face for leaf in plan.assembly.leaves
             for face in prism(standing(leaf), into_board(leaf), leaf.thickness, key=leaf.mark)]
    seen = picture(faces, Camera(azimuth=-60.0, elevation=24.0))
    left, bottom, right, top = seen.bounds
    ratio = max((right - left) / room.width, (top - bottom) / room.height)
    return seen.drawing(View.centred(Scale(ratio, ""), seen.bounds, room.rect), fills=True)


def _plan(plan: Plan, kit: Kit, room: Room, height: float) -> Drawing:
    """Walls cut at that height, mm; doors, which face the two ends of the y axis, white with their marks."""
    walls = plan.assembly.of_kind(LeafKind.WALL)
    cuts = cut(walls, horizontal(height))
    xs = [x for polygon in cuts.values() for x, _ in polygon]
    ys = [y for polygon in cuts.values() for _, y in polygon]
    extent = (min(xs), min(ys), max(xs), max(ys))
    clear = room.inset(1.0, LABEL)
    # Not a view to measure: as large as the place allows, at no scale of the series.
    ratio = max((extent[2] - extent[0]) / clear.width, (extent[3] - extent[1]) / clear.height)
    view = View.centred(Scale(ratio, ""), extent, clear.rect)
    marks: list[Mark] = []
    for leaf in walls:
        polygon = view.points(cuts[leaf.mark])
        marks.append(Path(polygon, VISIBLE if leaf.door else NARROW, 1.0 if leaf.door else 0.6))
        if leaf.door:
            x = sum(point[0] for point in polygon) / len(polygon)
            outer = [point[1] for point in polygon]
            south = sum(point[1] for point in cuts[leaf.mark]) < 0
            y = min(outer) - LABEL + 1.5 if south else max(outer) + 2.0
            kind = kit.words.name("panel" if leaf.mark in panels(plan) else "door")
            marks.append(Text((x, y), f"{kind} {leaf.mark}", BODY_BOLD, "centre"))
    return tuple(marks)


def _rows(finished: Sequence[Listed], known: Mapping[str, bool], words: Words) -> list[Row]:
    """Sheets under the stations they belong to."""
    rows: list[Row] = []
    station: Station | None = None
    for sheet in finished:
        own = Station(sheet.number[0])
        if own is not station:
            rows.append(f"{own}  {words.name(own.word)}, {words.name(own.work(known))}")
            station = own
        rows.append(sheet)
    return rows


def _look(rows: Sequence[Row], first: Room, kit: Kit) -> tuple[_Look, float]:
    """The larger lettering where it takes no more pages, and the part to which every page is filled: alike, rather than
    a last one with a few sheets."""
    pages: dict[_Look, tuple[int, float]] = {}
    for look in (SMALL, LARGE):
        capacity, count = COLUMNS * _lines(first, look), 1
        while capacity < len(rows) + COLUMNS * count:  # a station's name that would stand alone leaves its line free
            capacity, count = capacity + COLUMNS * _lines(kit.room, look), count + 1
        pages[look] = (count, min(1.0, (len(rows) + COLUMNS * count) / capacity))
    wide = max((kit.lettering.width(row.title, LARGE.style) + kit.lettering.width(row.serial, LARGE.style)
                for row in rows if not isinstance(row, str)), default=0.0)
    fits = LARGE.number + wide + 4.0 < first.columns(*(1.0,) * COLUMNS, gap=BETWEEN)[0].width
    look = LARGE if fits and pages[LARGE][0] == pages[SMALL][0] else SMALL
    return look, pages[look][1]


def _lines(room: Room, look: _Look) -> int:
    """Lines of sheets in a column; the first line is the head."""
    return int((room.height - BODY.leading - 1.0) // look.row) - 1


def _register(rows: list[Row], room: Room, kit: Kit, look: _Look, part: float
              ) -> tuple[Drawing, tuple[Link, ...], list[Row]]:
    """As many rows as that part of the room takes, in columns; each sheet is a link. Also what is left over."""
    words = kit.words
    marks: list[Mark] = [
        Text((room.left, room.top - 1.2 * BODY.height), words.text("cover.register.title"), BODY_BOLD),
        Text((room.right, room.top - 1.2 * BODY.height), words.text("cover.register.note"), FINE, "right")]
    _, body = room.cut_top(BODY.leading + 1.0)
    columns = body.columns(*(1.0,) * COLUMNS, gap=BETWEEN)
    most = math.ceil(part * _lines(room, look))
    # Where a page is not full its lines stand apart.
    look = replace(look, row=max(look.row, min(APART, body.height / (most + 1))))
    links: list[Link] = []
    left = list(rows)
    for column in columns:
        if left:
            marks += _head(column, kit, look)
        taken = left[:most]
        # A station's name never stands alone at the foot of a column.
        if len(taken) == most and isinstance(taken[-1], str) and len(left) > most:
            taken = taken[:-1]
        left = left[len(taken):]
        for index, row in enumerate(taken, 1):
            top = column.top - index * look.row
            marks += _row(row, column, top, look)
            if not isinstance(row, str):
                links.append(Link((column.left, top - look.row, column.right, top), row.number))
    return tuple(marks), tuple(links), left


def _head(column: Room, kit: Kit, look: _Look) -> Drawing:
    words = kit.words
    base = column.top - (look.row + look.style.height) / 2
    return (
        rectangle((column.left, column.top - look.row, column.right, column.top), None, 0.88),
        Text((column.left + 1.0, base), words.text("cover.register.number"), look.bold),
        Text((column.left + look.number, base), words.text("cover.register.name"), look.bold),
        Text((column.right - 1.0, base), words.text("cover.register.serial"), look.bold, "right"),
    )


def _row(row: Row, column: Room, top: float, look: _Look) -> Drawing:
    base = top - (look.row + look.style.height) / 2
    rule = Line((column.left, top - look.row), (column.right, top - look.row), TABLE)
    if isinstance(row, str):
        return (Text((column.left + 1.0, base), row, look.bold), rule)
    return (
        Text((column.left + 1.0, base), row.number, look.bold),
        Text((column.left + look.number, base), row.title, look.style),
        Text((column.right - 1.0, base), row.serial, look.style, "right"),
        rule,
    )
