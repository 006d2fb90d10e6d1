"""Third page of the cover: every input, and which of them are assumed; then what the lead should know."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from enum import StrEnum

from packet.assembly.free import SIDES
from packet.description.problems import Problem
from packet.description.resolved import Free
from packet.drawing.flow import Block, bullets
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, NUMBER, Style
from packet.drawing.marks import Line, Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.plan import Plan
from packet.sheets.columns import Make, in_columns, roomiest
from packet.sheets.crew_inputs import crew_values
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.sheets.site_inputs import site_values
from packet.units import INCH, POUND_PER_CUBIC_FOOT, Format, System
from packet.work.stations import Station

ROW = 5.4  # mm
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
        told = [_told(found, kit) for found in plan.findings]
        said = roomiest(lambda style: [_finding(text, kit, style) for text in told], kit.room, 1, 3.0, 0.0)
        pages += [("findings", with_notes(kit, marks)) for marks in said]
    return tuple(
        Sheet(number="", title=words.text(f"cover.{key}.title"), station=Station.L.word,
              kind=words.text(f"cover.{key}.kind"), subtitle=words.text(f"cover.{key}.subtitle"), marks=marks)
        for key, marks in pages)


def _finding(text: str, kit: Kit, style: Style) -> Make:
    return lambda width: bullets((0.0, 0.0), width, (text,), style, kit.lettering)


def _told(found: Problem, kit: Kit) -> str:
    """A warning in the packet's language."""
    message, value, limit, remedy = (
        kit.words.text(f"cover.findings.{found.term}.{part}", unit=kit.form.unit, **dict(found.values))
        for part in ("message", "value", "limit", "remedy"))
    return kit.words.text("cover.findings.line", message=_sentence(message), value=value, limit=limit,
                          remedy=_sentence(remedy))


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
            named = BODY if lettering.width(name, BODY) < 0.7 * (width - STAR) else FINE
            room = width - STAR - lettering.width(name, named) - 3.0
            style = next((style for style in (BODY_BOLD, BODY) if lettering.width(value, style) <= room), FINE)
            marks += [Text((0.0, base), name, named), Text((width - STAR, base), value, style, "right"),
                      Line((0.0, y - ROW), (width, y - ROW), TABLE)]
            if assumed:
                marks.append(Text((width, base), "*", BODY_BOLD, "right"))
            y -= ROW
        # The tail of a letter reaches a little below the last rule.
        return Block(tuple(marks), (0.0, 0.0), width, 0.2 - y)

    return make


def _groups(plan: Plan, kit: Kit) -> Iterator[tuple[str, _Rows]]:
    """Headings with their rows; a group that the project does not have is left out."""
    words, assumed = kit.words, set(plan.description.assumed)
    names = words.entry("cover.inputs.names")
    values, listed = input_values(plan, kit), listed_values(plan, kit)
    for group, title in words.entry("cover.inputs.groups").items():
        rows = [(names[key], value, key in assumed) for key, value in values.items()
                if key.partition(".")[0] == group]
        rows += [(name, value, False) for name, value in listed.get(group, ())]
        if rows:
            yield title, rows


def listed_values(plan: Plan, kit: Kit) -> dict[str, list[tuple[str, str]]]:
    """What the project file lists one by one, by group: its leaves, seams and openings, each with its sizes."""
    words, form, shape = kit.words, kit.form, plan.description.shape
    found: list[tuple[str, str]] = []
    for leaf in shape.leaves if isinstance(shape, Free) else ():
        xs, ys = zip(*leaf.outline, strict=True)
        size = {"count": len(leaf.outline), "width": max(xs) - min(xs), "height": max(ys) - min(ys)}
        found.append((words.text("cover.inputs.leaf", mark=leaf.mark),
                      form.size(size["width"], size["height"]) if leaf.edges == SIDES
                      else words.text("cover.inputs.corners", **size)))
    for seam in shape.seams if isinstance(shape, Free) else ():
        mark = "/".join(f"{leaf}.{words.name(edge)}" for leaf, edge in (seam.first, seam.second))
        found.append((words.text("cover.inputs.seam", mark=mark),
                      words.text("cover.inputs.seam_value", open=seam.open, closing=str(seam.closing),
                                 packed=str(seam.packed), bonded=seam.bonded)))
    cut = [(words.text("cover.inputs.opening", leaf=opening.leaf, kind=str(opening.kind)),
            words.text("cover.inputs.opening_value", round=opening.round, width=opening.width, height=opening.height,
                       across=opening.across, up=opening.up)) for opening in plan.description.openings]
    return {"shelter": found, "openings": cut}


def _shape_values(plan: Plan, kit: Kit) -> dict[str, str]:
    """The single values of the shape, whatever shape it is: lengths, counts, angles, words."""
    form, words = kit.form, kit.words
    found: dict[str, str] = {}
    for entry in fields(plan.description.shape):
        value = getattr(plan.description.shape, entry.name)
        if entry.name == "preset" or isinstance(value, tuple):
            continue
        if isinstance(value, bool):
            text = words.text(f"cover.inputs.is_{'yes' if value else 'no'}")
        elif isinstance(value, float):
            text = form.angle(value) if entry.name.endswith("angle") else form.length_unit(value)
        else:
            text = words.name(value) if isinstance(value, StrEnum) else str(value)
        found[f"shelter.{entry.name}"] = text
    return found


def input_values(plan: Plan, kit: Kit) -> dict[str, str]:
    """Every single value the packet rests on, by its key in the project file, written in the packet's units."""
    given, form, words = plan.description, kit.form, kit.words
    boards, tape, foil, doors = given.boards, given.tape, given.foil, given.doors

    def measures(lengths: tuple[float, ...]) -> str:
        return f"{', '.join(form.length(mm) for mm in lengths)} {form.unit}"

    def exact(mm: float) -> str:
        return f"{form.decimal(mm)} mm" if form.system is System.METRIC else form.length_both(mm)

    swing = {} if doors is None else {
        "doors.hand": words.name(doors.hand), "doors.second": words.name(doors.second),
        **{f"doors.{name}": form.length_unit(getattr(doors, name))
           for name in ("bottom_trim", "latch_below_head", "latch_from_free_edge")},
        "doors.latch_hole": exact(doors.latch_hole),
    }
    return {
        **_shape_values(plan, kit),
        **({"shelter.duct": form.length_unit(given.duct)} if given.duct is not None else {}),
        **swing,
        "boards.size": form.size(boards.breadth, boards.length), "boards.thickness": form.length_unit(boards.thickness),
        "boards.printed_face": words.name(boards.printed_face), "boards.tool": words.name(boards.tool),
        "boards.kerf": form.length_unit(boards.kerf), "boards.edge_trim": form.length_unit(boards.edge_trim),
        "boards.splice": words.text(f"cover.inputs.is_{'yes' if boards.splice else 'no'}"),
        **({"boards.quantity": str(given.quantity)} if given.quantity > 1 else {}),
        "boards.spare": str(boards.spare), "boards.measured": str(len(boards.measured)),
        "boards.also": ", ".join(form.size(*size) for size in boards.sizes[1:]) or words.text("cover.inputs.is_no"),
        "boards.alternates": str(len(boards.alternates)),
        "tape.land": form.length_unit(tape.land), "tape.stock": measures(tape.stock),
        "tape.sill_land": form.length_unit(tape.sill_land),
        "tape.combine": words.text(f"cover.inputs.is_{'yes' if tape.combine else 'no'}"),
        "tape.roll": form.feet(tape.roll), "tape.allowance": f"{form.plain(tape.allowance)} %",
        "tape.join": form.length_unit(tape.join),
        "foil.stock": measures(foil.stock), "foil.margin": form.length_unit(foil.margin),
        "foil.overlap": form.length_unit(foil.overlap), "foil.roll": form.feet(foil.roll),
        **{f"limits.{name}": form.length_unit(getattr(given.limits, name))
           for name in ("board_spread", "thickness_spread", "mark", "cut", "diagonal")},
        **({"limits.steep": form.plain(given.limits.steep)} if plan.ring else {}),
        "assume.density": _density(given.assume.density, form),
        **{f"assume.{name}": thin(form, getattr(given.assume, name)) for name in ("tape_thickness", "foil_thickness")},
        "assume.hinge_bulk": form.length_unit(plan.bulk.most),
        **site_values(plan, kit),
        **crew_values(plan, kit),
        **{f"repair.{name}": form.length_unit(getattr(given.repair, name)) for name in ("free_gap", "packer", "least_packer")},
        "repair.glue_hold": form.plain(given.repair.glue_hold),
    }


def thin(form: Format, mm: float) -> str:
    """The thickness of tape, finer than any length that is measured at the bench."""
    return f"{form.fixed(mm, 2)} mm" if form.system is System.METRIC else f"{form.fixed(mm / INCH, 3)} in"


def _density(density: float, form: Format) -> str:
    if form.system is System.METRIC:
        return f"{form.fixed(density, 0)} kg/m³"
    return f"{form.fixed(density / POUND_PER_CUBIC_FOOT, 1)} lb/cu ft"
