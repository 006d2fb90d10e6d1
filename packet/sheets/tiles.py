"""Full-size parts on paper: in tiles that overlap, with a map of them, or on one long page of a roll.

Marks are culled to a tile by where they are seen and then cut off at its window, so that a tile holds little more than it
shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from packet.boards.story import segments
from packet.drawing.flow import steps
from packet.drawing.full_size import BARS, MARGIN, margin_note, window
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, LARGE
from packet.drawing.marks import Drawing, Line, Mark, Path, Point, Rect, Text, Viewport, bounds, rectangle, shift
from packet.drawing.page import FinishedSheet, Paper, Sheet, finish
from packet.drawing.pens import HIDDEN, NARROW, TABLE, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.view import View, full_size, pick_scale
from packet.ledger.gauging import OFF
from packet.sheets.kit import Kit
from packet.sheets.part_drawing import PartDrawing
from packet.sheets.stick_rows import OVERLAP, register
from packet.work.stations import Station

MOST = 999
"""Pages that can be numbered T001 and on."""
LONGEST = 5080.0
"""mm, the longest page that PDF readers agree on (200 in; ISO 32000-1, annex C)."""
_CLEAR = 0.8  # mm of clear ground round a tile's number on the map
BESIDE = 92.0
"""mm of the map page for what to do."""
PEN = 1.0
"""mm that a line may reach beyond where it is drawn: half of the widest pen."""


@dataclass(frozen=True, slots=True)
class Tile:
    """A tile of a part: its page number, its row from the top and column from the left (from 1), and what it shows."""

    number: str
    row: int
    column: int
    rect: Rect


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a part is laid out: tiles that show some of it, in reading order, rows and columns in all."""

    paper: Paper
    tiles: tuple[Tile, ...]
    rows: int
    columns: int


def tiled(part: PartDrawing, kit: Kit, first: int = 1) -> Tiling:
    """The part on the fewest pages of the packet's paper, upright or lying; pages are numbered from `first`."""
    wide, tall = kit.paper.width, kit.paper.height
    papers = (Paper(wide, tall, kit.paper.name), Paper(tall, wide, kit.paper.name))
    return min((_laid(part, paper, kit, first) for paper in papers), key=lambda tiling: len(tiling.tiles))


def _laid(part: PartDrawing, paper: Paper, kit: Kit, first: int) -> Tiling:
    import shapely

    room, overlap = window(paper), OVERLAP[kit.system]
    left, bottom, right, top = part.frame
    across = segments(right - left, room.width, overlap)
    up = segments(top - bottom, room.height, overlap)
    # What the last tile has to spare is shared out, so that outlines keep off the edges of the pages.
    x = left - (across[-1] + room.width - (right - left)) / 2
    y = bottom - (up[-1] + room.height - (top - bottom)) / 2
    area = shapely.Polygon(part.outline)
    tiles: list[Tile] = []
    for row, dy in enumerate(reversed(up), 1):
        for column, dx in enumerate(across, 1):
            rect = (x + dx, y + dy, x + dx + room.width, y + dy + room.height)
            if area.intersection(shapely.box(*rect)).area > 1.0:
                tiles.append(Tile(f"T{first + len(tiles):03d}", row, column, rect))
    return Tiling(paper, tuple(tiles), len(up), len(across))


def tile_sheets(part: PartDrawing, tiling: Tiling, map_number: str, kit: Kit) -> Iterator[FinishedSheet]:
    """The map, then every tile."""
    yield finish(_map(part, tiling, map_number, kit), kit.identity, kit.paper, kit.lettering, kit.system)
    inked = [_inked(mark, kit) for mark in part.marks]
    for tile in tiling.tiles:
        yield finish(_page(part, tile, tiling, inked, kit), kit.identity, tiling.paper, kit.lettering, kit.system)


def roll_sheet(part: PartDrawing, number: str, width: float, kit: Kit) -> FinishedSheet:
    """The part on one page as wide as a roll. Raises LayoutError, with the width it takes, when it does not fit."""
    left, bottom, right, top = part.frame
    across, up = right - left + 2 * MARGIN, top - bottom + 2 * MARGIN
    least = max(length for length, _ in BARS[kit.system]) + 2 * MARGIN
    sizes = [(long, turned) for wide, long, turned in ((across, up, False), (up, across, True)) if wide <= width]
    if not sizes:
        raise LayoutError(kit.words.text("full_size.too_wide", part=part.subject, needed=min(across, up), width=width))
    long, turned = min(sizes)
    if max(long, least) > LONGEST:
        raise LayoutError(kit.words.text("full_size.too_long", part=part.subject, needed=long, limit=LONGEST))
    size = (max(long, least), width) if turned else (width, max(long, least))
    paper = Paper(*size, kit.words.text("full_size.roll", width=width))
    room = window(paper)
    dx, dy = room.centre[0] - (left + right) / 2, room.centre[1] - (bottom + top) / 2
    sheet = _full(part, number, "", shift(part.marks, dx, dy), (), paper, kit)
    return finish(sheet, kit.identity, paper, kit.lettering, kit.system)


def _full(part: PartDrawing, number: str, subtitle: str, clipped: Drawing, marks: Drawing, paper: Paper,
          kit: Kit) -> Sheet:
    note = margin_note(paper, kit.identity, kit.words.text("full_size.govern"), kit.lettering)
    return Sheet(
        number=number, title=kit.words.text("full_size.title"), station=Station.C.word, kind=kit.words.text("full_size.kind"),
        subtitle=subtitle, subject=part.subject, scale_label=full_size(kit.system).label, marks=(*marks, *note),
        clipped=clipped, viewports=(Viewport(window(paper).rect, 1.0, part.subject),), full_size=True)


# --- a tile ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Ink:
    """A mark and where it is seen: within its box, and of an outline that is not filled along its edges alone. Most tiles of
    a board lie within its outline."""

    mark: Mark
    box: Rect
    edges: tuple[tuple[Point, Point], ...] = ()

    def reaches(self, near: Rect) -> bool:
        return _meet(self.box, near) and (not self.edges or any(_crosses(a, b, near) for a, b in self.edges))


def _inked(mark: Mark, kit: Kit) -> _Ink:
    box = bounds((mark,), kit.lettering)
    if isinstance(mark, Path) and mark.fill is None:
        return _Ink(mark, box, tuple(pairwise((*mark.points, mark.points[0]) if mark.closed else mark.points)))
    return _Ink(mark, box)


def _page(part: PartDrawing, tile: Tile, tiling: Tiling, inked: list[_Ink], kit: Kit) -> Sheet:
    room = window(tiling.paper)
    left, bottom, right, top = tile.rect
    dx, dy = room.left - left, room.bottom - bottom
    near = (left - PEN, bottom - PEN, right + PEN, top + PEN)
    inside = shift((ink.mark for ink in inked if ink.reaches(near)), dx, dy)
    low = (left - part.frame[0], bottom - part.frame[1])
    said = kit.words.text(
        "full_size.tile", row=tile.row, rows=tiling.rows, column=tile.column, columns=tiling.columns,
        left=max(0.0, low[0]), right=min(part.frame[2], right) - part.frame[0],
        bottom=max(0.0, low[1]), top=min(part.frame[3], top) - part.frame[1])
    joints = tuple(mark for other in tiling.tiles for mark in _joint(tile, other, kit))
    return _full(part, tile.number, said, inside, shift(joints, dx, dy), tiling.paper, kit)


def _joint(tile: Tile, other: Tile, kit: Kit) -> Drawing:
    """The joint with a neighbour: a line to cut or fold along, two register marks, and where the other page lies."""
    rows, columns = other.row - tile.row, other.column - tile.column
    if abs(rows) + abs(columns) != 1:
        return ()
    a, b = tile.rect, other.rect
    left, bottom, right, top = max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])
    x, y = (left + right) / 2, (bottom + top) / 2
    along = ((left, y), (right, y)) if rows else ((x, bottom), (x, top))
    at = [(along[0][0] + (along[1][0] - along[0][0]) * share, along[0][1] + (along[1][1] - along[0][1]) * share)
          for share in (0.25, 0.75)]
    half = kit.lettering.width(other.number, FINE_BOLD) / 2 + 1.0
    high = FINE_BOLD.height / 2 + 0.8
    ground = (x - half, y - high, x + half, y + high) if rows else (x - high, y - half, x + high, y + half)
    # The other's number stands in its half of the overlap.
    text = Text((x, y - FINE_BOLD.height / 2), other.number, FINE_BOLD, "centre") if rows else Text(
        (x + FINE_BOLD.height / 2, y), other.number, FINE_BOLD, "centre", 90.0)
    return (Line(*along, HIDDEN), *register(at[0]), *register(at[1]), rectangle(ground, None, 1.0), text)


def _crosses(a: Point, b: Point, near: Rect) -> bool:
    """Whether an edge from a to b reaches into a rectangle."""
    box = (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
    across, up = b[0] - a[0], b[1] - a[1]
    sides = [across * (y - a[1]) - up * (x - a[0]) for x in near[::2] for y in near[1::2]]
    return _meet(box, near) and min(sides) <= 0 <= max(sides)  # else all corners lie on one side of the edge


def _meet(a: Rect, b: Rect) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


# --- the map ---------------------------------------------------------------------------------------


def _map(part: PartDrawing, tiling: Tiling, number: str, kit: Kit) -> Sheet:
    words = kit.words
    picture, said = kit.room.columns(kit.room.width - BESIDE - 6.0, BESIDE, gap=6.0)
    rects = [tile.rect for tile in tiling.tiles]
    frame = (min(r[0] for r in rects), min(r[1] for r in rects), max(r[2] for r in rects), max(r[3] for r in rects))
    scale = pick_scale(kit.system, (frame[2] - frame[0], frame[3] - frame[1]), picture.size)
    view = View.centred(scale, frame, picture.rect)
    marks: list[Mark] = [Path(view.points(part.outline), VISIBLE, 0.9)]
    overlap = OVERLAP[kit.system] / 2
    room = window(tiling.paper)
    wide, high = view.length(room.width - 2 * overlap), view.length(room.height - 2 * overlap)
    style = BODY_BOLD if high > 8.0 and wide > kit.lettering.width("T000", BODY_BOLD) + 2.0 else FINE
    for tile in tiling.tiles:
        left, bottom, right, top = tile.rect
        a, b = view.point((left + overlap, bottom + overlap)), view.point((right - overlap, top - overlap))
        number_at = Text(((a[0] + b[0]) / 2, (a[1] + b[1] - style.height) / 2), tile.number, style, "centre")
        edge = Room(*bounds((number_at,), kit.lettering)).inset(-_CLEAR)
        # The outline of the part runs where it will; the number has clear ground.
        marks += [rectangle((*a, *b), NARROW), rectangle(edge.rect, None, 1.0), number_at]
    todo = words.texts("full_size.do", part=part.subject, pages=len(tiling.tiles), rows=tiling.rows,
                       columns=tiling.columns, overlap=OVERLAP[kit.system], percent=kit.form.plain(OFF),
                       left_out=tiling.rows * tiling.columns - len(tiling.tiles))
    block = next((each for style in (LARGE, BODY)
                  if (each := steps(said.top_left, said.width, todo, kit.lettering, style)).bottom >= said.bottom), None)
    if block is None:
        raise LayoutError("the words beside the map do not fit this paper")
    between = (said.left + picture.right) / 2
    return Sheet(
        number=number, title=words.text("full_size.map"), station=Station.C.word, kind=words.text("full_size.map_kind"),
        subtitle=words.text("full_size.map_subtitle", part=part.subject), subject=part.subject, scale_label=scale.label,
        marks=(*marks, Line((between, said.bottom), (between, said.top), TABLE), *block.marks),
        viewports=(Viewport((*view.point(frame[:2]), *view.point(frame[2:])), scale.ratio, part.subject),))
