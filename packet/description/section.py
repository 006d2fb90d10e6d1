"""The base of every group of keys in a project file."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A group of keys. Files of such groups do without postponed annotations: pydantic would compile each of them again."""

    # The text below each field is its meaning; `meanings` reads it when asked, so that printing need not.
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
