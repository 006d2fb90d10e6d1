"""The cover: what is built, and the register of every sheet with its serial. Its second page holds the inputs."""

from __future__ import annotations

from collections.abc import Sequence

from packet.assembly.records import LeafKind
from packet.assembly.views import centre_of, cut, horizontal
from packet.description.terms import Face
from packet.drawing.flow import bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, TITLE
from packet.drawing.marks import Drawing, Line, Link, Mark, Path, Text, rectangle
from packet.drawing.page import FinishedSheet, Sheet
from packet.drawing.pens import NARROW, TABLE, VISIBLE
from packet.drawing.room import Room
from packet.drawing.view import View, pick_scale
from packet.figures import MM2, board_mass
from packet.plan import Plan
from packet.sheets.inputs import inputs_sheet
from packet.sheets.kit import Kit
from packet.sheets.numbers import sheet_number
from packet.work.stations import Station

TOP = 62.0  # mm, height of the band with the name, the figures and the plan
ROW = 4.9  # mm, one line of the register
COLUMNS = 3
BETWEEN = 5.0
NUMBER_WIDTH = 12.0

Row = FinishedSheet | Station


def draw(plan: Plan, kit: Kit, finished: Sequence[FinishedSheet]) -> tuple[Sheet, ...]:
    """The cover, its page of inputs, and as many further pages as the register needs.

    `finished` are all other sheets of the packet, in the order they are bound.
    """
    words = kit.words
    top, rest = kit.room.cut_top(TOP, gap=3.0)
    rows = _rows(finished)
    marks, links, left = _register(rows, rest, kit)
    sheets = [
        Sheet(number=sheet_number("cover"), title=words.text("cover.title"), station=Station.L.word,
              kind=words.text("cover.kind"), marks=(*_front(plan, kit, top), *marks), links=links,
              subtitle=words.text("cover.subtitle", walls=plan.geometry.walls, sheet=sheet_number)),
        inputs_sheet(plan, kit),
    ]
    while left:
        marks, links, left = _register(left, kit.room, kit)
        sheets.append(Sheet(
            number=sheet_number("cover", len(sheets) + 1), title=words.text("cover.more.title"),
            station=Station.L.word, kind=words.text("cover.kind"), marks=marks, links=links,
            subtitle=words.text("cover.more.subtitle")))
    return tuple(sheets)


def _front(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """The project's name over the key figures, the plan beside them."""
    words, lettering, ring = kit.words, kit.lettering, plan.geometry
    right, left = room.cut_right(room.height + 12.0, gap=6.0)
    values = {
        "walls": ring.walls, "side": ring.side, "wall_height": ring.wall_height, "apex": ring.apex,
        "across_corners": ring.across_corners, "across_flats": ring.across_flats,
        "floor_area": ring.floor_area * MM2, "opening": ring.opening_across_flats, "width": plan.pack.width,
        "length": plan.pack.length, "thick": plan.pack.thickness + plan.description.assume.hinge_bulk,
        "boards": len(plan.boards), "leaves": len(plan.assembly.leaves), "mass": board_mass(plan),
        "doors": tuple(door.mark for door in plan.assembly.doors), "hand": str(plan.description.doors.hand),
    }
    figures = [words.text(f"cover.figures.{name}", **values) for name in words.entry("cover.figures")]
    name = paragraph((0.0, 0.0), left.width, plan.description.title, TITLE, lettering)
    block = stack(left.top_left, (name, bullets((0.0, 0.0), left.width, figures, BODY, lettering, 0.6)), 1.5, left.width)
    return (*block.marks, *_outline(plan, kit, right))


def _outline(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """A small plan: walls cut half way up, the doors open ground with their marks."""
    walls = plan.assembly.of_kind(LeafKind.WALL)
    cuts = cut(walls, horizontal(plan.geometry.wall_height / 2))
    xs = [x for polygon in cuts.values() for x, _ in polygon]
    ys = [y for polygon in cuts.values() for _, y in polygon]
    extent = (min(xs), min(ys), max(xs), max(ys))
    clear = room.inset(1.0, BODY.leading)
    scale = pick_scale(kit.system, (extent[2] - extent[0], extent[3] - extent[1]), clear.size)
    view = View.centred(scale, extent, clear.rect)
    marks: list[Mark] = []
    middle = ((extent[0] + extent[2]) / 2, (extent[1] + extent[3]) / 2)
    for leaf in walls:
        marks.append(Path(view.points(cuts[leaf.mark]), VISIBLE if leaf.door else NARROW, 1.0 if leaf.door else 0.6))
        if leaf.door:
            x, y, _ = centre_of(leaf, Face.INNER)
            inward = (middle[0] - x, middle[1] - y)
            reach = max((inward[0] ** 2 + inward[1] ** 2) ** 0.5, 1.0)
            px, py = view.point((x, y))
            off = 4.0 + BODY.height / 2
            marks.append(Text((px + off * inward[0] / reach, py + off * inward[1] / reach - BODY.height / 2),
                              f"{kit.words.text('cover.register.door')} {leaf.mark}", BODY_BOLD, "centre"))
    marks.append(Text((room.right, room.bottom), scale.label, FINE, "right"))
    return tuple(marks)


def _rows(finished: Sequence[FinishedSheet]) -> list[Row]:
    """Sheets under the stations they belong to."""
    rows: list[Row] = []
    station: Station | None = None
    for sheet in finished:
        own = Station(sheet.number[0])
        if own is not station:
            rows.append(own)
            station = own
        rows.append(sheet)
    return rows


def _register(rows: list[Row], room: Room, kit: Kit) -> tuple[Drawing, tuple[Link, ...], list[Row]]:
    """As many rows as the room takes, in columns; each sheet is a link. Also what is left over."""
    words = kit.words
    marks: list[Mark] = [
        Text((room.left, room.top - 1.2 * BODY.height), words.text("cover.register.title"), BODY_BOLD),
        Text((room.right, room.top - 1.2 * BODY.height), words.text("cover.register.note"), FINE, "right")]
    _, body = room.cut_top(BODY.leading + 1.0)
    columns = body.columns(*(1.0,) * COLUMNS, gap=BETWEEN)
    most = int(body.height // ROW) - 1  # the first line is the head
    links: list[Link] = []
    left = list(rows)
    for column in columns:
        if left:
            marks += _head(column, kit)
        taken = left[:most]
        # A station's name never stands alone at the foot of a column.
        if len(taken) == most and isinstance(taken[-1], Station) and len(left) > most:
            taken = taken[:-1]
        left = left[len(taken):]
        for index, row in enumerate(taken, 1):
            top = column.top - index * ROW
            marks += _row(row, column, top)
            if not isinstance(row, Station):
                links.append(Link((column.left, top - ROW, column.right, top), row.number))
    return tuple(marks), tuple(links), left


def _head(column: Room, kit: Kit) -> Drawing:
    words = kit.words
    base = column.top - (ROW + FINE.height) / 2
    return (
        rectangle((column.left, column.top - ROW, column.right, column.top), None, 0.88),
        Text((column.left + 1.0, base), words.text("cover.register.number"), FINE_BOLD),
        Text((column.left + NUMBER_WIDTH, base), words.text("cover.register.name"), FINE_BOLD),
        Text((column.right - 1.0, base), words.text("cover.register.serial"), FINE_BOLD, "right"),
    )


def _row(row: Row, column: Room, top: float) -> Drawing:
    base = top - (ROW + FINE.height) / 2
    rule = Line((column.left, top - ROW), (column.right, top - ROW), TABLE)
    if isinstance(row, Station):
        return (Text((column.left + 1.0, base), f"{row}  {row.word}, {row.work}", FINE_BOLD), rule)
    return (
        Text((column.left + 1.0, base), row.number, FINE_BOLD),
        Text((column.left + NUMBER_WIDTH, base), row.title, FINE),
        Text((column.right - 1.0, base), row.serial, FINE, "right"),
        rule,
    )
