"""Clock changes of civil nights, against the rules of the countries."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from planner.ephemeris.clock_change import clock_change, comes_twice

# zone, evening, clock before and after, whether the hands go back.
CHANGES = [
    # EU Directive 2000/84/EC: last Sundays of March and October, 1:00 UTC
    ("Europe/Berlin", (2026, 10, 24), "2026-10-25 03:00 CEST", "2026-10-25 02:00 CET", True),
    ("Europe/Berlin", (2027, 3, 27), "2027-03-28 02:00 CET", "2027-03-28 03:00 CEST", False),
    ("Europe/London", (2026, 10, 24), "2026-10-25 02:00 BST", "2026-10-25 01:00 GMT", True),
    # U.S. Energy Policy Act of 2005: first Sunday of November, 2:00 local time
    ("America/Denver", (2026, 10, 31), "2026-11-01 02:00 MDT", "2026-11-01 01:00 MST", True),
    # by half an hour, and from one date into the one before (zone database, from memory)
    ("Australia/Lord_Howe", (2026, 4, 4), "2026-04-05 02:00 +11", "2026-04-05 01:30 +1030", True),
    ("America/Nuuk", (2026, 10, 24), "2026-10-25 00:00 -01", "2026-10-24 23:00 -02", True),
]


def around_midnight(zone: ZoneInfo, date: tuple[int, int, int]) -> tuple[datetime, datetime]:
    """Odd moments near the noons around a night."""
    noon = datetime(*date, 12, 17, 33, 500, tzinfo=zone)
    return noon, (noon + timedelta(days=1)).replace(second=1)


@pytest.mark.parametrize(("name", "date", "old", "new", "back"), CHANGES)
def test_clock_change_agrees_with_the_law(
    name: str, date: tuple[int, int, int], old: str, new: str, back: bool
) -> None:
    zone = ZoneInfo(name)
    change = clock_change(zone, *around_midnight(zone, date))
    assert change is not None and change.back is back
    assert f"{change.old:%Y-%m-%d %H:%M} {change.old_name}" == old
    assert f"{change.new:%Y-%m-%d %H:%M} {change.new_name}" == new


@pytest.mark.parametrize("date", [(2026, 10, 23), (2026, 10, 25), (2026, 7, 1)])
def test_a_night_without_a_change_has_none(date: tuple[int, int, int]) -> None:
    zone = ZoneInfo("Europe/Berlin")
    assert clock_change(zone, *around_midnight(zone, date)) is None


@pytest.mark.parametrize(
    ("utc", "twice"),
    [
        (datetime(2026, 10, 24, 23, 59), False),
        (datetime(2026, 10, 25, 0, 0), True),  # 2:00 CEST
        (datetime(2026, 10, 25, 1, 59), True),  # 2:59 CET
        (datetime(2026, 10, 25, 2, 0), False),  # 3:00 CET
        (datetime(2027, 3, 28, 1, 0), False),  # 3:00 CEST, next after 1:59 CET
    ],
)
def test_only_the_hour_repeated_comes_twice(utc: datetime, twice: bool) -> None:
    """By the same directive."""
    moment = utc.replace(tzinfo=UTC)
    assert comes_twice(moment.astimezone(ZoneInfo("Europe/Berlin"))) is twice
    assert not comes_twice(moment)
