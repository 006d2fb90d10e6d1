"""Labels for every part: mark, hand, face, up, half and layer, to be cut out and stuck on; some blank ones over."""

from __future__ import annotations

import math

from packet.assembly.records import Leaf, LeafKind
from packet.description.decided import part_mark
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, HEAD, NUMBER, TITLE, Style
from packet.drawing.marks import Drawing, Line, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import HIDDEN, TABLE, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import arrow
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.work.facts import facts
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

Part = tuple[Leaf, int]
"""A leaf and the number of the shelter it is for, 0 where there is one."""

LEAST = (58.0, 34.0)  # mm, width and height of a label
SPARES = 4
"""Blank labels at least, for parts made anew (assumption)."""
PAD = 3.0
ARROW = 12.0  # mm at the right for the arrow and UP


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A grid of labels to the paper, set by set in the order of the leaves; the last page is filled up with blank ones."""
    across, down = (int(size / least) for size, least in zip(kit.room.size, LEAST, strict=True))
    sets = range(1, plan.description.quantity + 1) if plan.description.quantity > 1 else (0,)
    leaves: list[Part | None] = [*((leaf, copy) for copy in sets for leaf in plan.parts.leaves), *(None,) * SPARES]
    each = across * down
    leaves += [None] * (-len(leaves) % each)
    return tuple(_page(plan, kit, leaves[at:at + each], across, down, page)
                 for page, at in enumerate(range(0, len(leaves), each), 1))


def _page(plan: Plan, kit: Kit, leaves: list[Part | None], across: int, down: int, page: int) -> Sheet:
    words, room = kit.words, kit.room
    places = [cell for row in room.rows(*(1,) * down) for cell in row.columns(*(1,) * across)]
    marks: list[Mark] = []
    for part, place in zip(leaves, places, strict=True):
        marks += _label(plan, kit, part, place.inset(PAD))
    marks += [Line((x, room.bottom), (x, room.top), HIDDEN)
              for x in (room.left + room.width * n / across for n in range(across + 1))]
    marks += [Line((room.left, y), (room.right, y), HIDDEN)
              for y in (room.bottom + room.height * n / down for n in range(down + 1))]
    named = [part_mark(part[0].mark, part[1]) for part in leaves if part]
    return Sheet(
        number=sheet_number("labels", page), title=words.text("stations.labels.title"), station=Station.C.word,
        kind=words.text("stations.labels.kind"), marks=tuple(marks), subtitle=words.text("stations.labels.subtitle"),
        subject=words.text("stations.labels.subject", first=named[0], last=named[-1]) if named else "")


def _label(plan: Plan, kit: Kit, part: Part | None, room: Room) -> Drawing:
    """The mark large, UP with its arrow beside it, then three lines; a blank one has rules to write on."""
    words, known = kit.words, facts(plan)
    text, rest = room.cut_right(ARROW)[1], room.cut_right(ARROW)[0]
    x = rest.right - 3.0
    up = words.text("stations.labels.up")
    marks: list[Mark] = [*arrow((x, rest.bottom + 1.0), (x, rest.top - 6.0), VISIBLE, 4.0),
                         Text((rest.right, rest.top - 4.0), up, BODY_BOLD, "right")]
    lines = [(text.bottom + n * 5.4, key) for n, key in enumerate(("place", "face", "hand"))]
    if part is None:
        for y, key in ((text.top - 9.0, "mark"), *reversed(lines)):
            name = words.text(f"stations.labels.blank.{key}")
            wide = kit.lettering.width(name, FINE) + 2.0
            marks += [Text((text.left, y), name, FINE), Line((text.left + wide, y - 0.5), (text.right - 2.0, y - 0.5), TABLE)]
        return tuple(marks)
    leaf, copy = part
    marks.append(_set(part_mark(leaf.mark, copy), (text.left, text.top - 9.0), text.width - 2.0, kit, TITLE, HEAD, NUMBER,
                      BODY_BOLD))
    whole = plan.assembly.by_mark[plan.owners[leaf.mark]]
    values = {"roof": leaf.kind is LeafKind.ROOF, "hand": leaf.hand, "door": whole.door, "has": known,
              "face": leaf.marked_face, "half": leaf.half, "layer": plan.pack.flats[whole.mark].layer}
    for y, key in lines:
        marks.append(_set(words.text(f"stations.labels.{key}", **values), (text.left, y), text.width, kit,
                          BODY_BOLD if key == "face" else BODY, FINE))
    return tuple(marks)


def _set(text: str, at: tuple[float, float], width: float, kit: Kit, *styles: Style) -> Text:
    """The text in the largest of the styles that fits. Raises LayoutError where none does."""
    for style in styles:
        if kit.lettering.width(text, style) <= width:
            return Text(at, text, style)
    raise LayoutError(f"label: {text!r} is wider than {math.floor(width)} mm; use larger paper")
