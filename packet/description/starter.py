"""The starter file: a commented project that prints as it is, to be changed."""

from __future__ import annotations

from packet import resources
from packet.units import System


def starter_text(system: System) -> str:
    """The starter file's text in inches or in millimetres."""
    return (resources.templates() / f"starter_{system}.yaml").read_text(encoding="utf-8")
