"""Where leaves that are larger than a board are spliced: fewest parts, clear of holes and tape, fewest boards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations, islice, pairwise, product

from packet.assembly.records import Assembly, Leaf, polygon_area
from packet.assembly.splicing import Lines, divided, extent, offset_of, parts_of
from packet.boards.blanks import Blank, rough_size
from packet.boards.nest import DoesNotFit, takes
from packet.boards.records import Stock

SLACK = 1e-6
"""mm"""

MOST_PARTS = 6
"""Parts that a leaf may be made of (assumption: more is no leaf any more but a patchwork)."""

MOST_TRIED = 24
"""Ways of dividing one kind of leaf that are laid out on boards, the most even first."""

MOST_DIVISIONS = 400
"""Divisions into one number of parts that are looked at."""

LAYOUTS = 240
"""Layouts that are compared in all: where many kinds are spliced, fewer ways of each."""

Group = tuple[Leaf, ...]
RoundDown = Callable[[float], float]
Stocks = tuple[Stock, ...]
Cost = Callable[[Assembly], int]


def spliced(assembly: Assembly, stocks: Stocks, land: float, round_down: RoundDown, cost: Cost, enough: int = 0) -> Assembly:
    """The assembly with splices in every leaf that fits none of these boards; itself where all fit.

    A line stays two lands away from edges that run along it, and a land from holes and openings, where that can be.
    `cost` is what a layout of the parts takes, in boards or as a mix of sizes is counted: the least is chosen, or the
    first that is `enough`. Raises DoesNotFit for a leaf that no division into parts brings onto a board.
    """
    groups: list[tuple[Group, list[Lines]]] = []
    for group in _groups(leaf for leaf in assembly.leaves if not _fits(leaf, stocks)):
        clear, ways = _ways(group, stocks, land, round_down)
        if clear or len(group) == 1:
            groups.append((group, ways))
        else:
            # No line is clear in all of them: each may have its own.
            groups += [((leaf,), _ways((leaf,), stocks, land, round_down)[1]) for leaf in group]
    if not groups:
        return assembly
    for group, ways in groups:
        if not ways:
            raise DoesNotFit(_blank(group[0]), max(stocks, key=lambda stock: stock.area))
    chosen = [ways[0] for _, ways in groups]
    parts = _Parts(assembly)
    for place, (_, ways) in enumerate(groups):
        best: tuple[int, tuple[float, float]] | None = None
        tried = ways[:max(1, LAYOUTS // len(groups))]
        for way in tried if len(tried) > 1 else ():
            trial = [*chosen[:place], way, *chosen[place + 1:]]
            worth = _worth(parts, groups, trial, cost)
            if best is None or worth < best:
                best, chosen = worth, trial
            if best[0] <= enough:
                return _with(assembly, groups, chosen)
    return _with(assembly, groups, chosen)


class _Parts:
    """The parts of leaves for every way of dividing them that is tried: each is made once."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = replace(assembly, seams=())
        self._taken = frozenset(assembly.by_mark)
        self._made: dict[tuple[str, Lines], tuple[Leaf, ...]] = {}

    def cut(self, lines: dict[str, Lines]) -> Assembly:
        """All pieces where these leaves are divided so. No seams."""
        return replace(self._assembly, leaves=tuple(
            part for leaf in self._assembly.leaves
            for part in (self._of(leaf, lines[leaf.mark]) if leaf.mark in lines else (leaf,))))

    def _of(self, leaf: Leaf, way: Lines) -> tuple[Leaf, ...]:
        if (leaf.mark, way) not in self._made:
            self._made[leaf.mark, way] = parts_of(divided(leaf, way, self._taken))
        return self._made[leaf.mark, way]


def crossed(assembly: Assembly, land: float) -> tuple[tuple[str, str], ...]:
    """Splices whose tape meets a hole or an opening, since no line is clear of it: leaf, what it meets."""
    return tuple((leaf.mark, name) for leaf in assembly.leaves for splice in leaf.splices
                 for name, low, high in _obstacles(leaf, abs(splice.a[0] - splice.b[0]) < SLACK, land)
                 if low < offset_of(leaf, abs(splice.a[0] - splice.b[0]) < SLACK, splice.a) < high)


def _groups(leaves: Iterator[Leaf]) -> Iterator[Group]:
    """Leaves of one shape, of either hand."""
    found: dict[object, list[Leaf]] = {}
    for leaf in leaves:
        found.setdefault((leaf.kind, rough_size(leaf), round(abs(polygon_area(leaf.rough)), 1)), []).append(leaf)
    return (tuple(group) for group in found.values())


def _blank(leaf: Leaf) -> Blank:
    return Blank(*rough_size(leaf), (leaf,), (0,))


def _fits(leaf: Leaf, stocks: Stocks) -> bool:
    return any(takes(stock, _blank(leaf)) for stock in stocks)


def _ways(group: Group, stocks: Stocks, land: float, round_down: RoundDown) -> tuple[bool, list[Lines]]:
    """Divisions into the fewest parts that fit a board, the most even first; and whether they are clear of all else."""
    leaf = group[0]
    crossing: list[Lines] = []
    for count in range(2, MOST_PARTS + 1):
        clear: list[Lines] = []
        for upright in (False, True):
            for offsets in _divisions(leaf, upright, count, stocks, land, round_down):
                lines = Lines(upright, offsets)
                made = divided(leaf, lines)
                if not all(_fits(part, stocks) for part in parts_of(made)):
                    continue
                wide = all(splice.length >= 2 * land - SLACK for splice in made.splices)
                met = any(low < offset < high for other in group for _, low, high in _obstacles(other, upright, land)
                          for offset in offsets)
                (clear if wide and not met else crossing).append(lines)
        if clear:
            return True, sorted(clear, key=lambda lines: _uneven(leaf, lines))[:MOST_TRIED]
    fewest = min((len(lines.offsets) for lines in crossing), default=0)
    return False, sorted((lines for lines in crossing if len(lines.offsets) == fewest),
                         key=lambda lines: _uneven(leaf, lines))[:MOST_TRIED]


def _divisions(leaf: Leaf, upright: bool, count: int, stocks: Stocks, land: float, round_down: RoundDown
               ) -> Iterator[tuple[float, ...]]:
    """Offsets worth a try: equal parts, parts that fill a board or a whole share of one, and beside every obstacle."""
    whole = extent(leaf, upright, leaf.rough)[1]
    low, high = extent(leaf, upright, leaf.outline)
    longest = max(side for stock in stocks for side in (stock.length, stock.breadth))
    if (high - low) / count < 2 * land or whole / count > longest + SLACK:
        return
    yield tuple(round_down(whole * i / count) for i in range(1, count))
    places = set()
    sides = dict.fromkeys((side, stock.kerf) for stock in stocks for side in (stock.length, stock.breadth))
    for (side, kerf), share in product(sides, range(1, 5)):
        part = round_down((side + kerf) / share - kerf)
        places |= {part * i for i in range(1, count)} | {whole - part * i for i in range(1, count)}
    for _, start, stop in _obstacles(leaf, upright, land):
        places |= {round_down(start), -round_down(-stop)}
    inside = sorted(place for place in places if low + 2 * land - SLACK <= place <= high - 2 * land + SLACK)
    for offsets in islice(combinations(inside, count - 1), MOST_DIVISIONS):
        if all(after - before >= 2 * land for before, after in pairwise(offsets)):
            yield offsets


def _obstacles(leaf: Leaf, upright: bool, land: float) -> Iterator[tuple[str, float, float]]:
    """Holes and openings: name, and from and to which offset a line would bring its tape onto them."""
    for name, x, y, width, height in (
            *((hole.purpose, hole.x, hole.y, hole.diameter, hole.diameter) for hole in leaf.holes),
            *((str(one.kind), one.x, one.y, one.width, one.height) for one in leaf.openings)):
        at, reach = offset_of(leaf, upright, (x, y)), (width if upright else height) / 2 + land
        yield name, at - reach, at + reach


def _uneven(leaf: Leaf, lines: Lines) -> tuple[float, float]:
    """The shorter the lines and the more even the parts, the better."""
    low, high = extent(leaf, lines.upright, leaf.outline)
    ends = (low, *lines.offsets, high)
    sizes = [after - before for before, after in pairwise(ends)]
    return round(max(sizes) - min(sizes), 3), sum(splice.length for splice in divided(leaf, lines).splices)


def _lines(groups: list[tuple[Group, list[Lines]]], chosen: list[Lines]) -> dict[str, Lines]:
    return {leaf.mark: way for (group, _), way in zip(groups, chosen, strict=True) for leaf in group}


def _with(assembly: Assembly, groups: list[tuple[Group, list[Lines]]], chosen: list[Lines]) -> Assembly:
    lines, taken = _lines(groups, chosen), frozenset(assembly.by_mark)
    return replace(assembly, leaves=tuple(
        divided(leaf, lines[leaf.mark], taken) if leaf.mark in lines else leaf for leaf in assembly.leaves))


def _worth(parts: _Parts, groups: list[tuple[Group, list[Lines]]], chosen: list[Lines], cost: Cost
           ) -> tuple[int, tuple[float, float]]:
    """Least boards, then evenness of all."""
    uneven = [_uneven(group[0], way) for (group, _), way in zip(groups, chosen, strict=True)]
    return cost(parts.cut(_lines(groups, chosen))), (sum(one for one, _ in uneven), sum(two for _, two in uneven))
