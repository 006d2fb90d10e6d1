"""Sheet numbers: a letter for the station and a count, four characters (`C-04`), five in a very long sheet (`C82BB`).

Sheets and tasks call each other by name, and this is the only place that turns a name into a number.
"""

from __future__ import annotations

_NUMBERS = {
    "cover": "L-01",
    "cautions": "L-02",
    "arrangement": "L-03",
    "checklist": "L-04",
    "crew": "L-30",
    "words": "L-31",
    "added": "L-32",
    "recall": "L-33",
    "set_holds": "L-34",
    "order": "P-01",
    "strips": "P-02",
    "cuts": "C-00",
    "receiving": "P-03",
    "parts": "P-06",
    "alternates": "P-05",
    "gauges": "P-07",
    "halves": "H-00",
    "splice": "H-01",
    "recipe.mid": "H-02",
    "recipe.corner": "H-03",
    "recipe.seam": "H-04",
    "recipe.sill": "E-01",
    "relief": "E-02",
    "door": "E-03",
    "openings": "E-04",
    "recipe.eave": "R-01",
    "roof": "R-02",
    "fold": "J-01",
    "recipe.hip": "J-02",
    "recipe.release": "J-03",
    "erect": "X-01",
    "labels": "C-82",
    "mending": "C-83",
    "inspection": "X-02",
    "set_up": "X-30",
    "strike": "X-31",
    **{f"tent.{letter}": f"{letter}-80" for letter in "PCHERJXL"},
    **{f"passing.{letter}": f"{letter}-81" for letter in "PCHERJXL"},
    "weather": "P-08",
    "carry": "P-09",
    "site": "X-05",
    "wind": "X-06",
    "air": "X-07",
    "keep": "X-08",
}

_COUNTING = {"checklist": 29, "recipe.seam": 79, "mending": 99, "set_holds": 79}
"""Sheets whose pages count on, and the last count before another sheet's: behind that they are told apart by letters."""

_SERIES = "LPCHERJX"
_SUFFIXES = "BCDEFGHJKLMNPQRSTUVWXYZ"  # no I, no O: they read as figures
PATTERN = rf"(?<![\w-])[{_SERIES}](?:-[0-9]{{2}}|-[1-9][{_SUFFIXES}]{{1,2}}|[0-9]{{2}}[{_SUFFIXES}]{{1,2}})(?![\w-])"
"""A sheet number in running text, as a regular expression."""


def sheet_number(name: str, page: int = 1) -> str:
    """The number of the sheet of that name; further pages of one sheet are `L-2B`, `L-2C` and on, after `L-2Z` `L-2BB`.

    A sheet with free numbers behind it counts on through them, decisions on spoiled parts to `C-99` and then `C99B`.
    Raises KeyError for an unknown name, ValueError for a page that cannot be numbered.
    """
    if name not in _NUMBERS:
        raise KeyError(f"there is no sheet named {name!r}; known: {', '.join(_NUMBERS)}")
    number = _NUMBERS[name]
    series, count = number.split("-")
    end = _COUNTING.get(name, int(count))
    last = 1 + end - int(count) + len(_SUFFIXES) * (len(_SUFFIXES) + 1)
    if not 1 <= page <= last:
        raise ValueError(f"sheet {name!r} has no page {page}; the last that can be numbered is {last}")
    turn = int(count) + page - 1
    return f"{series}-{turn:02d}" if turn <= end else _continued(series, end, turn - end + 1)


def _continued(series: str, count: int, page: int) -> str:
    """`L-2B`, or `L30B` where the count leaves no room for the dash."""
    turn, place = divmod(page - 2, len(_SUFFIXES))
    return f"{series}{'-' if count < 10 else ''}{count}{_SUFFIXES[turn - 1] if turn else ''}{_SUFFIXES[place]}"


def sheet_named(number: str) -> str | None:
    """The name of the sheet that a page number belongs to; None for a marking sheet. Raises ValueError for what is no
    page number."""
    series, count, _ = binding_order(number)
    starts = {binding_order(first)[:2]: name for name, first in _NUMBERS.items()}
    if (series, count) in starts:
        return starts[series, count]
    before = [(start, name) for start, name in starts.items() if start < (series, count) and start[0] == series]
    return max((entry for entry in before if entry[1] in _COUNTING), default=(None, None))[1]


def binding_order(number: str) -> tuple[int, int, str]:
    """A key that sorts sheet numbers as they are bound: station by station, `L-2B` between `L-02` and `L-03`."""
    series, count = number[0], number[1:].removeprefix("-")
    return _SERIES.index(series), int(count.rstrip(_SUFFIXES)), count.lstrip("0123456789").rjust(2)


def board_sheet(number: int, page: int = 1) -> str:
    """The number of the marking sheet of that run of boards (`boards.alike`): run 3, which is board 3 where there is
    one set, is on `C-03`, its further pages on `C-3B`, `C-3C` and on; those of run 10 on `C10B`."""
    if page == 1:
        return f"C-{number:02d}"
    return _continued("C", number, page)
