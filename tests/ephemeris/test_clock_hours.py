"""Hours of a night by the clock on the wall."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from planner.ephemeris.clock_hours import comes_before, within_hours

BERLIN = ZoneInfo("Europe/Berlin")
STEP = timedelta(minutes=10)


def hours(start: time | None, end: time | None, noon: datetime) -> list[str]:
    """First and last moment, in UTC, of the stretch in the day from a noon in UTC."""
    instants = [(noon + STEP * i).astimezone(BERLIN) for i in range(145)]
    inside = np.flatnonzero(within_hours(instants, instants[0], start, end))
    assert (np.diff(inside) == 1).all()  # one stretch
    return [f"{instants[i].astimezone(UTC):%H:%M}" for i in (inside[0], inside[-1])]


@pytest.mark.parametrize(
    ("start", "end", "utc"),
    [
        (time(1, 30), time(2, 30), ["23:30", "01:30"]),
        (time(2, 20), time(4, 0), ["00:20", "03:00"]),
        (time(2, 20, fold=1), time(4, 0), ["01:20", "03:00"]),
        (None, time(2, 50), ["11:00", "01:50"]),
    ],
)
def test_hours_are_one_stretch_where_the_clock_goes_back(
    start: time | None, end: time, utc: list[str]
) -> None:
    """3:00 becomes 2:00 on 25 October 2026 at 1:00 UTC (IANA zone rules)."""
    assert hours(start, end, datetime(2026, 10, 24, 11, tzinfo=UTC)) == utc


@pytest.mark.parametrize(
    ("start", "utc"), [(time(1, 30), "00:30"), (time(2, 30), "01:00"), (time(3, 0), "01:00")]
)
def test_a_time_that_the_clock_leaves_out_is_that_of_the_change(start: time, utc: str) -> None:
    """2:00 becomes 3:00 on 28 March 2027 at 1:00 UTC."""
    assert hours(start, time(5, 0), datetime(2027, 3, 27, 11, tzinfo=UTC)) == [utc, "03:00"]


def test_a_night_is_counted_from_noon() -> None:
    evening, late, small, morning = time(18, 0), time(23, 59), time(0, 30), time(6, 0)
    order = [time(12, 0), evening, late, small, morning, time(11, 59)]
    for before, after in zip(order, order[1:], strict=False):
        assert comes_before(before, after) and not comes_before(after, before)
    assert not comes_before(late, late)
