"""The base of every group of keys in a project file."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A group of keys."""

    # The text below each field becomes its description.
    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)
