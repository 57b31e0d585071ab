"""Moments and stretches of time as the site's clock shows them."""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import TYPE_CHECKING

from planner.ephemeris.clock_change import comes_twice

if TYPE_CHECKING:
    from datetime import datetime


def clock(moment: datetime | None) -> str:
    """Hours and minutes of local time, to the nearest minute, or a dash.

    A time that the clock shows twice, as clocks are set back, says which: ``02:20 CEST``.
    """
    if moment is None:
        return "-"
    told = _to_the_minute(moment)
    return told.strftime("%H:%M %Z" if comes_twice(told) else "%H:%M")


def day_and_clock(moment: datetime) -> str:
    """The date on which the clock shows that time, and the time."""
    return f"{_to_the_minute(moment):%Y-%m-%d} {clock(moment)}"


def _to_the_minute(moment: datetime) -> datetime:
    """Rounded in real time: on the clock's face half a minute may be an hour."""
    return (moment.astimezone(UTC) + timedelta(seconds=30)).astimezone(moment.tzinfo)


def span(start: datetime | None, end: datetime | None) -> str:
    """A stretch of time like ``21:05-01:40``, or a dash."""
    return "-" if start is None or end is None else f"{clock(start)}-{clock(end)}"
