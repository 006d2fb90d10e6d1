"""Links from every place where a sheet's number stands in words (`see sheet X-01`) to that sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from packet.drawing.lettering import Lettering
from packet.drawing.marks import Link, Rect, Text
from packet.drawing.page import Sheet
from packet.work.sheet_numbers import PATTERN

ROUND = 1.0
"""mm around the lettering that answer to a click as well."""

_NUMBER = re.compile(PATTERN)


def with_callouts(sheet: Sheet, lettering: Lettering) -> Sheet:
    """The sheet with a link over each number of another sheet that stands on it and has none yet.

    Whether the packet at hand holds that sheet is the writer's question: it leaves out links that lead nowhere.
    """
    return replace(sheet, links=(*sheet.links, *_callouts(sheet, lettering)))


def _callouts(sheet: Sheet, lettering: Lettering) -> Iterator[Link]:
    for mark in sheet.marks:
        if not isinstance(mark, Text) or mark.angle or len(mark.string) < 4:
            continue
        for found in _NUMBER.finditer(mark.string):
            if found[0] == sheet.number:
                continue
            rect = _box(mark, found.start(), found.end(), lettering)
            if not any(_inside(rect, link.rect) for link in sheet.links):
                yield Link(rect, found[0])


def _box(text: Text, start: int, stop: int, lettering: Lettering) -> Rect:
    """Around a part of a text, mm."""
    length = lettering.width(text.string, text.style)
    left = text.at[0] - {"left": 0.0, "centre": length / 2, "right": length}[text.anchor]
    x = left + lettering.width(text.string[:start], text.style)
    wide = lettering.width(text.string[start:stop], text.style)
    return x - ROUND, text.at[1] - ROUND, x + wide + ROUND, text.at[1] + text.style.height + ROUND


def _inside(rect: Rect, other: Rect) -> bool:
    """Whether the middle of a rectangle lies in another."""
    x, y = (rect[0] + rect[2]) / 2, (rect[1] + rect[3]) / 2
    return other[0] <= x <= other[2] and other[1] <= y <= other[3]
