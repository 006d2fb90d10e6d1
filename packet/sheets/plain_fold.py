"""Fold leaves that are no halves of a shelter: pictures of the fold, the pack layer by layer, from pack to open."""

from __future__ import annotations

from packet.assembly.folding import chain, chain_state, thickened
from packet.assembly.opening_states import opening_states, pack_plates
from packet.assembly.records import Point
from packet.drawing.flow import paragraph, stack, steps
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD, NUMBER
from packet.drawing.marks import Drawing, Mark, Path, Rect, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import picture
from packet.drawing.table import Column, fit, spread, table
from packet.drawing.view import Scale, View
from packet.plan import Plan
from packet.sheets.fold_pictures import MOST, caption, cut_across
from packet.sheets.hold_box import hold_box, task_of
from packet.sheets.kit import Kit
from packet.sheets.opening_pictures import opening_page
from packet.sheets.plates import BEFORE, LYING, faces, in_room
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_GAP = 7.0
_FLAT_ROW = 27.0  # mm, the picture of the flat row across the page
_ROW = 8.0
_PICTURE = 52.0  # mm, the least height for the picture of the pack
_PART_WAY = 0.25  # how far open the row is drawn on its way
_ON_ITS_WAY = 0.12  # thickness over leaf width in that picture
_MARGIN = 1.5


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The fold with its hold point; the pack, over as many pages as its layers need; from pack to open."""
    packs = _pack_pages(plan, kit)
    return _fold_page(plan, kit), *packs, opening_page(plan, kit, len(packs) + 2)


def _fold_page(plan: Plan, kit: Kit) -> Sheet:
    key = f"fold:{plan.assembly.halves[0]}"
    row = bool(chain(plan.assembly))
    top, rest = kit.room.cut_top(_FLAT_ROW if row else 0.0, gap=3.0 if row else 0.0)
    words, left = rest.inset(0, 0, 1.5, 0).cut_right(rest.width * 0.4, gap=_GAP)
    hold = hold_box(plan, kit, key, (left.left, 0.0), left.width, (kit.words.text("fold.plain.sign"),))
    foot, pictures = left.cut_bottom(hold.height, gap=4.0)
    marks: list[Mark] = list(hold.moved(foot.top_left).marks)
    marks += _row_pictures(plan, kit, top, pictures) if row else _stages(plan, kit, pictures)
    values = task_of(plan, key).values
    base = _lowest(plan)
    marked = plan.assembly.by_mark[base].marked_face
    face = marked if plan.pack.flats[base].face_up else marked.other
    told = kit.words.texts("fold.plain.steps", row=row, face=str(face), **values)
    note = paragraph((0.0, 0.0), words.width, kit.words.text("fold.plain.note"), BODY, kit.lettering)
    marks += stack(words.top_left, (steps((0.0, 0.0), words.width, told, kit.lettering), note), 4.0).marks
    return _sheet(kit, 1, "fold", marks, row=row)


def _row_pictures(plan: Plan, kit: Kit, top: Room, below: Room) -> Drawing:
    """The row of leaves cut across: flat, part folded, folded."""
    middle, right = below.columns(1, 1, gap=_GAP)
    marks: list[Mark] = []
    breadth = max(_breadths(plan))
    for number, room, fraction in ((1, top, 1.0), (2, middle, _PART_WAY), (3, right, 0.0)):
        head, space = caption(kit, room, number, kit.words.text(f"fold.plain.pictures.p{number}"))
        marks += head
        if fraction == _PART_WAY:
            section = chain_state(thickened(plan.assembly, _ON_ITS_WAY * breadth), plan.pack, fraction)
            left, bottom, far, high = section.bounds
            ratio = max((far - left) / (space.width - 4.0), (high - bottom) / (space.height - 4.0))
        else:
            thin = chain_state(plan.assembly, plan.pack, fraction)
            ratio = (thin.bounds[2] - thin.bounds[0]) / (space.width - 2 * _MARGIN)
            layers = plan.pack.layers if fraction == 0.0 else 1
            thick = min(MOST, (space.height - 4.0) / layers)
            section = chain_state(thickened(plan.assembly, thick * ratio), plan.pack, fraction)
        marks += cut_across(plan, kit, section, ratio, space)
    return tuple(marks)


def _stages(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """Open, half way and folded, in pictorial views at one size."""
    states = opening_states(plan.assembly, 1)[::-1]
    shown = [picture(faces(state.plates), BEFORE) for state in states]
    rooms = room.columns(*[1] * len(shown), gap=5.0)
    marks: list[Mark] = []
    for number, (view, space, key) in enumerate(zip(shown, rooms, ("open", "part", "folded"), strict=True), 1):
        head, below = caption(kit, space, number, kit.words.text(f"fold.plain.pictures.{key}"))
        marks += [*head, *in_room(view, kit.lettering, below.inset(1.0))]
    return tuple(marks)


def _pack_pages(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Layers from above beside the table of layers; a page more where either is longer than one."""
    left, right = kit.room.columns(7, 6, gap=_GAP)
    widths = spread(left.width, 14, 36, 50)
    columns = [Column(widths[0], "centre", BODY_BOLD), Column(widths[1], style=BODY_BOLD),
               Column(widths[2], style=BODY)]
    header = kit.words.texts("fold.plain.table")
    rows = _layer_rows(plan, kit)
    told = kit.words.texts("fold.plain.strap", **_pack_values(plan))
    strap = steps((0.0, 0.0), right.width - 1.5, told, kit.lettering, tick=True)
    pages: list[Sheet] = []
    # A long table takes the room of the picture; the sheet on folding and packing has that too.
    pictured = fit(columns, rows, header, left.height - _PICTURE, kit.lettering, _ROW) == len(rows)
    while rows:
        number = len(pages) + 2
        count = fit(columns, rows, header, left.height, kit.lettering, _ROW)
        block = table(left.top_left, columns, rows[:count], header, kit.lettering, _ROW)
        marks: list[Mark] = list(block.marks)
        rows = rows[count:]
        if not pages:
            if pictured:
                _, below = left.cut_top(block.height, gap=5.0)
                head, space = caption(kit, below, None, kit.words.text("fold.plain.lying"))
                marks += [*head, *in_room(picture(faces(pack_plates(plan.assembly, plan.pack)), LYING), None,
                                          space.inset(1.0), fine=True)]
            foot, above = right.cut_bottom(strap.height, gap=5.0)
            marks += strap.moved(foot.top_left).marks
            marks += _layers_from_above(plan, kit, above)
        pages.append(_sheet(kit, number, "pack", marks))
    return tuple(pages)


def _layers_from_above(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """Each layer's leaves in outline with their marks, lowest first; layers that cover the same place share one."""
    groups = _alike(plan)
    across = 1 if len(groups) == 1 else 2
    down = -(-len(groups) // across)
    rooms = [space for row in room.rows(*[1] * down, gap=3.0) for space in row.columns(*[1] * across, gap=5.0)]
    rect = _plane(plan)
    marks: list[Mark] = []
    for layers, space in zip(groups, rooms, strict=False):
        key = "one" if len(layers) == 1 else "many"
        head, below = caption(kit, space, None, kit.words.text(f"fold.plain.layer.{key}", layers=layers))
        ratio = max((rect[2] - rect[0]) / below.width, (rect[3] - rect[1]) / below.height)
        view = View.centred(Scale(ratio, ""), rect, below.rect)
        marks += head
        for mark in _in_layer(plan, layers[0]):
            flat = plan.pack.flats[mark]
            ring = view.points(flat.place(p) for p in plan.assembly.by_mark[mark].outline)
            marks += [Path(ring, VISIBLE, 0.92), *_inside(kit, ring, mark if len(layers) == 1 else "")]
    return tuple(marks)


def _inside(kit: Kit, ring: tuple[Point, ...], mark: str) -> Drawing:
    """The mark in its outline, in the largest lettering that stands clear."""
    import shapely

    outline = shapely.Polygon(ring)
    clear = outline.buffer(-0.6)
    for style in (NUMBER, BODY_BOLD, FINE_BOLD) if mark else ():
        text = Text((outline.centroid.x, outline.centroid.y - style.height / 2), mark, style, "centre")
        if clear.contains(shapely.Polygon(kit.lettering.box(text))):
            return (text,)
    return ()


def _alike(plan: Plan) -> tuple[tuple[int, ...], ...]:
    """Layers grouped where the outlines of their leaves fall on the same place."""
    found: dict[tuple[tuple[Point, ...], ...], list[int]] = {}
    for layer in range(1, plan.pack.layers + 1):
        places = tuple(sorted(tuple(sorted((round(x, 1) + 0.0, round(y, 1) + 0.0) for x, y in (
            plan.pack.flats[mark].place(p) for p in plan.assembly.by_mark[mark].outline)))
            for mark in _in_layer(plan, layer)))
        found.setdefault(places, []).append(layer)
    return tuple(tuple(layers) for layers in found.values())


def _in_layer(plan: Plan, layer: int) -> tuple[str, ...]:
    return tuple(leaf.mark for leaf in plan.assembly.leaves if plan.pack.flats[leaf.mark].layer == layer)


def _plane(plan: Plan) -> Rect:
    points = [plan.pack.flats[leaf.mark].place(p) for leaf in plan.assembly.leaves for p in leaf.outline]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _layer_rows(plan: Plan, kit: Kit) -> list[list[str]]:
    """Top layer first: its leaves, and the hinges that join them to the layer below."""
    rows = []
    for layer in range(plan.pack.layers, 0, -1):
        here = _in_layer(plan, layer)
        below = set(_in_layer(plan, layer - 1))
        joined = [kit.words.text("fold.plain.joint", seam=s.mark, face=s.closing_face)
                  for s in plan.assembly.bonded()
                  if any(a in here and b in below for a, b in (s.leaves, s.leaves[::-1]))]
        rows.append([str(layer), ", ".join(here), ", ".join(joined)])
    return rows


def _pack_values(plan: Plan) -> dict[str, object]:
    pack = plan.pack
    return {"pack": (pack.width, pack.length), "thick": pack.thickness + plan.bulk.most}


def _lowest(plan: Plan) -> str:
    return min(plan.assembly.by_mark, key=lambda mark: plan.pack.flats[mark].layer)


def _breadths(plan: Plan) -> list[float]:
    return [max(x for x, _ in leaf.outline) - min(x for x, _ in leaf.outline) for leaf in plan.assembly.leaves]


def _sheet(kit: Kit, page: int, key: str, marks: list[Mark], **values: object) -> Sheet:
    return Sheet(
        number=sheet_number("fold", page), title=kit.words.text(f"fold.plain.{key}.title"), station=Station.J.word,
        kind=kit.words.text("fold.kind"), marks=tuple(marks),
        subtitle=kit.words.text(f"fold.plain.{key}.subtitle", **values))
