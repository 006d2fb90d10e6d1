"""Inspection: what is measured on the erected shelter and on the pack, where, within which limits, and signed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate
from string import ascii_uppercase

from packet.assembly.opening_states import pack_plates
from packet.assembly.records import Point, Point3
from packet.assembly.views import cut, horizontal
from packet.drawing.flow import bullets
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Drawing, Mark, Path, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import picture
from packet.drawing.symbols import arrow, circled, signature_box, tick_box
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.inputs import thin
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.plates import ABOVE, BEFORE, LYING, faces, fitted, shown_open
from packet.work.inspection import Reading, erected, nearest_first, packed
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_GAP = 7.0
_PICTURES = 0.32  # share of the width for the pictures
_ROW = 11.0  # mm, a tick box with air
_SIGN = 15.0
_CAPTION = 8.0
_APART = 9.0  # mm between letters in a picture
_BESIDE = 0.1  # share of the pack's length, or width, between it and the line of the other
_SIZES = 2  # readings whose lines are drawn in the view from above


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The shelter as it stands, over as many pages as its readings need, then the pack."""
    standing, lying = erected(plan), packed(plan)
    letters = iter(ascii_uppercase)
    named = [(next(letters), reading) for reading in standing]
    pages = _pages(plan, kit, "erected", named, 1)
    named = [(next(letters, ""), reading) for reading in lying]
    return (*pages, *_pages(plan, kit, "packed", named, len(pages) + 1))


def _pages(plan: Plan, kit: Kit, key: str, named: list[tuple[str, Reading]], first: int) -> list[Sheet]:
    left, right = kit.room.columns(_PICTURES, 1 - _PICTURES, gap=_GAP)
    notes = bullets((0.0, 0.0), left.width, kit.words.texts(f"inspection.{key}_note", **_note_values(plan, kit)), BODY,
                    kit.lettering, 1.0)
    below, pictures = left.cut_bottom(notes.height, gap=3.0)
    widths = spread(right.width, 9, 62, 43, 24, 12)
    columns = [Column(widths[0], "centre", BODY_BOLD), Column(widths[1], style=BODY),
               Column(widths[2], "centre", BODY_BOLD), Column(widths[3]), Column(widths[4], "centre")]
    header = [str(word) for word in kit.words.entry("inspection.header")]
    foot = _SIGN + 2.0
    rows = [_row(plan, kit, letter, reading) for letter, reading in named]
    def fits(part: slice) -> bool:
        room = right.height - (foot if part.stop == len(rows) else 0.0)
        return fit(columns, rows[part], header, room, kit.lettering, _ROW) == len(rows[part])

    parts = next(parts for count in range(1, len(rows) + 1) for parts in _parts(len(rows), count) if all(map(fits, parts)))
    sheets: list[Sheet] = []
    for part in parts:
        block = table(right.top_left, columns, rows[part], header, kit.lettering, _ROW, "grid")
        last, shown = part.stop == len(rows), named[part]
        marks: list[Mark] = list(with_notes(kit, block.marks, right.inset(0.0, foot + 3.0 if last else 0.0, 0.0, 0.0)))
        place = pictures if last else left
        marks += _standing(plan, kit, place, shown) if key == "erected" else _lying(plan, kit, place, shown)
        if last:
            marks += _signed(kit, right, plan.description.quantity)
            marks += notes.moved(below.top_left).marks
        sheets.append(Sheet(
            number=sheet_number("inspection", first + len(sheets)), title=kit.words.text(f"inspection.{key}.title"),
            station=Station.L.word, kind=kit.words.text("inspection.kind"), marks=tuple(marks),
            subtitle=kit.words.text(f"inspection.{key}.subtitle", doors=bool(plan.assembly.doors))))
    return sheets


def _parts(whole: int, count: int) -> Iterator[tuple[slice, ...]]:
    """`whole` rows in so many parts, as even as they go; then with fewer in the last, above which notes stand."""
    for last in range(whole // count, 0, -1) if count > 1 else (whole,):
        share, more = divmod(whole - last, max(1, count - 1))
        sizes = (*(share + (part < more) for part in range(count - 1)), last)
        yield tuple(slice(stop - size, stop) for size, stop in zip(sizes, accumulate(sizes), strict=True))


def _signed(kit: Kit, room: Room, sets: int) -> Drawing:
    """Who inspected and when, and which of several sets."""
    labels = [*([kit.words.text("inspection.set", sets=sets)] if sets > 1 else []), *kit.words.texts("inspection.sign")]
    marks: list[Mark] = []
    x = room.left
    for label, width in zip(labels, spread(room.width + 3.0, *([24] if sets > 1 else []), 62, 38), strict=True):
        marks += signature_box((x, room.bottom), width - 3.0, label, kit.lettering, _SIGN)
        x += width
    return tuple(marks)


def _row(plan: Plan, kit: Kit, letter: str, reading: Reading) -> list[Cell]:
    words = kit.words
    values = dict(reading.values)
    if "kind" in values:
        values["name"] = words.text(f"inspection.names.{values['kind']}")
    odd = plan.ring is not None and plan.ring.walls % 2 == 1
    said = words.text(f"inspection.rows.{reading.key}", odd=odd, nominal=reading.nominal,
                      several=len(plan.pack.columns) > 1, **values)
    right = words.text(f"inspection.{reading.kind}", nominal=reading.nominal, off=reading.off)
    return [letter, said, right, "", tick_box((0.0, 0.0))]


def _note_values(plan: Plan, kit: Kit) -> dict[str, object]:
    limits, assume = plan.description.limits, plan.description.assume
    found: dict[str, object] = {
        "sets": plan.description.quantity,
        "mark": limits.mark, "cut": limits.cut, "rss": plan.gap.root_sum_square, "worst": plan.gap.worst_case,
        "ring": plan.ring is not None, "along": plan.bulk.along, "most": plan.bulk.most,
        "assumed": assume.hinge_bulk is not None, "tape": thin(kit.form, assume.tape_thickness),
        "foil": thin(kit.form, assume.foil_thickness)}
    if plan.ring is not None:
        moved = {"by_width": plan.ring.rise_per_leaf_width, "by_slant": plan.ring.rise_per_slant,
                 "by_square": plan.ring.rise_per_squareness}
        found |= {name: kit.form.pointed(f"{by:+.1f}") for name, by in moved.items()}
    return found


# --- where to measure ----------------------------------------------------------------------------


def _standing(plan: Plan, kit: Kit, room: Room, named: list[tuple[str, Reading]]) -> Drawing:
    """From above with the two sizes that are read there, and standing with a letter at every other place."""
    sizes = [(letter, r) for letter, r in named if r.key in ("corners", "flats", "width", "depth")]
    others = [(letter, r) for letter, r in named if (letter, r) not in sizes]
    marks: list[Mark] = []
    below = room
    if sizes:
        above, below = room.rows(1, 1, gap=5.0)
        text = kit.words.text("inspection.above", cut=plan.ring is not None)
        head, space = _captioned(above, text)
        marks += [*head, *(_across_ring if plan.ring else _across)(plan, kit, space, sizes)]
    head, space = _captioned(below, kit.words.text("inspection.stands"))
    return (*marks, *head, *_lettered_view(plan, kit, space.inset(9.0, 3.0), others))


def _captioned(room: Room, text: str) -> tuple[Drawing, Room]:
    foot, above = room.cut_bottom(_CAPTION)
    return (Text((foot.centre[0], foot.bottom + 1.5), text, BODY_BOLD, "centre"),), above


def _across_ring(plan: Plan, kit: Kit, room: Room, sizes: Sequence[tuple[str, Reading]]) -> Drawing:
    """The walls cut across, a line from a corner and one from the middle of a wall through the centre."""
    ring = plan.geometry
    rings = cut(plan.assembly.leaves, horizontal(ring.wall_height / 2))
    points = [p for polygon in rings.values() for p in polygon]
    rect = (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points))
    view = View.centred(Scale(fitted(rect, room.inset(1.0)), ""), rect, room.rect)
    marks: list[Mark] = []
    for polygon in rings.values():
        placed = view.points(polygon)
        marks += [Path(placed, None, 0.85), *hatch(placed, 1.4), Path(placed, VISIBLE)]
    door = plan.assembly.doors[0] if plan.assembly.doors else plan.assembly.leaves[0]
    reach = {"corners": (ring.circumradius, ring.across_corners), "flats": (ring.apothem, ring.across_flats)}
    for letter, reading in sizes:
        near, whole = reach[reading.key]
        foot = door.open_pose.place(door.edge("corner" if reading.key == "corners" else "mid")[0])
        long = math.hypot(foot[0], foot[1])
        u = (foot[0] / long, foot[1] / long)
        here, there = (view.point((u[0] * r, u[1] * r)) for r in (near, near - whole))
        # The letters stand at opposite ends, since both lines cross in the middle.
        marks += _span(here, there, letter, kit) if reading.key == "corners" else _span(there, here, letter, kit)
    return tuple(marks)


def _across(plan: Plan, kit: Kit, room: Room, sizes: Sequence[tuple[str, Reading]]) -> Drawing:
    """Everything seen from above, its width and depth beside it."""
    shown = shown_open(plan, ABOVE)
    inner = room.inset(14.0, 14.0, 4.0, 2.0)
    view = View.centred(Scale(fitted(shown.bounds, inner), ""), shown.bounds, inner.rect)
    left, bottom = view.point(shown.bounds[:2])
    right, top = view.point(shown.bounds[2:])
    spans = {"width": ((left, bottom - 6.0), (right, bottom - 6.0)), "depth": ((left - 6.0, bottom), (left - 6.0, top))}
    marks: list[Mark] = list(shown.drawing(view))
    for letter, reading in sizes:
        marks += _span(*spans[reading.key], letter, kit)
    return tuple(marks)


def _span(a: Point, b: Point, letter: str, kit: Kit) -> Drawing:
    """A line with heads at both ends and its letter a quarter of the way."""
    at = (a[0] + (b[0] - a[0]) / 4, a[1] + (b[1] - a[1]) / 4)
    return (*arrow(at, a, head=3.0), *arrow(at, b, head=3.0), *circled(at, letter, kit.lettering))


def _lettered_view(plan: Plan, kit: Kit, room: Room, named: Sequence[tuple[str, Reading]]) -> Drawing:
    shown = shown_open(plan, BEFORE)
    view = View.centred(Scale(fitted(shown.bounds, room), ""), shown.bounds, room.rect)
    taken: list[Point] = []
    marks: list[Mark] = list(shown.drawing(view))
    left, bottom = view.point(shown.bounds[:2])
    _, top = view.point(shown.bounds[2:])
    for letter, reading in named:
        if reading.key == "height":
            marks += _span((left - 4.0, bottom), (left - 4.0, top), letter, kit)
            continue
        for place in nearest_first(reading.places, BEFORE.azimuth):
            at = view.point(BEFORE.project(place))
            if all(math.dist(at, other) > _APART for other in taken):
                taken.append(at)
                marks += circled(at, letter, kit.lettering)
                break
    return tuple(marks)


def _lying(plan: Plan, kit: Kit, room: Room, named: Sequence[tuple[str, Reading]]) -> Drawing:
    """The pack with letters on its edges."""
    plates = pack_plates(plan.assembly, plan.pack)
    shown = picture(faces(plates), LYING)
    _, above = room.cut_bottom(0.0)
    head, space = _captioned(above, kit.words.text("inspection.lies"))
    outlines = [[_behind(p, plate.into, depth) for p in plate.outline] for plate in plates for depth in (0.0, plate.thickness)]
    corners = [p for outline in outlines for p in outline]
    low = tuple(min(p[i] for p in corners) for i in range(3))
    high = tuple(max(p[i] for p in corners) for i in range(3))
    off, middle = _BESIDE * max(high[0] - low[0], high[1] - low[1]), (low[2] + high[2]) / 2
    spans = {"pack_width": ((low[0], low[1] - off, low[2]), (high[0], low[1] - off, low[2])),
             "pack_length": ((high[0] + off, high[1], low[2]), (high[0] + off, low[1], low[2]))}
    # The lines are over all, and a pack that narrows leaves its box.
    ends = [LYING.project(p) for span in spans.values() for p in span]
    left, bottom, right, top = shown.bounds
    whole = (min(left, *(x for x, _ in ends)), min(bottom, *(y for _, y in ends)), max(right, *(x for x, _ in ends)),
             max(top, *(y for _, y in ends)))
    inner = space.inset(5.0, 5.0, 5.0, 3.0)
    view = View.centred(Scale(fitted(whole, inner), ""), whole, inner.rect)

    def on_paper(point: Point3) -> Point:
        return view.point(LYING.project(point))

    # How thick it is, is felt at the edges that look to the viewer: at the lowest corner on paper, and on the right side.
    beside = on_paper((high[0], low[1] + (high[1] - low[1]) / 3, middle))
    halves = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, middle) for outline in outlines
              for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)]
    lowest = min(((x, y, middle) for x, y, _ in corners), key=lambda p: on_paper(p)[1])
    clear = [p for p in halves if math.dist(on_paper(p), on_paper(lowest)) > _APART]
    felt = {"pack_most": lowest, "pack_hinges": min(clear or halves, key=lambda p: math.dist(on_paper(p), beside))}
    marks: list[Mark] = [*head, *shown.drawing(view)]
    for letter, reading in named:
        if reading.key in spans:
            a, b = spans[reading.key]
            marks += _span(on_paper(a), on_paper(b), letter, kit)
        elif reading.key in felt:
            marks += circled(on_paper(felt[reading.key]), letter, kit.lettering)
    return tuple(marks)


def _behind(point: Point3, into: Point3, depth: float) -> Point3:
    return (point[0] + depth * into[0], point[1] + depth * into[1], point[2] + depth * into[2])
