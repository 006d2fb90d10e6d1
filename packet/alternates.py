"""The boards of the project and the alternates it lists, side by side: each is planned from end to end.

Another thickness changes the gaps, the strips and the pack, another size the layout and perhaps the leaves, so
nothing is carried over from one plan to the next. Money is in whole hundredths of the currency.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from packet.description.buying_values import Alternate
from packet.description.problems import ProjectError
from packet.description.resolved import Description
from packet.figures import board_mass
from packet.plan import Plan, make_plan
from packet.tape.takeoff import Unit


@dataclass(frozen=True, slots=True)
class Compared:
    """One kind of board, mm. `price` is of one board, in hundredths; `bought` boards with the spare ones; `mass`
    of the finished leaves of one set without tape, kg; `pack` breadth, length and thickness of one set. Where the
    project cannot be built of it `why` says so and the rest is None. `smaller` says that leaves had to give way.
    `mixed` are the sizes that the project buys together, breadth and length; then `all_together` is what they cost."""

    board: Alternate
    own: bool
    bought: int | None
    mass: float | None
    pack: tuple[float, float, float] | None
    smaller: bool
    why: str
    mixed: tuple[tuple[float, float], ...] = ()
    all_together: int | None = None

    @property
    def price(self) -> int | None:
        """All boards together, in hundredths; None without a price or a plan."""
        if self.mixed:
            return self.all_together
        if self.board.price is None or self.bought is None:
            return None
        return self.board.price * self.bought


@dataclass(frozen=True, slots=True)
class Comparison:
    """All kinds of board, the project's own first; places of the best, all that are equal, none where fewer than
    two can be compared or all are the same."""

    boards: tuple[Compared, ...]
    cheapest: tuple[int, ...]
    lightest: tuple[int, ...]
    thinnest: tuple[int, ...]


def compare(plan: Plan) -> Comparison | None:
    """The project's boards beside its alternates; None where it lists none."""
    own = plan.description
    if not own.boards.alternates:
        return None
    boards = own.boards
    found = [_planned(plan, Alternate(boards.breadth, boards.length, boards.thickness, own.prices.board, None), own=True)]
    for alternate in boards.alternates:
        try:
            found.append(_planned(make_plan(_with(own, alternate)), alternate, own=False))
        except ProjectError as error:
            problem = error.problems[0]
            limit = f" ({problem.limit})" if problem.limit else ""
            found.append(Compared(alternate, False, None, None, None, False, f"{problem.message}{limit}"))
    return Comparison(
        tuple(found), _best([one.price for one in found]), _best([one.mass for one in found]),
        _best([one.pack[2] if one.pack else None for one in found]))


def _with(description: Description, alternate: Alternate) -> Description:
    """The project as it would be of other boards: as bought, since none of those was measured."""
    density = description.assume.density if alternate.density is None else alternate.density
    return replace(
        description, assume=replace(description.assume, density=density),
        boards=replace(description.boards, breadth=alternate.breadth, length=alternate.length,
                       thickness=alternate.thickness, measured=(), alternates=(), also=()))


def _planned(plan: Plan, board: Alternate, own: bool) -> Compared:
    shape, fitted = plan.description.shape, plan.fitted
    smaller = fitted is not None and any(
        getattr(fitted.sizes, name) < getattr(shape, name) - 1e-6 for name in ("leaf_width", "wall_height", "slant"))
    mixed = tuple((each.breadth, each.length) for each in plan.supply.sizes) if plan.nest.mixed else ()
    costs = [item.amount for item in plan.takeoff if item.unit is Unit.BOARD]
    together = None if None in costs else sum(cost for cost in costs if cost is not None)
    return Compared(board, own, len(plan.boards) + plan.description.boards.spare, board_mass(plan),
                    (plan.pack.width, plan.pack.length, plan.pack.thickness), smaller, "",
                    mixed, together)


def _best(values: list[int | None] | list[float | None]) -> tuple[int, ...]:
    known = {place: round(value, 6) for place, value in enumerate(values) if value is not None}
    if len(set(known.values())) < 2:
        return ()
    return tuple(place for place, value in known.items() if value == min(known.values()))
