"""What to buy, for a person or for a spreadsheet; writes nothing."""

from __future__ import annotations

from typing import Annotated

import typer

from packet.commands.common import Project, plan_of, tell, warn


def order(
    project: Project,
    as_csv: Annotated[bool, typer.Option("--csv", help="Comma-separated values, a header first.")] = False,
) -> None:
    """What to buy for the whole order. Boards, tape in whole rolls, small parts, what is over.

    Example: packet order hut.yaml --csv > hut.csv
    """
    import csv
    import io

    from packet.description.buying_values import amount
    from packet.ordering import HEADER, a_set, order_lines, total, total_line

    plan = plan_of(project)
    lines = order_lines(plan)
    if as_csv:
        out = io.StringIO()
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(HEADER)
        last = total_line(plan)
        writer.writerows(line.cells for line in (*lines, *((last,) if last else ())))
        typer.echo(out.getvalue(), nl=False)
        return
    for line in lines:
        tell(f"{line.quantity:>9} {line.unit:<7} {line.amount:>11}  {line.item}; {line.detail}")
    warn(plan)
    whole, sets, prices = total(plan), plan.description.quantity, plan.description.prices
    if whole is None:
        tell("No total: a line has no price. Prices stand in the group `prices:` of the project file.")
        return
    each = f"; each of {sets} sets {amount(a_set(whole, plan), prices.currency)}" if sets > 1 else ""
    tell(f"Total {amount(whole, prices.currency)}{f', prices of {prices.date}' if prices.date else ''}{each}")
