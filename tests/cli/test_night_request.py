"""What the commands say about the time of asking."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from sample_nights import KIT

from planner.cli.night_request import running_note
from planner.ephemeris.civil_night import civil_night


@pytest.mark.parametrize(
    ("utc", "clock"),
    [
        (datetime(2026, 12, 8, 11, 0), None),
        (datetime(2026, 12, 8, 15, 30), None),
        (datetime(2026, 12, 8, 15, 40), "16:40"),
        (datetime(2026, 12, 8, 23, 55, 40), "00:55"),
    ],
)
def test_a_night_that_is_on_says_how_to_leave_out_what_is_over(
    utc: datetime, clock: str | None
) -> None:
    """Sunset on 8 December at 48.1 N 8.2 E: about 16:34 by the clock (almanac, from memory)."""
    night = civil_night(KIT.site("Lindenhof").site, date(2026, 12, 8))
    note = running_note(night, utc.replace(tzinfo=UTC))
    if clock is None:
        assert note == ""
    else:
        assert note.startswith(f"note: it is {clock} now")
        assert note.endswith(f"--from {clock}\n") and len(note) <= 101


def test_the_midnight_sun_has_no_night_to_be_on() -> None:
    night = civil_night(KIT.site("Nordkapp").site, date(2026, 6, 21))
    assert running_note(night, datetime(2026, 6, 21, 22, 0, tzinfo=UTC)) == ""
