"""The hours of a night as a clock on the wall shows them."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

DAY_MIN = 1440


def next_step(moment: dt.datetime, step_min: int) -> dt.datetime:
    """The next whole step of the clock at or after an aware moment."""
    step_s = 60 * step_min
    seconds = moment.minute * 60 + moment.second + moment.microsecond / 1e6
    wait = -seconds % step_s
    in_utc = moment.astimezone(dt.UTC) + dt.timedelta(seconds=wait)
    return in_utc.replace(microsecond=0).astimezone(moment.tzinfo)


def within_hours(
    instants: Sequence[dt.datetime],
    night_start: dt.datetime,
    start: dt.time | None,
    end: dt.time | None,
) -> NDArray[np.bool_]:
    """Which moments (T,) lie between two clock times: one unbroken stretch of the night.

    Counted on the clock's face from noon, or from the night's start where that is earlier; None
    leaves a side open. Of times that the clock shows twice, the first begins the stretch (the
    second where ``start.fold`` is 1) and the second ends it.
    Raises UsageError for hours that end before they begin.
    """
    face = night_start.replace(tzinfo=None)
    first = min(face, face.replace(hour=12, minute=0, second=0, microsecond=0))
    minutes = np.array([_minutes(moment.replace(tzinfo=None) - first) for moment in instants])
    begin = -np.inf if start is None else _minutes(_at_clock(first, start) - first)
    last = np.inf if end is None else _minutes(_at_clock(first, end) - first) or DAY_MIN
    if begin > last:
        raise UsageError(
            f"the hours from {start:%H:%M} until {end:%H:%M} hold nothing: a night is counted from "
            f"noon to noon, and {end:%H:%M} comes before {start:%H:%M} in it"
        )
    begun = minutes >= begin
    if start is not None and start.fold:
        local = _at_clock(first, start).replace(tzinfo=night_start.tzinfo, fold=1)
        second = local.astimezone(dt.UTC)
        begun = np.array([moment.astimezone(dt.UTC) >= second for moment in instants])
    going_on = np.logical_or.accumulate((minutes <= last)[::-1])[::-1]
    return np.asarray(np.logical_or.accumulate(begun) & going_on)


def comes_before(one: dt.time, other: dt.time) -> bool:
    """Whether a clock time comes before another in a night, which is counted from noon."""
    noon = dt.time(12)
    return (one < noon, one) < (other < noon, other)


def _at_clock(first: dt.datetime, time: dt.time) -> dt.datetime:
    """The first moment at or after ``first`` when the clock shows that time."""
    moment = dt.datetime.combine(first.date(), time.replace(fold=0))
    return moment if moment >= first else moment + dt.timedelta(days=1)


def _minutes(span: dt.timedelta) -> float:
    return span.total_seconds() / 60.0
