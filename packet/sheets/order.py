"""Order and take-off: what to buy, net lengths, weight, what is spare and what is held."""

from __future__ import annotations

from collections.abc import Iterator

from packet.boards.supply import Supply
from packet.description.buying_values import amount
from packet.description.resolved import Description
from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, LARGE, NUMBER, Style
from packet.drawing.marks import Anchor, Drawing, Line, Mark, Path, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import tick_box
from packet.drawing.table import PAD, Cell, Column, fit, spread, table
from packet.figures import board_mass
from packet.findings import told_cost
from packet.ordering import a_set, total
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.tape.takeoff import Item, TapeNeed, Unit, bought
from packet.units import POUND_PER_CUBIC_FOOT, Format, System
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

_ROW = 11.5
_TALL_ROW = 22.0
"""mm at most of a row where the order has a page to itself."""

_GAP = 5.0
_FOOT, _SECOND = 10.5, 9.0
"""mm below the order for the total and the date of the prices, and for one set's share and the sheet of alternates."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """The order, and the take-off below it where it has room, else on a page of its own."""
    words = kit.words
    pages = [*_order_pages(plan, kit, _ROW)]
    marks, y = pages[-1]
    below = _notes(plan, kit, Room(kit.room.left, kit.room.bottom, kit.room.right, y - _GAP), BODY)
    if below is None:
        # The order has the page to itself.
        rows = len(bought(plan.takeoff))
        stretched = (kit.room.height - _foot(plan) - 2 * _ROW) / rows
        tall = [*_order_pages(plan, kit, max(_ROW, min(_TALL_ROW, stretched)))]
        # Rows of several lines stretch less: never for the price of a page more.
        pages = tall if len(tall) == len(pages) else pages
    drawn = [drawing for drawing, _ in pages]
    if below is not None:
        drawn[-1] = marks + below
    sheets = [
        Sheet(number=sheet_number("order", page), title=words.text("order.title"), station=Station.P.word,
              kind=words.text("order.kind"), marks=drawing, subtitle=words.text("order.subtitle"))
        for page, drawing in enumerate(drawn, 1)]
    if below is None:
        sheets.append(Sheet(
            number=sheet_number("order", len(sheets) + 1), title=words.text("order.title_takeoff"),
            station=Station.P.word, kind=words.text("order.kind_takeoff"), marks=_takeoff_page(plan, kit),
            subtitle=words.text("order.subtitle_takeoff")))
    return tuple(sheets)


def _foot(plan: Plan) -> float:
    """mm below the order."""
    return _FOOT + (_SECOND if plan.description.quantity > 1 or plan.description.boards.alternates else 0.0)


def _order_pages(plan: Plan, kit: Kit, row_height: float) -> Iterator[tuple[Drawing, float]]:
    """The order table, page by page, and where it ends."""
    room, words = kit.room, kit.words
    looks: tuple[tuple[Anchor, Style], ...] = (
        ("left", BODY), ("left", BODY_BOLD), ("left", NUMBER), ("left", BODY), ("left", BODY), ("left", BODY))
    columns = [Column(width, align, style) for width, (align, style) in zip(
        spread(room.width, 20, 60, 33, 70, 26, 24), looks, strict=True)]
    header = [words.text(f"order.order.{name}") for name in ("bought", "item", "quantity", "detail", "each", "price")]
    rows = [_order_row(item, kit) for item in bought(plan.takeoff)]
    while rows:
        count = fit(columns, rows, header, room.height - _foot(plan), kit.lettering, row_height)
        if not count:
            raise LayoutError(f"the order does not fit {kit.paper.name}; use larger paper")
        block = table(room.top_left, columns, rows[:count], header, kit.lettering, row_height, rules="grid")
        rows = rows[count:]
        if rows:
            yield block.marks, block.bottom
        else:
            yield block.marks + _total(plan, kit, block.bottom, columns[-1].width), block.bottom - _foot(plan)


def _order_row(item: Item, kit: Kit) -> list[Cell]:
    if item.unit is Unit.LENGTH:
        quantity = kit.form.feet_up(item.quantity)
    else:
        quantity = kit.words.text(f"order.unit.{item.unit}", count=round(item.quantity))
    each, every = ("" if price is None else amount(price, "", kit.form.point) for price in (item.price, item.amount))
    # Without the currency, which has no room here and stands at the foot.
    name, detail = (kit.words.text(f"order.goods.{item.goods}.{part}", **dict(item.values)) for part in ("item", "detail"))
    return [tick_box((0.0, 0.0)), name, quantity, detail, each, every]


def _total(plan: Plan, kit: Kit, top: float, width: float) -> Drawing:
    """A box for the total, filled where every line has its price, and rules for the date and the source of the prices."""
    room, words, prices, whole = kit.room, kit.words, plan.description.prices, total(plan)
    baseline, low = top - 7.5, top - _FOOT
    marks: list[Mark] = [
        Path(((room.right - width, top), (room.right - width, low), (room.right, low), (room.right, top)), TABLE,
             closed=False),
        Text((room.right - width - 3.0, baseline), words.text("order.order.total", currency=prices.currency), BODY_BOLD,
             "right")]
    if whole is not None:
        marks.append(Text((room.right - width + 1.5, baseline), amount(whole, "", kit.form.point), BODY_BOLD))
    x = room.left + 1.5
    for name, rule in (("asked", 40.0), ("from", 60.0)):
        label = words.text(f"order.order.{name}")
        marks.append(Text((x, baseline), label, BODY))
        x += kit.lettering.width(label, BODY) + 2.0
        given = f"{prices.date} {prices.currency}".strip() if name == "asked" else ""
        rule = max(rule, kit.lettering.width(given, BODY_BOLD) + 2.0)
        marks.append(Line((x, baseline - 0.8), (x + rule, baseline - 0.8), TABLE))
        if given:
            marks.append(Text((x + 1.0, baseline), given, BODY_BOLD))
        x += rule + 6.0
    return (*marks, *_second(plan, kit, low, width))


def _second(plan: Plan, kit: Kit, top: float, width: float) -> Drawing:
    """One set's share of the total, where there are several; where other boards stand side by side."""
    room, words, own, whole = kit.room, kit.words, plan.description, total(plan)
    baseline, low = top - 6.5, top - _SECOND
    marks: list[Mark] = []
    if own.boards.alternates:
        marks.append(Text((room.left + 1.5, baseline), words.text("order.order.alternates", sheet=sheet_number("alternates")),
                          BODY))
    if own.quantity > 1:
        marks += [
            Path(((room.right - width, top), (room.right - width, low), (room.right, low), (room.right, top)), TABLE,
                 closed=False),
            Text((room.right - width - 3.0, baseline), words.text("order.order.a_set", quantity=own.quantity), BODY_BOLD,
                 "right")]
        if whole is not None:
            marks.append(Text((room.right - width + 1.5, baseline), amount(a_set(whole, plan), "", kit.form.point), BODY_BOLD))
    return tuple(marks)


def _takeoff_page(plan: Plan, kit: Kit) -> Drawing:
    """The take-off alone, its notes as large as they fit."""
    for style in (LARGE, BODY):
        marks = _notes(plan, kit, kit.room, style)
        if marks is not None:
            return marks
    raise LayoutError(f"the take-off does not fit {kit.paper.name}; use larger paper")


def _notes(plan: Plan, kit: Kit, room: Room, style: Style) -> Drawing | None:
    """Take-off over the full width, the three notes side by side below it; None where the room is too small."""
    if room.height <= 0.0:
        return None
    takeoff = _takeoff(plan, kit, room, None if style is BODY else 11.0)
    columns = Room(room.left, room.bottom, room.right, takeoff.bottom - _GAP).columns(1.0, 1.0, 1.0, gap=8.0)
    blocks = [takeoff]
    strong = Style(style.height, True)
    for column, (title, lines) in zip(columns, _paragraphs(plan, kit), strict=True):
        blocks.append(stack(column.top_left, [
            paragraph(column.top_left, column.width, title, strong, kit.lettering),
            bullets(column.top_left, column.width, lines, style, kit.lettering, 0.4 * style.height)], 0.5))
    if min(block.bottom for block in blocks) < room.bottom:
        return None
    return tuple(mark for block in blocks for mark in block.marks)


def _takeoff(plan: Plan, kit: Kit, room: Room, row_height: float | None) -> Block:
    """Net length by roll and role."""
    words, form = kit.words, kit.form
    allowance, quantity = plan.description.tape.allowance, plan.description.quantity
    roles = list(dict.fromkeys(role for need in plan.needs for role, _ in need.by_role))
    unit = form.feet(0.0).partition(" ")[2]
    header = [words.text("order.takeoff.roll", unit=unit),
              *(words.text(f"order.takeoff.role.{role}") for role in roles),
              words.text("order.takeoff.net", quantity=quantity),
              words.text("order.takeoff.needed", allowance=kit.form.plain(allowance)),
              words.text("order.takeoff.rolls")]

    def row(need: TapeNeed) -> list[str]:
        lengths = dict(need.by_role)
        kind = "foil" if need.foil else "strapping"
        figures = [_bare(form, lengths[role]) if role in lengths else "" for role in roles]
        return [words.text(f"order.takeoff.{kind}", width=need.roll_width), *figures, f"**{_bare(form, need.net)}**",
                _bare(form, need.net * (1 + allowance / 100)), f"**{need.rolls}**"]

    rows = [row(need) for need in plan.needs]
    return table(room.top_left, _fitted(header, rows, room.width, kit), rows, header, kit.lettering, row_height)


def _bare(form: Format, mm: float) -> str:
    """A take-off length without its unit, which the header names."""
    return form.feet(mm).partition(" ")[0]


def _fitted(header: list[str], rows: list[list[str]], width: float, kit: Kit) -> list[Column]:
    """Columns as wide as their longest text asks, what is left shared out; the first is set left. Where they are too many
    for the page they are set smaller."""
    for style in (BODY, FINE):
        bold = Style(style.height, True)
        needed = [max(kit.lettering.width(text.strip("*"), bold) for text in column) + 2 * PAD
                  for column in zip(header, *rows, strict=True)]
        over = sum(needed) - width
        if over <= needed[0] / 2:
            # Where all of it is too wide, the rolls' own names take two lines.
            needed[0] -= max(0.0, over)
            spare = max(0.0, -over) / len(needed)
            return [Column(need + spare, "right" if index else "left", style) for index, need in enumerate(needed)]
    raise LayoutError(f"the take-off is wider than {kit.paper.name}; use larger paper")


def _paragraphs(plan: Plan, kit: Kit) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Weight and size; spare and held; assumptions."""
    words, own = kit.words, plan.description
    bought, density = plan.supply, own.assume.density
    boards = tuple((kit.form.size(size.breadth, size.length), size.volume * density, size.bought) for size in bought.sizes)
    yield words.text("order.weight.title"), words.texts(
        "order.weight.lines", quantity=own.quantity, one=kit.form.fixed(len(plan.boards) / own.quantity, 2),
        tape=tuple((need.foil, need.roll_width, need.net / own.quantity) for need in plan.needs),
        boards=boards, bought=bought.bought, all=sum(each * count for _, each, count in boards), leaves=board_mass(plan),
        stack=kit.form.size(*bought.stack))
    yield words.text("order.keep.title"), tuple(_kept(plan, bought, kit))
    yield words.text("order.assumed.title"), words.texts(
        "order.assumed.lines", density=_density(own, kit), guessed="assume.density" in own.assumed,
        allowance=kit.form.plain(own.tape.allowance), tape_roll=own.tape.roll, foil_roll=own.foil.roll,
        join=own.tape.join, mix=_mix(plan))


def _mix(plan: Plan) -> dict[str, str] | None:
    """What the mix of several sizes was chosen by, what it comes to, and what no mix can undercut."""
    nested = plan.nest
    if not nested.mixed:
        return None
    return {"by": str(nested.measure), "cost": told_cost(plan.description, nested, nested.cost), "proof": str(nested.proof),
            "bound": told_cost(plan.description, nested, nested.bound)}


def _kept(plan: Plan, bought: Supply, kit: Kit) -> Iterator[str]:
    words = kit.words
    yield words.text("order.keep.spare" if bought.spare else "order.keep.no_spare", spare=bought.spare,
                     doors=bool(plan.assembly.doors))
    for blank in plan.mended.held:
        used = plan.mended.used(blank.mark)
        yield words.text("order.keep.used" if used else "order.keep.held", mark=blank.board,
                         size=kit.form.size(blank.breadth, blank.length), leaf=used.mark if used else "",
                         sheet=sheet_number("mending", used.decision) if used else "")
    if not bought.held:
        yield words.text("order.keep.none_held")


def _density(own: Description, kit: Kit) -> str:
    if own.system is System.METRIC:
        return kit.words.text("order.assumed.kilograms", value=kit.form.fixed(own.assume.density, 0))
    return kit.words.text("order.assumed.pounds", value=kit.form.fixed(own.assume.density / POUND_PER_CUBIC_FOOT, 1))
