"""The crew's clock: days of work with their breaks, and times in which some work rests."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache

from packet.description.clock import DAY
from packet.description.crew_values import Crew

Window = tuple[float, float]
"""From and to, minutes from midnight of the first day."""

DAYS = 365
"""Days that the work may take; what takes longer has wrong figures, or a crew that is too small for the order."""

LAID_OUT = DAYS + 30
"""Days on the clock: some more, so that what a delay costs can be told up to the last one."""


@dataclass(frozen=True)
class WorkingDays:
    """Windows of work in their order, none touching the next."""

    windows: tuple[Window, ...]

    @cached_property
    def _starts(self) -> list[float]:
        return [begins for begins, _ in self.windows]

    def opens(self, moment: float) -> float:
        """The first moment, from this one on, at which work goes on. Raises OverflowError past the last day."""
        place = bisect_right(self._starts, moment + 1e-9) - 1
        if place >= 0 and moment < self.windows[place][1] - 1e-9:
            return moment
        if place + 1 == len(self.windows):
            raise OverflowError(f"the work takes more than {LAID_OUT} days")
        return self.windows[place + 1][0]

    def after(self, moment: float, minutes: float) -> float:
        """When that much work, begun at an open moment, is done."""
        left = minutes
        while True:
            moment = self.opens(moment)
            place = bisect_right(self._starts, moment + 1e-9) - 1
            till = self.windows[place][1]
            if left <= till - moment + 1e-9:
                return moment + left
            left -= till - moment
            moment = till

    def worked(self, moment: float) -> float:
        """Minutes of work from the start to this moment."""
        return sum(max(0.0, min(ends, moment) - begins) for begins, ends in self.windows)

    def within(self, minutes: float) -> float:
        """How much of that time on the clock is work, whenever it begins: that of its whole days."""
        return minutes // DAY * self.worked(DAY)

    def without(self, closed: Iterable[Window]) -> WorkingDays:
        """The same days with more rest."""
        windows = self.windows
        for begins, ends in closed:
            first = bisect_right(windows, begins, key=lambda window: window[1])
            last = bisect_left(windows, ends, lo=first, key=lambda window: window[0])
            open_yet = (part for a, b in windows[first:last] for part in ((a, min(b, begins)), (max(a, ends), b)))
            windows = (*windows[:first], *(part for part in open_yet if part[1] > part[0]), *windows[last:])
        return WorkingDays(windows)


@lru_cache(maxsize=4)  # what one more pair of hands saves, and what a station's rest costs, is asked of one crew
def working_days(crew: Crew) -> WorkingDays:
    """The crew's days: from its start until its hours are worked, breaks left out."""
    day = tuple(_day(crew))
    return WorkingDays(tuple((DAY * number + begins, DAY * number + ends)
                             for number in range(LAID_OUT) for begins, ends in day))


@lru_cache(maxsize=4)
def taping_days(crew: Crew) -> WorkingDays:
    """The same without the pauses in which no tape is laid."""
    return working_days(crew).without(
        (DAY * (pause.day - 1) + pause.hours[0], DAY * (pause.day - 1) + pause.hours[1]) for pause in crew.pauses)


def _day(crew: Crew) -> Iterable[Window]:
    left, now = 60.0 * crew.hours, float(crew.start)
    for begins, ends in sorted(crew.breaks):
        if ends <= now:
            continue
        if begins - now >= left:
            break
        if begins > now:
            yield now, float(begins)
            left -= begins - now
        now = float(ends)
    # What is left after the last break ends at midnight at the latest: a day holds no more.
    if left > 0 and now < DAY:
        yield now, min(now + left, float(DAY))
