"""Paper sizes by name, or as people write a size.

Sizes: ISO 216 (A series) and ASME Y14.1 (letter is its A, tabloid its B); legal is common practice.
"""

from __future__ import annotations

import difflib
from dataclasses import replace
from typing import TYPE_CHECKING

from packet.description.problems import Problem, ProjectError
from packet.units import Format, LengthError, System, parse_size

if TYPE_CHECKING:
    from packet.description.resolved import Description

#: name -> (short, long) in mm
_PAPERS = {
    "letter": (215.9, 279.4),
    "a4": (210.0, 297.0),
    "legal": (215.9, 355.6),
    "a3": (297.0, 420.0),
    "tabloid": (279.4, 431.8),
}
_LEAST = (203.2, 266.7)  # the sheets are laid out for letter and A4; less cannot hold them
_MOST = 5080.0  # 200 in, the largest page that PDF readers agree on (ISO 32000-1, annex C)


class PaperError(ValueError):
    """A text that names no paper. `wrong` says why, `limit` what is allowed, `remedy` what to write."""

    def __init__(self, wrong: str, limit: str, remedy: str) -> None:
        super().__init__(f"{wrong}. {remedy}")
        self.wrong = wrong
        self.limit = limit
        self.remedy = remedy


def paper_names() -> tuple[str, ...]:
    """The papers known by name."""
    return tuple(_PAPERS)


def parse_paper(text: str, bare: str) -> tuple[tuple[float, float], str]:
    """((short, long) in mm, name) of a paper; bare numbers are in `bare`. Raises PaperError."""
    word = text.strip().lower()
    if word in _PAPERS:
        return _PAPERS[word], word
    names = ", ".join(_PAPERS)
    if not any(mark.isdigit() for mark in word) or (len(word) < 4 and "x" not in word):
        near = difflib.get_close_matches(word[:60], _PAPERS, n=1)
        remedy = f"Write {near[0]}." if near else f"Write {names}, or a size such as 24 x 36 in."
        raise PaperError("there is no paper of this name here", f"{names}, or a size", remedy)
    try:
        sides = parse_size(text, bare)
    except LengthError as error:
        raise PaperError(error.wrong, f"{names}, or a size", f"{error.remedy[0].upper()}{error.remedy[1:]}.") from None
    form = Format(System(bare))
    limit = f"from {form.size(*_LEAST)} to {form.size(_MOST, _MOST)}"
    if len(sides) != 2:
        raise PaperError("a paper size is two lengths", limit, "Write it as width x height.")
    short, long = sorted(sides)
    if short < _LEAST[0] or long < _LEAST[1]:
        raise PaperError("this paper is too small for the sheets", limit, "Write letter or a4, or a larger size.")
    if long > _MOST:
        raise PaperError("this paper is too large for a PDF page", limit, "Write a smaller size.")
    return (short, long), form.size(short, long)


def with_paper(description: Description, text: str) -> Description:
    """The same project on other paper, as asked for when it is printed. Raises ProjectError."""
    try:
        paper, name = parse_paper(text, description.system)
    except PaperError as error:
        raise ProjectError([Problem("--paper", 0, 0, "", text, error.wrong, error.limit, error.remedy)]) from None
    assumed = tuple(key for key in description.assumed if key != "paper")
    return replace(description, paper=paper, paper_name=name, assumed=assumed)
