"""Hold points of the checklist: bordered blocks across the page with limits and boxes to sign."""

from __future__ import annotations

from packet.drawing.flow import Block, paragraph, stack, together
from packet.drawing.lettering import BODY_BOLD, NUMBER, Style
from packet.drawing.marks import Drawing, Mark, Point, Text, rectangle
from packet.drawing.pens import FRAME
from packet.drawing.symbols import TICK_SIZE, signature_box
from packet.sheets.checklist_blocks import (
    BETWEEN,
    CLOSE,
    GUTTER,
    SHARES,
    TIGHT,
    UNDER,
    Group,
    about,
    again,
    beside_gutter,
    gutter,
    instructions,
    points,
    reasons,
    seen,
)
from packet.sheets.kit import Kit

PAD = 2.0  # mm inside the border
BAND = 12.5  # mm, height of the black band
SIGNATURE = 11.0  # mm, height of a box to sign
APART = 2.0  # mm between boxes
READ = 0.42  # share of a pair of boxes that the readings take
_TOLD = BAND + 0.6  # mm from the top of the block to what is told
LEAST = 58.0  # mm for a pair of boxes with their labels
MOST = 0.45  # share of the page that a pair of boxes takes at most


def hold_block(group: Group, width: float, kit: Kit) -> Block:
    """What to do, the limits, and where the lead signs: for one task, or for several with the same limits.

    A black band with the name; under it what is told, and a row with boxes for each of several tasks. A single task has
    its tick and its boxes in the band.
    """
    told = min((_told(group, width - 2 * PAD, share, kit) for share in SHARES), key=lambda block: block.height)
    lowest = _block(group, width, told, kit)
    if not group.picture:
        return lowest
    return together(lowest.at, (lowest, group.picture.moved((PAD, -_TOLD - UNDER))), lowest.width, lowest.height)


def _block(group: Group, width: float, told: Block, kit: Kit) -> Block:
    single = len(group.entries) == 1
    first = group.entries[0]
    at = GUTTER + 3.0 if single else PAD + 1.0
    name, style = _named(group, width, at, single, kit)
    marks: list[Mark] = [
        rectangle((0.0, -BAND, width, 0.0), None, 0.0),
        Text((at, -(BAND + style.height) / 2), name, style, grey=1.0)]
    if single:
        margin = (BAND - TICK_SIZE) / 2
        marks += gutter(first, -margin, kit, margin)
        boxes = min(MOST * width, width - PAD - at - kit.lettering.width(name, style) - BETWEEN)
        marks += _boxes((width - boxes - (BAND - SIGNATURE) / 2, -(BAND + SIGNATURE) / 2), boxes, kit, first.words.signed)
    marks += told.marks
    y = told.bottom
    if not single:
        rows = _rows(group, width, y, kit)
        marks += rows.marks
        y = rows.bottom
    marks.append(rectangle((0.0, y - PAD, width, 0.0), FRAME))
    return Block(tuple(marks), (0.0, 0.0), width, PAD - y)


def _named(group: Group, width: float, at: float, single: bool, kit: Kit) -> tuple[str, Style]:
    """What stands in the band: as large as the boxes beside it allow, and without the count of sets if it must be."""
    words = group.entries[0].words
    head = kit.words.text("checklist.hold.heading")
    options = [(f"{head}  {name}", style) for name, style in (
        (words.name, NUMBER), (words.name, BODY_BOLD), (words.step, BODY_BOLD))]
    room = width - PAD - at - (LEAST + BETWEEN if single else 0.0)
    return next((each for each in options if kit.lettering.width(*each) <= room), options[-1])


def _told(group: Group, width: float, share: float, kit: Kit) -> Block:
    """Two columns under the band, beside the room of the picture: what it is about, what to do and
    why; the limits, unless told before."""
    first = group.entries[0]
    see = f"**{seen(first.task, kit)}**" if first.task.sheets else ""
    named = about(first) if len(group.entries) == 1 else ""
    head = "  ".join(part for part in (named, see, again(group, kit), first.words.signed) if part)
    at = (PAD, -_TOLD)
    if group.like is not None and group.like.words.limit == first.words.limit:
        return paragraph(at, width, head, CLOSE, kit.lettering)
    tall = 0.0
    if group.picture:
        at, width, tall = (PAD + GUTTER, at[1]), width - GUTTER, UNDER + group.picture.height
    left = share * (width - BETWEEN)
    right = width - BETWEEN - left
    why = reasons(group, kit)
    told = [paragraph((0.0, 0.0), left, text, CLOSE, kit.lettering) for text in (head, why)]
    do = stack(at, (told[0], *instructions(group, left, kit), *(told[1:] if why else ())), TIGHT, left)
    limit, *others = first.words.limit
    label = kit.words.text("checklist.hold.limits")
    limits = points((f"**{label}:** {limit}", *others), right, kit).moved((at[0] + left + BETWEEN, at[1]))
    return together(at, (do, limits), width, max(do.height, limits.height, tall))


def _rows(group: Group, width: float, top: float, kit: Kit) -> Block:
    """For each of several tasks its tick, what it is about, and its boxes."""
    y = top
    marks: list[Mark] = []
    boxes = MOST * width
    for entry in group.entries:
        y -= APART
        text = paragraph((0.0, 0.0), width - 2 * PAD - GUTTER - boxes - BETWEEN, about(entry), CLOSE, kit.lettering)
        drop = max(0.0, (SIGNATURE - max(text.height, TICK_SIZE)) / 2)
        row = beside_gutter(entry, text, y - drop, kit, PAD)
        marks += row.marks
        marks += _boxes((width - PAD - boxes, y - SIGNATURE), boxes, kit, entry.words.signed)
        y -= max(SIGNATURE, row.height)
    return Block(tuple(marks), (0.0, top), width, top - y)


def _boxes(at: Point, width: float, kit: Kit, signed: str) -> Drawing:
    """Boxes of a hold point; of one that is `signed` for each set elsewhere the lead signs here once all are."""
    return sign_boxes(at, width, kit, SIGNATURE, kit.words.text(f"checklist.hold.{'sign_all' if signed else 'sign'}"))


def sign_boxes(at: Point, width: float, kit: Kit, height: float, label: str) -> Drawing:
    """Readings and signature side by side, `at` their lower left."""
    read = READ * width
    return (*signature_box(at, read, kit.words.text("checklist.hold.read"), kit.lettering, height),
            *signature_box((at[0] + read + APART, at[1]), width - read - APART, label, kit.lettering, height))
