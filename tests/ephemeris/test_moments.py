"""The grid of moments: its times, its clock changes, its axes."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from planner.ephemeris.moments import grid, later, seconds_between
from planner.ephemeris.site import Site
from planner.errors import DateOutsideEphemerisError, ModelRangeError, UsageError

BERLIN = ZoneInfo("Europe/Berlin")
SITE = Site("Lindenhof", 48.1, 8.2, 870.0, "Europe/Berlin", 915.0, 10.0)
EVENING = datetime(2026, 1, 10, 18, 0, tzinfo=BERLIN)


def test_grid_has_evenly_spaced_moments_with_both_ends():
    g = grid(SITE, EVENING, EVENING + timedelta(hours=2), 10)
    assert len(g.instants) == 13
    assert g.instants[0] == EVENING and g.instants[-1] == EVENING + timedelta(hours=2)
    assert np.all(np.diff(g.seconds) == 600.0)
    assert g.zenith.shape == g.north.shape == g.east.shape == g.velocity.shape == (3, 13)


def test_grid_never_reaches_beyond_its_end():
    g = grid(SITE, EVENING, EVENING + timedelta(minutes=25), 10)
    assert g.instants[-1] == EVENING + timedelta(minutes=20)


@pytest.mark.parametrize(
    ("evening", "night_hours"),
    [((2026, 3, 28), 11.0), ((2026, 10, 24), 13.0), ((2026, 5, 1), 12.0)],
)
def test_grid_counts_real_hours_when_the_clock_changes(evening, night_hours):
    # summer time in the EU begins on the last Sunday of March, ends on that of October
    start = datetime(*evening, 19, 0, tzinfo=BERLIN)
    end = datetime(*evening, 7, 0, tzinfo=BERLIN) + timedelta(days=1)
    g = grid(SITE, start, end, 60)
    assert seconds_between(start, end) == night_hours * 3600.0
    assert g.seconds[-1] == night_hours * 3600.0
    assert g.instants[-1].hour == 7
    assert [i.astimezone(UTC) for i in g.instants] == [
        start.astimezone(UTC) + timedelta(hours=k) for k in range(len(g.instants))
    ]


def test_later_moves_by_real_seconds_over_a_clock_change():
    before = datetime(2026, 3, 29, 1, 30, tzinfo=BERLIN)
    after = later(before, 3600.0).astimezone(BERLIN)
    assert (after.hour, after.minute) == (3, 30)


def test_axes_are_at_right_angles_and_of_unit_length():
    g = grid(SITE, EVENING, EVENING + timedelta(hours=6), 30)
    rounding = 1e-12
    for a, b, expected in (
        (g.zenith, g.zenith, 1.0), (g.north, g.north, 1.0), (g.east, g.east, 1.0),
        (g.zenith, g.north, 0.0), (g.zenith, g.east, 0.0), (g.north, g.east, 0.0),
    ):  # fmt: skip
        assert np.sum(a * b, axis=0) == pytest.approx(np.full(13, expected), abs=rounding)
    assert np.cross(g.north, g.zenith, axis=0) == pytest.approx(g.east, abs=rounding)


def test_zenith_stands_at_the_sidereal_time_of_the_site():
    # Mean sidereal time at Greenwich 1987 April 10, 19h21m UT: 8h34m57.0896s; Meeus 1998,
    # Astronomical Algorithms, ex. 12.b (from memory). The zenith's right ascension of J2000
    # is earlier by precession: 3.07 s/yr + 1.34 s/yr sin(ra) tan(dec), 12.73 years.
    greenwich = Site("Greenwich", 0.0, 0.0, 0.0, "UTC", 1010.0, 10.0)
    t = datetime(1987, 4, 10, 19, 21, tzinfo=UTC)
    g = grid(greenwich, t, t, 1)
    sidereal_s = (8 * 60 + 34) * 60 + 57.0896
    expected_s = sidereal_s + 3.075 * 12.73
    found_s = np.degrees(np.arctan2(g.zenith[1, 0], g.zenith[0, 0])) * 240.0
    nutation_and_dut1_s = 1.5
    assert found_s == pytest.approx(expected_s, abs=nutation_and_dut1_s)


def test_velocity_is_the_earths():
    # constant of aberration 20.49552" (IAU 1976) is the mean of v/c; the orbit's eccentricity
    # moves it by 1.7 %, rotation by up to 0.32"
    g = grid(SITE, EVENING, EVENING + timedelta(hours=6), 30)
    aberration = np.degrees(np.linalg.norm(g.velocity, axis=0)) * 3600.0
    assert np.all(np.abs(aberration - 20.496) < 0.017 * 20.496 + 0.32)


def test_years_are_julian_years():
    t = datetime(2000, 1, 1, 12, 0, tzinfo=UTC)
    one_day = 1.0 / 365.25
    assert grid(SITE, t, t, 1).years[0] == pytest.approx(2000.0, abs=0.01 * one_day)


@pytest.mark.parametrize("step", [0.0, -5.0, float("nan")])
def test_grid_rejects_a_step_of_no_length(step):
    with pytest.raises(ModelRangeError, match="step above zero"):
        grid(SITE, EVENING, EVENING + timedelta(hours=1), step)


def test_grid_rejects_an_end_before_its_start():
    with pytest.raises(ModelRangeError, match="end after its start"):
        grid(SITE, EVENING, EVENING - timedelta(hours=1), 10)


def test_grid_rejects_times_without_zone():
    with pytest.raises(UsageError, match="need a zone"):
        grid(SITE, datetime(2026, 1, 1), datetime(2026, 1, 2), 10)


def test_grid_rejects_times_outside_the_ephemeris():
    late = datetime(2060, 1, 1, tzinfo=UTC)
    with pytest.raises(DateOutsideEphemerisError, match="2060-01-01"):
        grid(SITE, late, late, 10)
