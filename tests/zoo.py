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
             paper: str = "", more: str = "", splice: bool = False) -> str:
    """The text of a project file; `steep` is slant over apothem, so that every one of them closes."""
    slant = round(steep * width / math.tan(math.pi / walls), 1)
    return f"""
project: Zoo of {walls}
units: {units}
{f"paper: {paper}" if paper else ""}
shelter: {{walls: {walls}, leaf_width: {width}, wall_height: {height}, slant: {slant}, tip_trim: {trim}}}
doors: {{hand: {hand}, bottom_trim: {thickness}}}
boards: {{size: {size}, thickness: {thickness}, printed_face: {printed}{", splice: yes" if splice else ""}}}
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
        "tall six": _project("in", 6, 24, 110, 1.155, 2.5, 1, "48 x 96", 2, "[4, 6]", splice=True),
        "low": _project("mm", 8, 450, 900, 1.02, 70, 25, *metric),
    }


SCREEN = """
project: Zoo screen
units: mm
shelter: {preset: chain, leaves: 6, leaf_width: 500, height: 1800}
boards: {size: 1200 x 2400, thickness: 25}
"""

LONG_SCREEN = """
project: Zoo long screen
units: in
shelter: {preset: chain, leaves: 12, leaf_width: 16, height: 70}
boards: {size: 48 x 96, thickness: 2}
"""

BOOTH = """
project: Zoo booth
units: mm
shelter:
  preset: free
  leaves:
    - {mark: BACK, size: 1000 x 1900}
    - {mark: LEFT, size: 500 x 1900}
    - {mark: RIGHT, size: 500 x 1900}
  seams:
    - {join: BACK.left / LEFT.right}
    - {join: BACK.right / RIGHT.left, open: 90}
boards: {size: 1200 x 2400, thickness: 25}
"""

COOL_BOX = """
project: Zoo cool-box
units: mm
shelter:
  preset: free
  leaves:
    - {mark: FRONT, size: 600 x 400}
    - {mark: SIDE1, size: 400 x 400}
    - {mark: BACK, size: 600 x 400}
    - {mark: SIDE2, size: 400 x 400}
    - {mark: BASE, size: 600 x 400}
    - {mark: LID, size: 600 x 400}
  seams:
    - {join: FRONT.right / SIDE1.left, open: 90, packed: flat}
    - {join: SIDE1.right / BACK.left, open: 90, packed: shut}
    - {join: BACK.right / SIDE2.left, open: 90, packed: flat}
    - {join: SIDE2.right / FRONT.left, open: 90, packed: shut}
    - {join: FRONT.bottom / BASE.top, open: 90, packed: flat}
    - {join: BACK.top / LID.bottom, open: 90, packed: flat}
boards: {size: 1200 x 2400, thickness: 25}
"""

ACROSS = """
project: Zoo of level hinges
units: in
shelter:
  preset: free
  leaves:
    - {mark: P1, size: 20 x 30}
    - {mark: P2, size: 20 x 30}
    - {mark: P3, size: 20 x 30}
  seams:
    - {join: P1.top / P2.bottom, open: 120}
    - {join: P2.top / P3.bottom, open: 100, closing: outer}
boards: {size: 48 x 96, thickness: 1}
"""

LEANING = """
project: Zoo leaning screen
units: mm
shelter:
  preset: free
  leaves:
    - {mark: ONE, outline: [0 x 0, 1000 x 0, 400 x 800, 0 x 800]}
    - {mark: TWO, size: 500 x 1000}
    - {mark: BASE, size: 1000 x 400}
  seams:
    - {join: ONE.2 / TWO.left, open: 120}
    - {join: ONE.1 / BASE.top, open: 90, packed: flat}
boards: {size: 1200 x 2400, thickness: 25}
"""


def _releasable(units: str, walls: int, width: float, height: float, slant: float, thickness: float, size: str) -> str:
    """The text of a ring with a corner and hip line that comes apart, as an odd one must have."""
    return f"""
project: Zoo of {walls}, comes apart
units: {units}
shelter: {{walls: {walls}, releasable: yes, leaf_width: {width}, wall_height: {height}, slant: {slant}}}
boards: {{size: {size}, thickness: {thickness}}}
"""


def plain_zoo() -> dict[str, str]:
    """Project texts without a roof, by name."""
    return {"screen": SCREEN, "long screen": LONG_SCREEN, "booth": BOOTH, "cool-box": COOL_BOX, "across": ACROSS,
            "leaning": LEANING}


def releasable_zoo() -> dict[str, str]:
    """Project texts of rings that pack in one column, by name."""
    return {
        "five": _releasable("in", 5, 24, 48, 48, 1, "48 x 96"),
        "seven": _releasable("in", 7, 20, 48, 52, 1, "48 x 96"),
        "seven metric": _releasable("mm", 7, 420, 1200, 1050, 30, "1200 x 2400"),
        "six comes apart": _releasable("in", 6, 24, 48, 50, 1, "48 x 96"),
    }


def spliced_zoo() -> dict[str, str]:
    """Project texts with leaves larger than a board, by name."""
    return {
        "tall six": zoo()["tall six"],
        "tall roof metric": _project("mm", 6, 600, 2600, 2.6, 100, 40, "1200 x 2400", 50, "[50, 100, 150]", splice=True),
        "tall four outer": _project("in", 4, 20, 100, 1.3, 3, 1, "48 x 96", 2, "[4, 6]", hand="left", printed="outer",
                                    splice=True),
        "tall screen": SCREEN.replace("1800", "2600").replace("thickness: 25", "thickness: 25, splice: yes, tool: saw"),
        "long screen low": SCREEN.replace("leaf_width: 500, height: 1800", "leaf_width: 2600, height: 900").replace(
            "thickness: 25", "thickness: 25, splice: yes"),
        "large booth": BOOTH.replace("1000 x 1900", "1500 x 2800").replace("500 x 1900", "500 x 2800").replace(
            "thickness: 25", "thickness: 25, splice: yes"),
    }


@cache
def zoo_plan(name: str) -> Plan:
    """The plan of one of them, made once."""
    text = (zoo() | plain_zoo() | releasable_zoo() | spliced_zoo())[name]
    return make_plan(describe(read_text(text, Path(f"{name}.yaml"))))
