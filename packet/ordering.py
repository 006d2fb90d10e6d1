"""The order line by line, as a person or a spreadsheet reads it. Nothing is rounded down."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.description.buying_values import amount
from packet.plan import Plan
from packet.tape.takeoff import Item, Unit, bought

HEADER = ("item", "quantity", "unit", "detail", "price each", "price", "price a set", "currency",
          "prices of")


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line. `quantity` is a whole count, or a length in feet or metres to a tenth, rounded up; money has two
    decimals and is empty where the project gives no price."""

    item: str
    quantity: str
    unit: str
    detail: str
    each: str
    amount: str
    a_set: str
    currency: str
    date: str

    @property
    def cells(self) -> tuple[str, ...]:
        """In the order of HEADER."""
        return (self.item, self.quantity, self.unit, self.detail, self.each, self.amount, self.a_set, self.currency,
                self.date)


def order_lines(plan: Plan) -> tuple[OrderLine, ...]:
    """What is bought for the whole order, as on the order sheet."""
    return tuple(_line(item, plan) for item in bought(plan.takeoff))


def total(plan: Plan) -> int | None:
    """The whole order in hundredths; None where a line has no price."""
    amounts = [item.amount for item in bought(plan.takeoff)]
    return None if None in amounts else sum(each for each in amounts if each is not None)


def a_set(whole: int, plan: Plan) -> int:
    """One set's share of an amount in hundredths, never rounded down."""
    return -(-whole // plan.description.quantity)


def total_line(plan: Plan) -> OrderLine | None:
    """The whole order as a last line; None where a line has no price."""
    whole, prices = total(plan), plan.description.prices
    if whole is None:
        return None
    return OrderLine("total", "", "", "", "", amount(whole, ""), amount(a_set(whole, plan), ""), prices.currency, prices.date)


def _line(item: Item, plan: Plan) -> OrderLine:
    prices = plan.description.prices
    money = ("", "", "", "", "")
    if item.price is not None and item.amount is not None:
        money = (amount(item.price, ""), amount(item.amount, ""), amount(a_set(item.amount, plan), ""), prices.currency,
                 prices.date)
    if item.unit is not Unit.LENGTH:
        return OrderLine(item.name, str(math.ceil(item.quantity - 1e-9)), str(item.unit), item.detail, *money)
    length, _, unit = plan.form.feet_up(item.quantity).partition(" ")
    return OrderLine(item.name, length, unit, item.detail, *money)
