"""The night's grid, its hours and its notes."""

from __future__ import annotations

from datetime import UTC, time

import numpy as np
import pytest
from sample_nights import request

from planner.errors import DateOutsideEphemerisError, UsageError
from planner.night.conditions import night_conditions
from planner.night.planning import make_plan
from planner.sheets.night_notes import night_notes
from planner.sheets.night_words import nothing_words


@pytest.mark.parametrize(
    ("site", "date"),
    [("Lindenhof", "2026-03-28"), ("Lindenhof", "2026-10-24"), ("Kauri", "2026-09-26"),
     ("Nordkapp", "2026-12-21")],
)  # fmt: skip
def test_the_grid_has_a_moment_every_five_minutes(site: str, date: str) -> None:
    """On the clock's fives, without a gap, also where the clock is changed."""
    found = night_conditions(request(site, date))
    seconds = [moment.astimezone(UTC).timestamp() for moment in found.instants]
    assert set(np.diff(seconds)) == {300.0}
    assert all(moment.minute % 5 == 0 and moment.second == 0 for moment in found.instants)


def test_the_grid_runs_from_sunset_to_sunrise() -> None:
    """The first whole step after the one, the last before the other."""
    found = night_conditions(request())
    assert found.night.sunset is not None and found.night.sunrise is not None
    assert 0.0 <= (found.instants[0] - found.night.sunset).total_seconds() < 300.0
    assert 0.0 <= (found.night.sunrise - found.instants[-1]).total_seconds() < 300.0


@pytest.mark.parametrize(
    ("start", "end", "hours"),
    [
        (time(22, 0), time(3, 0), 5.0),
        (None, time(23, 0), None),
        (time(2, 0), None, None),
        (time(12, 0), time(12, 0), None),
    ],
)
def test_hours_are_counted_through_midnight(
    start: time | None, end: time | None, hours: float | None
) -> None:
    """A clock time means its first occurrence after noon."""
    found = night_conditions(request(start=start, end=end))
    used = [m for m, dark in zip(found.instants, found.sun_down, strict=True) if dark]
    assert used
    if hours is not None:
        assert (used[-1] - used[0]).total_seconds() == hours * 3600.0
    if start == time(2, 0):
        assert used[0].time() == start
    if end == time(23, 0):
        assert used[-1].time() == end
    if start == end:
        assert len(used) == len(found.instants)


def test_hours_in_the_night_of_the_clock_change_follow_the_clock() -> None:
    """26 October 2026, 3:00 becomes 2:00: from 1:30 to 2:30 by the clock are two real hours."""
    found = night_conditions(request(date="2026-10-24", start=time(1, 30), end=time(2, 30)))
    used = [m for m, dark in zip(found.instants, found.sun_down, strict=True) if dark]
    real = used[-1].astimezone(UTC) - used[0].astimezone(UTC)
    assert real.total_seconds() == 2 * 3600.0


@pytest.mark.parametrize(
    ("site", "date", "words"),
    [
        ("Nordkapp", "2026-06-21", "Midnight sun"),
        ("Nordkapp", "2026-12-21", "Polar night"),
        ("Glen", "2026-06-21", "nautical twilight only"),
        ("Glen", "2026-05-05", "astronomical twilight only"),
        ("Nordkapp", "2026-05-14", "civil twilight only"),
        ("Lindenhof", "2026-10-24", "back from 03:00 to 02:00"),
        ("Lindenhof", "2027-03-27", "forward from 02:00 to 03:00"),
    ],
)
def test_odd_nights_are_remarked_on(site: str, date: str, words: str) -> None:
    """One note for each oddity."""
    (note,) = night_notes(make_plan(request(site, date)))
    assert words in note


def test_a_usual_night_needs_no_remark() -> None:
    """Full darkness, the Sun up by day."""
    assert night_notes(make_plan(request())) == ()


def test_views_below_the_least_exit_pupil_are_left_out() -> None:
    """0.5 mm in the test kit; 5 mm with the Barlow lens gives 0.49."""
    found = night_conditions(request())
    pupils = [view.exit_pupil_mm for view in found.views]
    assert min(pupils) >= 0.5
    assert len(pupils) == len(found.request.views) - 1


def test_dates_beyond_the_ephemeris_are_refused() -> None:
    """The first and the last night are told."""
    with pytest.raises(DateOutsideEphemerisError, match="1899.*2053"):
        night_conditions(request(date="2060-01-01"))


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (time(13, 0), time(14, 0), "from 13:00 to 14:00 hold no moment of the night"),
        (time(9, 0), None, "from 09:00 to dawn hold no moment of the night"),
        (time(23, 1), time(23, 4), "every 5 minutes"),
        (None, time(21, 20), "From dusk to 21:20 the twilight is too bright"),
    ],
)
def test_hours_that_leave_nothing_are_remarked_on(
    start: time | None, end: time | None, words: str
) -> None:
    """At 48 N in mid May the Sun sets about 21:00 and civil dusk follows about 21:35."""
    (note,) = night_notes(make_plan(request(start=start, end=end)))
    assert words in note and "--whole-night" in note


def test_hours_that_end_before_they_begin_are_refused() -> None:
    """Counted from noon; 23:00 to 02:00 runs through midnight and is none of them."""
    with pytest.raises(UsageError, match="from 23:00 until 22:00 hold nothing"):
        night_conditions(request(start=time(23, 0), end=time(22, 0)))
    assert night_notes(make_plan(request(start=time(23, 0), end=time(2, 0)))) == ()
    assert night_notes(make_plan(request(start=time(23, 0), end=time(23, 0)))) == ()


def test_usual_hours_that_miss_the_dark_name_the_remedy() -> None:
    """57.5 N in mid August: much darker after ten; under the midnight sun no hour helps."""
    usual = {"end": time(22, 30), "start_usual": True, "end_usual": True}
    *_, note = night_notes(make_plan(request("Glen", "2026-08-12", limit=1, **usual)))
    assert "the darkest part of the night is left out" in note and "--whole-night" in note
    sunlit = make_plan(request("Nordkapp", "2026-06-21", limit=1, **usual))
    (sun,) = night_notes(sunlit)
    assert "--whole-night" not in sun and "--whole-night" not in nothing_words(sunlit)
