"""Lift and carry: what everything weighs, how many people lift it, and whether it passes the door."""

from __future__ import annotations

from collections.abc import Iterator

from packet.assembly.records import Leaf
from packet.drawing.flow import Block
from packet.drawing.lettering import BODY, NUMBER, Style
from packet.drawing.marks import Mark
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError, Room
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.site_blocks import assumptions, boxed, column, headed, roomy, sheet
from packet.site.lifting import limit, people
from packet.site.masses import LeafMass, leaf_masses, packed_centre, total
from packet.site.transport import Way, carried, passes
from packet.work.stations import Station

KEYS = ("lift.reach", "lift.height", "lift.travel", "lift.turn", "lift.per_minute", "lift.hours", "lift.grip",
        "assume.density", "site.strapping_mass", "site.foil_mass", "transport.openings")

_ROW = 8.0
GAP = 5.0

_WAY = 12.0
"""mm of a row for an opening on the way."""

_LISTED = 4
"""Marks of like leaves that are written out; more are counted."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """What to lift and carry, then what it rests on; more pages where there are many kinds of leaves."""
    sheets: list[Sheet] = []
    balance, openings = True, plan.description.transport.openings
    left, right = kit.room.columns(0.5, 0.5, gap=8.0)
    rows = list(_masses(plan, kit))
    while rows or not sheets:
        block, rows = _mass_table(kit, left, rows)
        beside = () if sheets else (_lift(plan, kit, right.width), _passing(plan, kit, right.width))
        centre = _balance(plan, kit, left.width)
        under = (centre,) if not rows and not openings and block.height + GAP + centre.height <= left.height else ()
        balance = not under and not openings
        sheets.append(sheet(kit, "carry", "carry.page", Station.P.word,
                            (*column(left, (block, *under), GAP), *column(right, beside)), len(sheets) + 1))
    words, listed = kit.room.columns(0.42, 0.58, gap=9.0)
    told = kit.words.texts("carry.how.lines", limit=limit(plan.description.lift, kit.system))
    rests = roomy(lambda style: (
        *column(words, (headed(kit, words.width, kit.words.text("carry.how.title"), told, style),
                        *((_balance(plan, kit, words.width, style),) if balance else ()))),
        *column(listed, (assumptions(plan, kit, listed.width, *KEYS, style=style),))))
    sheets.append(sheet(kit, "carry", "carry.rests", Station.P.word, rests, len(sheets) + 1))
    if openings:
        sheets.append(sheet(kit, "carry", "carry.way", Station.P.word, _on_the_way(plan, kit), len(sheets) + 1))
    return tuple(sheets)


def _mass_table(kit: Kit, room: Room, rows: list[list[Cell]]) -> tuple[Block, list[list[Cell]]]:
    what, mass, hands = spread(room.width, 58, 34, 24)
    columns = [Column(what), Column(mass, "right", NUMBER), Column(hands, "centre", NUMBER)]
    header = kit.words.texts("carry.header")
    count = fit(columns, rows, header, room.height, kit.lettering, _ROW)
    if not count:
        raise LayoutError(f"the table of masses does not fit {kit.paper.name}; use larger paper")
    return table((0.0, 0.0), columns, rows[:count], header, kit.lettering, _ROW), rows[count:]


def _masses(plan: Plan, kit: Kit) -> Iterator[list[Cell]]:
    """Board and boards as bought, each kind of leaf, each half, the whole."""
    words, density = kit.words, plan.description.assume.density
    for load in carried(plan)[:2]:
        mass = load.box[0] * load.box[1] * load.box[2] * 1e-9 * density
        yield _row(plan, kit, words.text(f"carry.what.{load.key}"), mass)
    masses = leaf_masses(plan)
    by_mark = dict(zip(plan.assembly.by_mark, masses, strict=True))
    for leaves in _alike(plan, by_mark):
        heaviest = max(by_mark[leaf.mark].mass for leaf in leaves)
        marks = [leaf.mark for leaf in leaves]
        yield _row(plan, kit, words.text("carry.what.leaf", kind=str(leaves[0].kind), door=leaves[0].door, marks=marks,
                                         few=len(marks) <= _LISTED, ring=plan.ring is not None), heaviest)
    if len(plan.assembly.halves) > 1:
        for half in plan.assembly.halves:
            mass, _ = total(by_mark[leaf.mark] for leaf in plan.assembly.leaves if leaf.half == half)
            yield _row(plan, kit, words.text("carry.what.half", half=half), mass)
    yield _row(plan, kit, f"**{words.text('carry.what.pack')}**", total(masses)[0])


def _alike(plan: Plan, masses: dict[str, LeafMass]) -> list[list[Leaf]]:
    """Leaves of one kind and, to a tenth of a kilogram, of one board mass."""
    groups: dict[tuple[object, ...], list[Leaf]] = {}
    for leaf in plan.assembly.leaves:
        groups.setdefault((leaf.kind, leaf.door, round(masses[leaf.mark].board, 1)), []).append(leaf)
    return list(groups.values())


def _row(plan: Plan, kit: Kit, what: str, mass: float) -> list[Cell]:
    needed = people(mass, plan.description.lift, kit.system)
    return [what, kit.form.mass(mass), kit.words.text("carry.nobody") if needed is None else str(needed)]


def _lift(plan: Plan, kit: Kit, width: float) -> Block:
    return boxed(kit, width, kit.words.text("carry.lift.title"), kit.words.texts(
        "carry.lift.lines", limit=limit(plan.description.lift, kit.system)))


def _passing(plan: Plan, kit: Kit, width: float) -> Block:
    """Sizes of bundle and pack, and how they pass each opening that the project gives."""
    words, form, loads = kit.words, kit.form, carried(plan)
    lines = [words.text("carry.passing.load", what=words.text(f"carry.what.{load.key}"), size=form.size(*load.box))
             for load in loads]
    lines += words.texts("carry.passing.lines", given=bool(plan.description.transport.openings),
                         sheet=words.text("carry.way.title"))
    return headed(kit, width, words.text("carry.passing.title"), lines)


def _on_the_way(plan: Plan, kit: Kit) -> tuple[Mark, ...]:
    """Every opening that the project gives, and how each load passes it; where the pack balances below."""
    words, form, loads = kit.words, kit.form, carried(plan)
    first, *others = spread(kit.room.width, 60, 50, 50, 50)
    columns = [Column(first), *(Column(each) for each in others)]
    header = [words.text("carry.way.opening"), *(words.text(f"carry.what.{load.key}") for load in loads)]
    rows: list[list[Cell]] = [
        [words.text("carry.way.name", name=each.name, size=form.size(*each.opening),
                    length=form.length_unit(each.length) if each.length is not None else ""),
         *(_way(kit, passes(load.box, each)) for load in loads)] for each in plan.description.transport.openings]
    listed = table((0.0, 0.0), columns, rows, header, kit.lettering, _WAY)
    return column(kit.room, (listed, _balance(plan, kit, kit.room.width)), 6.0)


def _way(kit: Kit, way: Way | None) -> str:
    words = kit.words
    if way is None:
        return words.text("carry.way.not")
    return words.text("carry.way.passes", lying=words.text(f"carry.way.lying.{way.lying}"),
                      first=words.text(f"carry.way.first.{way.first}"))


def _balance(plan: Plan, kit: Kit, width: float, style: Style = BODY) -> Block:
    """Where the pack and its halves balance."""
    masses, halves = leaf_masses(plan), plan.assembly.halves
    lines = [*kit.words.texts("carry.balance.pack", at=packed_centre(plan, masses))]
    for half in halves if len(halves) > 1 else ():
        own = [each for each, leaf in zip(masses, plan.assembly.leaves, strict=True) if leaf.half == half]
        lines.append(kit.words.text("carry.balance.half", half=half, at=packed_centre(plan, own)))
    return headed(kit, width, kit.words.text("carry.balance.title"), lines, style)
