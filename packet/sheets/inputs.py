"""Second page of the cover: every input, which of them are assumed, and the bars that check the print."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import check_bar
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.numbers import sheet_number
from packet.units import INCH, POUND_PER_CUBIC_FOOT, System, fixed
from packet.work.stations import Station

BARS = {System.INCH: ((6 * INCH, 6), (100.0, 10)), System.METRIC: ((100.0, 10), (150.0, 15))}
"""Length in mm and divisions of the two bars on either axis, by unit system."""

OFF = 1.5
"""Percent a bar may be off; more, and the page was printed to fit (common practice, no source)."""

ROW = 4.7
COLUMNS = 3
EDGE = 12.0  # mm for an upright bar with its label


def inputs_sheet(plan: Plan, kit: Kit) -> Sheet:
    """Raises LayoutError where the inputs do not fit between the bars."""
    words = kit.words
    upright, rest = kit.room.cut_left(2 * EDGE + 2.0, gap=4.0)
    bars = _bars(upright, kit)
    advice = _advice(plan, kit, rest.width)
    foot, table = rest.cut_bottom(advice.height + 2.0, gap=3.0)
    return Sheet(
        number=sheet_number("cover", 2), title=words.text("cover.inputs.title"), station=Station.L.word,
        kind=words.text("cover.inputs.kind"), subtitle=words.text("cover.inputs.subtitle"),
        marks=(*bars, *advice.moved(foot.top_left).marks, *_table(plan, kit, table)))


def _bars(room: Room, kit: Kit) -> Drawing:
    """Two upright bars side by side at the left; the level ones stand with the advice."""
    marks: list[Mark] = []
    for index, (length, divisions) in enumerate(BARS[kit.system]):
        at = (room.left + EDGE * (index + 1) - 3.0, room.top - length - 1.0)
        marks += check_bar(at, length, _name(kit, length), kit.lettering, "vertical", divisions)
    return tuple(marks)


def _advice(plan: Plan, kit: Kit, width: float) -> Block:
    """The level bars one over the other, beside them what to do with what is measured."""
    del plan
    words, lettering = kit.words, kit.lettering
    bars = BARS[kit.system]
    longest = max(length for length, _ in bars)
    level: list[Mark] = []
    y = -7.0
    for length, divisions in bars:
        level += check_bar((2.0, y), length, _name(kit, length), lettering, "horizontal", divisions)
        y -= 12.0
    beside = width - longest - 10.0
    names = [_name(kit, length) for length, _ in bars]
    limits = [words.text("cover.bars.limits", name=_name(kit, length), low=_bound(kit, length, -OFF),
                         high=_bound(kit, length, OFF)) for length, _ in bars]
    said = words.texts("cover.bars.do", names=names, limits=limits, percent=f"{OFF:g}")
    text = stack((longest + 10.0, 0.0), (
        paragraph((0.0, 0.0), beside, words.text("cover.bars.title"), BODY_BOLD, lettering),
        bullets((0.0, 0.0), beside, said, BODY, lettering, 0.7)), 0.5, beside)
    below = stack((0.0, y + 6.0), (
        paragraph((0.0, 0.0), longest + 4.0, words.text("cover.bars.read"), BODY, lettering),), 0.0)
    return Block((*level, *text.marks, *below.marks), (0.0, 0.0), width, max(text.height, -below.bottom))


def _name(kit: Kit, length: float) -> str:
    """A bar is named in its own unit: an inch packet has one of 100 mm as well."""
    if kit.system is System.INCH and abs(length / INCH - round(length / INCH)) < 1e-9:
        return f"{length / INCH:.0f} in"
    return f"{length:.0f} mm"


def _bound(kit: Kit, length: float, percent: float) -> str:
    bound = length * (1 + percent / 100)
    return fixed(bound / INCH, 2) if _name(kit, length).endswith("in") else fixed(bound, 1)


def _table(plan: Plan, kit: Kit, room: Room) -> Drawing:
    """Groups of inputs down the columns; a group is never parted."""
    columns = room.columns(*(1.0,) * COLUMNS, gap=6.0)
    marks: list[Mark] = []
    place, y = 0, room.top
    for group, rows in _groups(plan, kit):
        height = (len(rows) + 1) * ROW
        if y - height < room.bottom - 1e-6 and y < room.top:
            place, y = place + 1, room.top
        if place == COLUMNS or y - height < room.bottom - 1e-6:
            raise LayoutError("the inputs do not fit one page; use larger paper")
        column = columns[place]
        marks.append(Text((column.left, y - (ROW + FINE.height) / 2), group, FINE_BOLD))
        for index, (name, value, assumed) in enumerate(rows, 1):
            base = y - index * ROW - (ROW + FINE.height) / 2
            marks += [
                Text((column.left, base), name, FINE),
                Text((column.right - 3.0, base), value, FINE_BOLD, "right"),
                Line((column.left, y - (index + 1) * ROW), (column.right, y - (index + 1) * ROW), TABLE),
            ]
            if assumed:
                marks.append(Text((column.right, base), "*", FINE_BOLD, "right"))
        y -= height + 2.5
    return tuple(marks)


_Rows = list[tuple[str, str, bool]]


def _groups(plan: Plan, kit: Kit) -> Iterator[tuple[str, _Rows]]:
    words, assumed = kit.words, set(plan.description.assumed)
    names = words.entry("cover.inputs.names")
    values = input_values(plan, kit)
    for group, title in words.entry("cover.inputs.groups").items():
        yield title, [(names[key], value, key in assumed) for key, value in values.items()
                      if key.partition(".")[0] == group]


def input_values(plan: Plan, kit: Kit) -> dict[str, str]:
    """Every value the packet rests on, by its key in the project file, written in the packet's units."""
    given, form, words = plan.description, kit.form, kit.words
    boards, tape, foil, doors = given.boards, given.tape, given.foil, given.doors

    def measures(lengths: tuple[float, ...]) -> str:
        return f"{', '.join(form.length(mm) for mm in lengths)} {form.unit}"

    def exact(mm: float) -> str:
        return f"{form.decimal(mm)} mm" if form.system is System.METRIC else form.length_both(mm)

    yes_no: dict[bool, str] = {flag: words.text(f"cover.inputs.{word}") for flag, word in ((True, "yes"), (False, "no"))}
    values: dict[str, Any] = {
        "shelter.walls": str(given.ring.walls),
        **{f"shelter.{name}": form.length_unit(getattr(given.ring, name))
           for name in ("leaf_width", "wall_height", "slant", "tip_trim")},
        "doors.hand": str(doors.hand),
        **{f"doors.{name}": form.length_unit(getattr(doors, name))
           for name in ("bottom_trim", "latch_below_head", "latch_from_free_edge")},
        "doors.latch_hole": exact(doors.latch_hole),
        "boards.size": form.size(boards.breadth, boards.length), "boards.thickness": form.length_unit(boards.thickness),
        "boards.printed_face": str(boards.printed_face), "boards.tool": str(boards.tool),
        "boards.kerf": form.length_unit(boards.kerf), "boards.edge_trim": form.length_unit(boards.edge_trim),
        "boards.spare": str(boards.spare), "boards.measured": str(len(boards.measured)),
        "tape.land": form.length_unit(tape.land), "tape.stock": measures(tape.stock),
        "tape.sill_land": form.length_unit(tape.sill_land), "tape.combine": yes_no[tape.combine],
        "tape.roll": form.feet(tape.roll), "tape.allowance": f"{tape.allowance:g} %",
        "foil.stock": measures(foil.stock), "foil.margin": form.length_unit(foil.margin),
        "foil.overlap": form.length_unit(foil.overlap), "foil.roll": form.feet(foil.roll),
        **{f"limits.{name}": form.length_unit(getattr(given.limits, name))
           for name in ("board_spread", "mark", "cut", "diagonal")},
        "assume.density": _density(given.assume.density, form.system),
        "assume.hinge_bulk": form.length_unit(given.assume.hinge_bulk),
    }
    return values


def _density(density: float, system: System) -> str:
    if system is System.METRIC:
        return f"{fixed(density, 0)} kg/m3"
    return f"{fixed(density / POUND_PER_CUBIC_FOOT, 1)} lb/cu ft"
