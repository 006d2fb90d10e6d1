"""Third page of the cover: every input, and which of them are assumed; then what the lead should know."""

from __future__ import annotations

from collections.abc import Iterator

from packet.drawing.flow import Block, bullets
from packet.drawing.lettering import BODY, BODY_BOLD, NUMBER
from packet.drawing.marks import Line, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.plan import Plan
from packet.sheets.columns import Make, in_columns
from packet.sheets.kit import Kit
from packet.units import POUND_PER_CUBIC_FOOT, System, fixed
from packet.work.stations import Station

ROW = 6.3  # mm
COLUMNS = 2
BETWEEN = 10.0
STAR = 4.0  # mm kept at the right for the mark of an assumed value


def input_pages(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The inputs, and a page of findings where there are any; sheets without a number, which the cover gives."""
    words = kit.words
    groups = in_columns([_group(title, rows, kit) for title, rows in _groups(plan, kit)], kit.room, COLUMNS, 3.0,
                        BETWEEN)
    pages = [("inputs", marks) for marks in groups]
    if plan.findings:
        said = [_finding(words.text("cover.findings.line", message=_sentence(found.message), value=found.value,
                                    limit=found.limit, remedy=_sentence(found.remedy)), kit)
                for found in plan.findings]
        pages += [("findings", marks) for marks in in_columns(said, kit.room, 1, 3.0, 0.0)]
    return tuple(
        Sheet(number="", title=words.text(f"cover.{key}.title"), station=Station.L.word,
              kind=words.text(f"cover.{key}.kind"), subtitle=words.text(f"cover.{key}.subtitle"), marks=marks)
        for key, marks in pages)


def _finding(text: str, kit: Kit) -> Make:
    return lambda width: bullets((0.0, 0.0), width, (text,), BODY, kit.lettering)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].removesuffix('.')}"


_Rows = list[tuple[str, str, bool]]


def _group(title: str, rows: _Rows, kit: Kit) -> Make:
    """A heading and its values, an assumed one with a star."""
    lettering = kit.lettering

    def make(width: float) -> Block:
        marks: list[Mark] = [Text((0.0, -1.3 * NUMBER.height), title, NUMBER)]
        y = -1.3 * NUMBER.height - 2.0
        for name, value, assumed in rows:
            base = y - (ROW + BODY.height) / 2
            room = width - STAR - lettering.width(name, BODY) - 3.0
            style = BODY_BOLD if lettering.width(value, BODY_BOLD) <= room else BODY
            marks += [Text((0.0, base), name, BODY), Text((width - STAR, base), value, style, "right"),
                      Line((0.0, y - ROW), (width, y - ROW), TABLE)]
            if assumed:
                marks.append(Text((width, base), "*", BODY_BOLD, "right"))
            y -= ROW
        return Block(tuple(marks), (0.0, 0.0), width, -y)

    return make


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

    return {
        "shelter.walls": str(given.shape.walls),
        **{f"shelter.{name}": form.length_unit(getattr(given.shape, name))
           for name in ("leaf_width", "wall_height", "slant", "tip_trim")},
        **({"shelter.duct": form.length_unit(given.duct)} if given.duct is not None else {}),
        "doors.hand": str(doors.hand),
        **{f"doors.{name}": form.length_unit(getattr(doors, name))
           for name in ("bottom_trim", "latch_below_head", "latch_from_free_edge")},
        "doors.latch_hole": exact(doors.latch_hole),
        "boards.size": form.size(boards.breadth, boards.length), "boards.thickness": form.length_unit(boards.thickness),
        "boards.printed_face": str(boards.printed_face), "boards.tool": str(boards.tool),
        "boards.kerf": form.length_unit(boards.kerf), "boards.edge_trim": form.length_unit(boards.edge_trim),
        "boards.spare": str(boards.spare), "boards.measured": str(len(boards.measured)),
        "tape.land": form.length_unit(tape.land), "tape.stock": measures(tape.stock),
        "tape.sill_land": form.length_unit(tape.sill_land),
        "tape.combine": words.text(f"cover.inputs.is_{'yes' if tape.combine else 'no'}"),
        "tape.roll": form.feet(tape.roll), "tape.allowance": f"{tape.allowance:g} %",
        "foil.stock": measures(foil.stock), "foil.margin": form.length_unit(foil.margin),
        "foil.overlap": form.length_unit(foil.overlap), "foil.roll": form.feet(foil.roll),
        **{f"limits.{name}": form.length_unit(getattr(given.limits, name))
           for name in ("board_spread", "mark", "cut", "diagonal")},
        "assume.density": _density(given.assume.density, form.system),
        "assume.hinge_bulk": form.length_unit(given.assume.hinge_bulk),
    }


def _density(density: float, system: System) -> str:
    if system is System.METRIC:
        return f"{fixed(density, 0)} kg/m3"
    return f"{fixed(density / POUND_PER_CUBIC_FOOT, 1)} lb/cu ft"
