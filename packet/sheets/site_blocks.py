"""Blocks that the sheets of the site share: large figures, what they rest on, and what they are not."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, HEAD, LARGE, NUMBER, POSTER, Style
from packet.drawing.marks import Mark, Text, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import FRAME, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.table import Cell, Column, table
from packet.plan import Plan
from packet.sheets.inputs import input_values
from packet.sheets.kit import Kit
from packet.work.sheet_numbers import sheet_number

PAD = 2.5
GAP = 0.7
Marks = tuple[Mark, ...]


def figure_panel(kit: Kit, width: float, label: str, figure: str, note: str) -> Block:
    """A framed panel: what it is, the figure as large as the panel allows, and what it means."""
    lettering = kit.lettering
    style = next((each for each in (POSTER, HEAD, NUMBER) if lettering.width(figure, each) <= width - 2 * PAD), BODY)
    head = paragraph((PAD, -2.0), width - 2 * PAD, f"**{label}**", BODY, lettering)
    base = head.bottom - 2.5 - style.height
    foot = paragraph((PAD, base - 2.0 - 0.35 * style.height), width - 2 * PAD, note, BODY, lettering)
    marks = (*head.marks, Text((PAD, base), figure, style), *foot.marks,
             rectangle((0.0, foot.bottom - 2.0, width, 0.0), VISIBLE))
    return Block(marks, (0.0, 0.0), width, 2.0 - foot.bottom)


def boxed(kit: Kit, width: float, title: str, lines: Sequence[str], style: Style = BODY) -> Block:
    """A bordered box of a heading and bullets."""
    inner = width - 2 * PAD
    body = stack((PAD, -1.5), (
        paragraph((0.0, 0.0), inner, title, NUMBER, kit.lettering),
        bullets((0.0, 0.0), inner, lines, style, kit.lettering, GAP)), GAP, inner)
    return Block((rectangle((0.0, body.bottom - 2.0, width, 0.0), FRAME), *body.marks), (0.0, 0.0), width,
                 2.0 - body.bottom)


def headed(kit: Kit, width: float, title: str, lines: Sequence[str], style: Style = BODY) -> Block:
    """A heading over bullets."""
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, title, NUMBER, kit.lettering),
        bullets((0.0, 0.0), width, lines, style, kit.lettering, GAP)), 1.0, width)


def approval(kit: Kit, width: float, style: Style = BODY) -> Block:
    """What these figures are not."""
    lines = kit.words.texts("site.approval.lines")
    return boxed(kit, width, kit.words.text("site.approval.title"), lines, style)


def assumptions(plan: Plan, kit: Kit, width: float, *keys: str, style: Style = BODY) -> Block:
    """What the figures of a sheet rest on; a star where the project file does not give it."""
    names, values = kit.words.entry("cover.inputs.names"), input_values(plan, kit)
    rows: list[list[Cell]] = [[names[key], values[key], "*" if key in plan.description.assumed else ""] for key in keys]
    strong = Style(style.height, True)
    star = 0.06 * width
    # A value and its unit stay on one line where the names leave them room.
    value = min(max(kit.lettering.width(said, strong) for said in (values[key] for key in keys)) + 2 * PAD, 0.5 * width)
    name = width - value - star
    columns = [Column(name, style=style), Column(value, "right", strong), Column(star, "right", strong)]
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, kit.words.text("site.assumed.title"), NUMBER, kit.lettering),
        table((0.0, 0.0), columns, rows, None, kit.lettering, 7.0),
        paragraph((0.0, 0.0), width, kit.words.text("site.assumed.note"), style, kit.lettering)), 1.5, width)


def rests_on(plan: Plan, kit: Kit, width: float, *keys: str, style: Style = BODY) -> Block:
    """The same in one paragraph, where few values count."""
    names, values = kit.words.entry("cover.inputs.names"), input_values(plan, kit)
    listed = [f"{names[key]} {values[key]}{' *' if key in plan.description.assumed else ''}" for key in keys]
    return paragraph((0.0, 0.0), width, kit.words.text("site.assumed.line", listed=listed), style, kit.lettering)


def column(room: Room, blocks: Sequence[Block], gap: float = 4.0) -> tuple[Mark, ...]:
    """The blocks one below another in a room. Raises LayoutError where they are too tall."""
    hung = stack(room.top_left, blocks, gap)
    if hung.bottom < room.bottom - 1e-6:
        raise LayoutError(f"a column of words is {hung.height:.0f} mm high, the page has {room.height:.0f} mm; "
                          "use larger paper")
    return hung.marks


def roomy(drawn: Callable[[Style], Marks]) -> Marks:
    """What is drawn in the largest lettering that its room takes. Raises LayoutError where none does."""
    for style in (LARGE, BODY):
        try:
            return drawn(style)
        except LayoutError:
            if style is BODY:
                raise
    raise AssertionError("there is a smallest lettering")


def sheet(kit: Kit, name: str, key: str, station: str, marks: Sequence[Mark], page: int = 1, subject: str = "") -> Sheet:
    """A sheet named by `key` in the words."""
    words = kit.words
    return Sheet(number=sheet_number(name, page), title=words.text(f"{key}.title"), station=station,
                 kind=words.text(f"{key}.kind"), marks=tuple(marks), subtitle=words.text(f"{key}.subtitle"),
                 subject=subject)
