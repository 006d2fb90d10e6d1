"""Pages: the frame, the header and the title block that every sheet shares, and the finishing of a sheet.

The frame keeps a filing edge of 20 mm at the left and 10 mm elsewhere (ISO 5457). The title block holds the
fields of ISO 7200; the sheet's title and its station stand large in the header.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType

from packet.drawing import full_size
from packet.drawing.flow import FIRST_BASELINE, paragraph, wrap
from packet.drawing.lettering import BODY, FINE_BOLD, HEAD, NUMBER, Lettering
from packet.drawing.marks import Drawing, Line, Link, Rect, Text, Viewport, rectangle
from packet.drawing.page_code import SIDE, PageCode, code_text, page_code
from packet.drawing.pens import FRAME, RULE
from packet.drawing.room import LayoutError, Room
from packet.drawing.serial import canonical, serial_text
from packet.drawing.symbols import station_tag, station_tag_size
from packet.drawing.title_block import Field, block_height, title_block
from packet.units import System

FILING_EDGE = 20.0
EDGE = 10.0
HEADER_HEIGHT = 15.0
TITLE_LENGTH = 25  # ISO 7200
NUMBER_LENGTH = 5
KIND_LENGTH = 24
SUBJECT_LENGTH = 20

COPY = "Copy {copy} of serial {serial}"
_THEN = "Then"  # the field that names the sheet which follows
_CLEAR = 2.0  # mm between the rules and the content


@dataclass(frozen=True, slots=True)
class Paper:
    """A page lying on its long edge: width and height in mm, and its name."""

    width: float
    height: float
    name: str

    @staticmethod
    def landscape(short: float, long: float, name: str) -> Paper:
        """The page of a paper size, long edge down, whichever way its sides are given."""
        return Paper(max(short, long), min(short, long), name)


@dataclass(frozen=True, slots=True)
class Identity:
    """What every title block of a packet says (ISO 7200); an empty entry leaves a rule to write on. `name` gives the
    word of the packet's language for a field and for the station on a tag."""

    project: str
    owner: str = ""
    number: str = ""
    date: str = ""
    revision: str = "A"
    drawn_by: str = ""
    approved_by: str = ""
    replaces: str = "none"
    fingerprint: str = ""  # of the input
    name: Callable[[str], str] = str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet's content before it has a frame.

    number: up to 5 characters, such as `C-04`. title: up to 25. station: the word on the black tag. kind: the
    document type, up to 24 characters. subject: the parts on the sheet, up to 20 characters. subtitle: one or
    two lines of instruction beside the title. marks: inside the content room of the page. follows: the number of
    the sheet that is taken up next; empty on the last one.

    A full-size page has the frame of `packet.drawing.full_size` instead: `marks` stand inside its window and
    `clipped` ones are cut off at it, before the others are drawn.
    """

    number: str
    title: str
    station: str
    kind: str
    marks: Drawing
    subtitle: str = ""
    subject: str = ""
    scale_label: str = ""
    viewports: tuple[Viewport, ...] = ()
    links: tuple[Link, ...] = ()
    follows: str = ""
    full_size: bool = False
    clipped: Drawing = ()


@dataclass(frozen=True, slots=True)
class FinishedSheet:
    """A sheet ready to be written: everything on the page, with its serial. A full-size page has a `window`, and
    `clipped` marks that are drawn first and cut off at it; its margins have no room for a `code`. `tag` is the station's
    word in the packet's language, `copy` and `corrected` are what its margin says of a copy and of a corrected print, in which
    `point` stands before decimals."""

    number: str
    title: str
    station: str
    paper: Paper
    marks: Drawing
    serial: str
    fingerprint: str
    system: System
    viewports: tuple[Viewport, ...]
    links: tuple[Link, ...]
    window: Rect | None = None
    clipped: Drawing = ()
    code: PageCode | None = None
    tag: str = ""
    copy: str = COPY
    corrected: str = full_size.CORRECTED
    point: str = "."


def serial_of(sheet: Sheet) -> str:
    """The page serial: seven letters that depend on all that is drawn on the sheet, and on nothing else."""
    words = (
        sheet.number,
        sheet.title,
        sheet.subtitle,
        sheet.station,
        sheet.kind,
        sheet.subject,
        sheet.scale_label,
        sheet.follows,
    )
    return serial_text(canonical(words, (*sheet.clipped, *sheet.marks)))


def frame_rect(paper: Paper) -> Rect:
    """The frame: nothing is drawn outside it."""
    return (FILING_EDGE, EDGE, paper.width - EDGE, paper.height - EDGE)


def content_room(paper: Paper, identity: Identity, lettering: Lettering, system: System) -> Room:
    """The room left for content, the same on every sheet of a packet."""
    left, bottom, right, top = frame_rect(paper)
    footer = _foot_height(paper, identity, lettering, system)
    return Room(left, bottom + footer, right, top - HEADER_HEIGHT).inset(_CLEAR)


def finish(
    sheet: Sheet,
    identity: Identity,
    paper: Paper,
    lettering: Lettering,
    system: System,
    before: Sequence[str] = (),
) -> FinishedSheet:
    """The sheet with frame, header and title block; it does not say how many others there are, so that one
    sheet alone is drawn the same as in the whole packet. It replaces the latest other serial of those under which the
    sheet went out `before`; the serial itself does not depend on that.

    Raises LayoutError for a field longer than its place, GlyphError for a character the type lacks.
    """
    _check(sheet)
    serial = serial_of(sheet)
    identity = replace(identity, replaces=next((one for one in reversed(before) if one != serial), identity.replaces))
    if sheet.full_size:
        return FinishedSheet(
            sheet.number, sheet.title, sheet.station, paper,
            (*sheet.marks, *full_size.frame(sheet, identity, paper, serial, lettering, system)), serial,
            identity.fingerprint, system, sheet.viewports, sheet.links, full_size.window(paper).rect, sheet.clipped,
            tag=identity.name(sheet.station), copy=identity.name(COPY), corrected=identity.name(full_size.CORRECTED),
            point=_point(identity, system))
    left, bottom, right, top = frame_rect(paper)
    foot = bottom + _foot_height(paper, identity, lettering, system)
    band = Room(left, bottom, right, foot)
    block = title_block(_fields(sheet, identity, paper, serial, system), Room(left, bottom, right - SIDE, foot),
                        lettering, system)
    said = code_text(serial, sheet.number, identity.fingerprint, f"{identity.number} {identity.project}".strip())
    marks = (
        *sheet.marks,
        *_header(sheet, identity.name(sheet.station), Room(left, top - HEADER_HEIGHT, right, top), lettering),
        Line((left, top - HEADER_HEIGHT), (right, top - HEADER_HEIGHT), RULE),
        *block,
        Line((left, foot), (right, foot), RULE),
        rectangle((left, bottom, right, top), FRAME),
    )
    return FinishedSheet(
        sheet.number,
        sheet.title,
        sheet.station,
        paper,
        marks,
        serial,
        identity.fingerprint,
        system,
        sheet.viewports,
        (*sheet.links, *_link(block, sheet.follows, identity.name(_THEN), lettering)),
        code=page_code(said, band),
        tag=identity.name(sheet.station),
        copy=identity.name(COPY),
        corrected=identity.name(full_size.CORRECTED),
        point=_point(identity, system),
    )


def _point(identity: Identity, system: System) -> str:
    """What stands before decimals: the language's sign in a metric packet."""
    return identity.name(".") if system is System.METRIC else "."


def copy_note(sheet: FinishedSheet, copy: int) -> Drawing:
    """In the foot margin: which copy of its serial this is. It is no part of the drawing, nor of the serial."""
    said = sheet.copy.format(copy=copy, serial=sheet.serial)
    return (Text((sheet.paper.width - EDGE, EDGE / 2), said, FINE_BOLD, "right"),)


def finish_all(
    sheets: Iterable[Sheet], identity: Identity, paper: Paper, lettering: Lettering, system: System,
    issued: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> tuple[FinishedSheet, ...]:
    """Sheets finished in order; `issued` holds the serials under which they went out before."""
    return tuple(finish(sheet, identity, paper, lettering, system, issued.get(sheet.number, ())) for sheet in sheets)


def _check(sheet: Sheet) -> None:
    limits = (
        ("number", sheet.number, NUMBER_LENGTH),
        ("title", sheet.title, TITLE_LENGTH),
        ("kind", sheet.kind, KIND_LENGTH),
        ("subject", sheet.subject, SUBJECT_LENGTH),
    )
    for name, value, limit in limits:
        if len(value) > limit:
            raise LayoutError(f"sheet {sheet.number}: {name} {value!r} is longer than {limit} characters")


def _header(sheet: Sheet, station: str, band: Room, lettering: Lettering) -> Drawing:
    """Title at the left, subtitle beside it in one or two lines, station tag at the right. A title gives way to a
    subtitle that would not fit otherwise, by a size."""
    tag_width, tag_height = station_tag_size(station, lettering, HEAD)
    inset = (band.height - tag_height) / 2
    middle = (band.bottom + band.top) / 2
    tag = station_tag((band.right - inset, band.top - inset), station, lettering, HEAD)
    for style in (HEAD, NUMBER):
        title = Text((band.left + 4, middle - style.height / 2), sheet.title, style)
        if not sheet.subtitle:
            return (title, *tag)
        start = band.left + 4 + lettering.width(sheet.title, style) + 8
        room = band.right - inset - tag_width - 5 - start
        lines = wrap(sheet.subtitle, room, BODY, lettering) if room > 20 else ()
        if 1 <= len(lines) <= 2:
            break
    else:
        raise LayoutError(
            f"sheet {sheet.number}: the subtitle {sheet.subtitle!r} does not fit two lines of {room:.0f} mm; "
            "shorten it"
        )
    tall = BODY.height + (len(lines) - 1) * BODY.leading
    top = middle + tall / 2 + (FIRST_BASELINE - 1) * BODY.height
    return (title, *tag, *paragraph((start, top), room, sheet.subtitle, BODY, lettering).marks)


def _fields(sheet: Sheet, identity: Identity, paper: Paper, serial: str, system: System) -> tuple[Field, ...]:
    name = identity.name
    unit = name("inches") if system == "in" else "mm"
    return (
        (name("Project"), identity.project),
        (name("Sheet"), sheet.number),
        (name(_THEN), sheet.follows or name("done")),
        (name("Rev"), identity.revision or "-"),
        (name("Page"), serial),
        (name("Replaces"), _or_none(identity.replaces, name)),
        (name("Part"), sheet.subject or name("all")),
        (name("Scale"), _or_none(sheet.scale_label.removeprefix("SCALE "), name)),
        (name("Paper"), f"{paper.name}, {unit}"),
        (name("Input"), identity.fingerprint or "-"),
        (name("Type"), sheet.kind),
        (name("Owner"), identity.owner),
        (name("No."), identity.number),
        (name("Date"), identity.date),
        (name("Drawn"), identity.drawn_by),
        (name("Approved"), identity.approved_by),
    )


def _or_none(value: str, name: Callable[[str], str]) -> str:
    return name("none") if value in ("", "none") else value


def _link(block: Drawing, follows: str, then: str, lettering: Lettering) -> tuple[Link, ...]:
    """From the field that names the following sheet to that sheet."""
    if not follows:
        return ()
    texts = [mark for mark in block if isinstance(mark, Text)]
    value = next(after for name, after in pairwise(texts) if name.string == then)
    x, y = value.at
    return (Link((x - 1.0, y - 1.0, x + lettering.width(follows, value.style) + 1.0, y + value.style.height + 1.0),
                 follows),)


@lru_cache(maxsize=8)  # it is the same on every sheet that replaces a serial as long
def _foot_height(paper: Paper, identity: Identity, lettering: Lettering, system: System) -> float:
    """Height for the longest fields a sheet may have, so that all sheets of a packet have the same room."""
    widest = Sheet(
        number="M-88",
        title="",
        station="",
        kind="n" * KIND_LENGTH,
        marks=(),
        subject="B" * SUBJECT_LENGTH,
        follows="M-88",
        scale_label='SCALE 1-1/2" = 1\'-0"' if system == "in" else "SCALE 1:1000",
    )
    serial = "MMM-MMMM"
    longest = max(serial, identity.replaces, key=lambda text: lettering.width(text, FINE_BOLD))
    fields = _fields(widest, replace(identity, replaces=longest), paper, serial, system)
    left, _, right, _ = frame_rect(paper)
    return max(block_height(fields, right - left - SIDE, lettering), SIDE)
