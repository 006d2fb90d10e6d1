"""A zoo of odd shelters: every wall count, both hands, both printed faces, thin and thick, small and large."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.plan import Plan, make_plan


def _project(units: str, walls: int, width: float, height: float, steep: float, trim: float, thickness: float,
             size: str, land: float, stock: str, *, hand: str = "right", printed: str = "inner",
             paper: str = "", more: str = "") -> str:
    """The text of a project file; `steep` is slant over apothem, so that every one of them closes."""
    slant = round(steep * width / math.tan(math.pi / walls), 1)
    return f"""
project: Zoo of {walls}
units: {units}
{f"paper: {paper}" if paper else ""}
shelter: {{walls: {walls}, leaf_width: {width}, wall_height: {height}, slant: {slant}, tip_trim: {trim}}}
doors: {{hand: {hand}, bottom_trim: {thickness}}}
boards: {{size: {size}, thickness: {thickness}, printed_face: {printed}}}
tape: {{land: {land}, stock: {stock}}}
{more}
"""


def zoo() -> dict[str, str]:
    """Project texts by name: a dozen shelters, in both units."""
    inch, metric = ("48 x 96", 2, "[4, 6]"), ("1200 x 2400", 50, "[50, 100, 150]")
    return {
        "four inch": _project("in", 4, 24, 60, 1.3, 3, 1, *inch),
        "four left thick": _project("in", 4, 30, 72, 1.2, 4, 2, "60 x 120", 2, "[4, 6, 8]", hand="left"),
        "six left": _project("in", 6, 22, 60, 1.2, 3, 1.5, *inch, hand="left"),
        "six outer": _project("in", 6, 24, 48, 1.15, 2.5, 0.5, *inch, printed="outer", paper="a4"),
        "six metric": _project("mm", 6, 600, 1200, 1.155, 65, 25, *metric),
        "six metric letter": _project("mm", 6, 500, 1500, 1.6, 60, 40, *metric, hand="left", paper="letter"),
        "eight outer left": _project("mm", 8, 440, 1150, 1.083, 75, 30, *metric, hand="left", printed="outer"),
        "eight inch": _project("in", 8, 18, 66, 1.1, 3, 1, *inch),
        "ten metric": _project("mm", 10, 350, 1800, 1.2, 60, 50, *metric),
        "ten inch": _project("in", 10, 14, 40, 1.3, 3, 0.75, *inch, printed="outer"),
        "twelve metric": _project("mm", 12, 300, 1400, 1.1, 60, 20, *metric),
        "twelve inch": _project("in", 12, 12, 54, 1.4, 2, 1, *inch, hand="left", paper="a4"),
        "large": _project("in", 6, 48, 96, 1.15, 6, 3, "48 x 120", 3, "[6, 9, 12]", paper="tabloid"),
        "small": _project("mm", 6, 200, 350, 1.3, 40, 10, *metric, paper="a3"),
        "steep": _project("in", 4, 14, 30, 3.0, 3, 1, *inch),
        "low": _project("mm", 8, 450, 900, 1.02, 70, 25, *metric),
    }


@cache
def zoo_plan(name: str) -> Plan:
    """The plan of one of them, made once."""
    return make_plan(describe(read_text(zoo()[name], Path(f"{name}.yaml"))))
