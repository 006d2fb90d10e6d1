"""What must be bought: boards by count, tape by width in whole rolls, small parts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly
from packet.boards.supply import Supply
from packet.description.resolved import Description
from packet.description.terms import TapeKind, Tool
from packet.tape.strips import STRAPPING, Role, Strip
from packet.units import FOOT, Format, System

LOOSE_ROLES = (Role.DOUBLER, Role.PATCH)
"""Strapping that comes on top of hinges and sills."""


SAME = 0.01
"""mm within which two widths of tape are one."""


class Unit(StrEnum):
    BOARD = "board"
    LENGTH = "mm"
    ROLL = "roll"
    PIECE = "piece"


class Goods(StrEnum):
    """What an order sheet has sentences for."""

    BOARD = "board"
    STRAPPING = "strapping"
    FOIL = "foil"
    PEELING = "peeling"
    SLEEVE = "sleeve"
    WEATHER_STRIP = "weather_strip"
    TOOLS = "tools"


@dataclass(frozen=True, slots=True)
class Item:
    """One line to buy or cut: `quantity` in `unit`; lengths in mm without any allowance. `price` is of one board, roll or
    piece, or of a foot or metre of length (`per`, mm), in hundredths; None where the project gives none.

    `item` and `detail` are for data; a sheet says what it is in its language, by `goods` and `values` (mm)."""

    item: str
    quantity: float
    unit: Unit
    detail: str
    goods: Goods
    values: tuple[tuple[str, float | str], ...] = ()
    price: int | None = None
    per: float = 1.0

    @property
    def name(self) -> str:
        """The item without a word of its unit."""
        return self.item.removesuffix(", whole rolls")

    @property
    def amount(self) -> int | None:
        """What the line costs, in hundredths, never rounded down; a length counts in tenths of a foot or metre."""
        if self.price is None:
            return None
        if self.unit is not Unit.LENGTH:
            return self.price * math.ceil(self.quantity - 1e-9)
        return -(-self.price * math.ceil(self.quantity / self.per * 10 - 1e-9) // 10)


@dataclass(frozen=True, slots=True)
class TapeNeed:
    """One roll width for all shelters of the order: net length by role (mm), and whole rolls of `roll` mm
    with the allowance and a lap of `join` mm at every roll's end."""

    roll_width: float
    foil: bool
    by_role: tuple[tuple[Role, float], ...]
    roll: float
    rolls: int
    join: float

    @property
    def net(self) -> float:
        return sum(length for _, length in self.by_role)

    @property
    def left(self) -> float:
        """What is over on the rolls when nothing is spoiled and every roll's end is lapped, mm."""
        return self.rolls * self.roll - max(0, self.rolls - 1) * self.join - self.net

    @property
    def hinges(self) -> float:
        """Net length of hinge and sill strips alone, mm."""
        return sum(length for role, length in self.by_role if role not in LOOSE_ROLES)


def tape_needs(description: Description, laid: tuple[Strip, ...]) -> tuple[TapeNeed, ...]:
    """Strapping by width, then foil by width, for the whole order. A strip of several rolls or passes counts each of them."""
    lengths: dict[tuple[bool, float], dict[Role, float]] = {}
    for strip in laid:
        foil = strip.role not in STRAPPING
        for roll_width in strip.tapes:
            by_role = lengths.setdefault((foil, roll_width), {})
            by_role[strip.role] = by_role.get(strip.role, 0.0) + strip.length * description.quantity
    tape, foil_roll = description.tape, description.foil.roll
    return tuple(
        TapeNeed(width, foil, tuple(by_role.items()), foil_roll if foil else tape.roll, whole_rolls(
            sum(by_role.values()), tape.allowance, foil_roll if foil else tape.roll, tape.join), tape.join)
        for (foil, width), by_role in sorted(lengths.items())
    )


def whole_rolls(net: float, allowance: float, roll: float, join: float) -> int:
    """Rolls for a net length with an allowance in percent, mm: where one roll ends a strip goes on from the next with a
    lap, so n rolls hold n roll - (n - 1) join. Raises ValueError for a lap no shorter than a roll.

    Counted in whole thousandths of a millimetre, so that a length that fills its rolls exactly needs no more.
    """
    needed, whole, lap = (round(each * 1000) for each in (net * (1 + allowance / 100), roll, join))
    if lap >= whole:
        raise ValueError("a join takes the whole roll")
    return -(-(needed - lap) // (whole - lap)) if needed > whole else min(1, needed)


def take_off(description: Description, assembly: Assembly, boards: Supply,
             needs: tuple[TapeNeed, ...]) -> tuple[Item, ...]:
    """Every item in the order of the order sheet."""
    form = Format(description.system)
    bought, prices = description.boards, description.prices
    costs = (prices.board, *(one.price for one in bought.also))
    items = []
    for each in boards.sizes:
        size = form.size(each.breadth, each.length, each.thickness)
        items.append(Item(f"board {size}", each.bought, Unit.BOARD, f"{each.cut} to cut, {each.spare} spare", Goods.BOARD,
                          (("size", size), ("count", each.cut), ("spare", each.spare)), costs[each.size]))
    for need in needs:
        name = f"{'foil' if need.foil else 'strapping'} tape {form.length_unit(need.roll_width)}"
        goods = Goods.FOIL if need.foil else Goods.STRAPPING
        for loose in (False, True):
            parts = [(role, length) for role, length in need.by_role if (role in LOOSE_ROLES) is loose]
            if parts:
                items.append(Item(name + (" for doublers and patches" if loose else ""),
                                  sum(length for _, length in parts), Unit.LENGTH,
                                  ", ".join(f"{role} {form.feet(length)}" for role, length in parts), goods))
        items.append(Item(f"{name}, whole rolls", need.rolls, Unit.ROLL,
                          f"rolls of {form.feet(need.roll)}, {description.tape.allowance:g} % included; "
                          f"{form.feet(need.left)} over", goods,
                          (("width", need.roll_width), ("roll", need.roll), ("left", need.left),
                           ("allowance", f"{description.tape.allowance:g}")), _roll_price(description, need)))
    for seam in assembly.seams:
        if seam.removable:
            items.append(Item(f"tape that peels clean, hip {seam.mark}", seam.length * description.quantity, Unit.LENGTH,
                              "a new strip each time the shelter is closed", Goods.PEELING, (("seam", seam.mark),)))
    holes = [hole for leaf in assembly.leaves for hole in leaf.holes]
    if holes:
        items.append(Item("pipe sleeve for latch holes", len(holes) * description.quantity, Unit.PIECE,
                          f"{form.length_both(holes[0].diameter)} outside, "
                          f"{form.length_unit(assembly.thickness)} long", Goods.SLEEVE,
                          (("outside", holes[0].diameter), ("long", assembly.thickness)), prices.sleeve))
    if assembly.doors:
        edges = [leaf.edge(name) for leaf in assembly.doors for name in ("corner", "eave")]
        items.append(Item("weather strip, self-adhesive", sum(math.dist(*edge) for edge in edges) * description.quantity,
                          Unit.LENGTH, "free edge and head of each door", Goods.WEATHER_STRIP, (), prices.weather_strip,
                          FOOT if description.system is System.INCH else 1000.0))
    cutting = "saw" if bought.tool is Tool.SAW else "knife with fresh blades"
    items.append(Item("set of tools", 1, Unit.PIECE,
                      f"{cutting}, straight edge, chalk line, steel tape, roller", Goods.TOOLS,
                      (("tool", str(bought.tool)),), prices.tools))
    return tuple(items)


def _roll_price(description: Description, need: TapeNeed) -> int | None:
    """The price of a roll of that tape and width, where the project lists it."""
    tape = TapeKind.FOIL if need.foil else TapeKind.STRAPPING
    return next((roll.price for roll in description.prices.rolls
                 if roll.tape is tape and abs(roll.width - need.roll_width) < SAME), None)


def bought(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """What is bought: all but the lengths that come off rolls on the same order."""
    rolls = tuple(item.name for item in items if item.unit is Unit.ROLL)
    return tuple(item for item in items if item.unit is not Unit.LENGTH or not item.item.startswith(rolls))
