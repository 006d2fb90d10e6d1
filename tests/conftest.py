"""Shared by all tests: projects by name, and plans made once."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

# As the program itself does: threads for small matrices only wait for each other, and for those of other tests.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from packet.description import load
from packet.plan import Plan, make_plan
from packet.resources import samples

HERE = Path(__file__).parent
CHECK_CASE = HERE / "projects" / "check_case.yaml"
SAMPLES = tuple(sorted(samples().glob("*.yaml")))


@cache
def plan_of(path: Path) -> Plan:
    return make_plan(load(path))
