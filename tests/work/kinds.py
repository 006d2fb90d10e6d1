"""Projects that are no even ring: a screen, a booth, a cool-box, a lean-to, and a ring of five with a releasable line."""

from __future__ import annotations

from pathlib import Path

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.plan import Plan, make_plan
from tests.zoo import COOL_BOX, SCREEN

_TEXTS = {
    "screen": SCREEN,
    "booth": """
project: Ticket booth
units: in
shelter:
  preset: free
  leaves:
    - {mark: BACK, size: 40 x 75}
    - {mark: LEFT, size: 20 x 75}
    - {mark: RIGHT, size: 20 x 75}
  seams:
    - {join: BACK.left / LEFT.right}
    - {join: BACK.right / RIGHT.left, open: 90}
boards: {size: 48 x 96, thickness: 1}
""",
    "cool-box": COOL_BOX,
    "lean-to": """
project: Lean-to
units: mm
shelter:
  preset: free
  leaves:
    - {mark: BACK, size: 1050 x 1200}
    - {mark: WING1, outline: [0 x 0, 500 x 0, 500 x 1200, 0 x 900]}
    - {mark: WING2, outline: [0 x 0, 500 x 0, 500 x 900, 0 x 1200]}
  seams:
    - {join: BACK.left / WING1.2}
    - {join: BACK.right / WING2.4}
boards: {size: 1200 x 2400, thickness: 20}
""",
    "ring of five": """
project: Ring of five
units: in
shelter: {walls: 5, releasable: yes, leaf_width: 24, wall_height: 48, slant: 48, tip_trim: 2.5}
doors: {bottom_trim: 1, latch_below_head: 23}
boards: {size: 48 x 96, thickness: 1}
openings:
  - {leaf: A3, size: 8 x 8, across: 12, up: 30}
""",
}


def _plan(name: str) -> Plan:
    return make_plan(describe(read_text(_TEXTS[name], Path(f"{name}.yaml"))))


FIVE = _plan("ring of five")
PLAIN = {name: _plan(name) for name in _TEXTS if name != "ring of five"}
"""The ones that nobody can enter."""

OTHERS = {**PLAIN, "ring of five": FIVE}
