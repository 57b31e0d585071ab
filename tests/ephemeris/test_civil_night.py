"""The civil night against two independent libraries and the calendar's awkward corners."""

import math
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import astronomy
import ephem
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ephemeris.civil_night import Darkness, civil_night, coming_night_date
from planner.ephemeris.moments import seconds_between
from planner.ephemeris.site import Site
from planner.errors import DateOutsideEphemerisError, KitError, UsageError

EVENT_TOLERANCE_S = 15.0  # the libraries differ from one another by up to 8 s at 70 N


def site(latitude, longitude, zone):
    return Site(zone, latitude, longitude, 0.0, zone, 1010.0, 10.0)


SITES = [
    site(70.0, 25.0, "Europe/Oslo"),
    site(64.1, -21.9, "Atlantic/Reykjavik"),  # solar midnight at 1:28
    site(48.1, 8.2, "Europe/Berlin"),
    site(39.5, 76.0, "Asia/Shanghai"),  # solar midnight at 2:56
    site(0.0, -78.5, "America/Guayaquil"),
    site(1.87, -157.4, "Pacific/Kiritimati"),  # UTC+14
    site(-13.83, -171.75, "Pacific/Apia"),  # UTC+13 at western longitude
    site(-36.85, 174.76, "Pacific/Auckland"),
    site(-55.0, -68.0, "America/Argentina/Ushuaia"),
]
BERLIN = SITES[2]
NORTH70 = SITES[0]
HORIZON_EVENTS = (
    ("-0:50", "sunset", "sunrise"),
    ("-6", "civil_dusk", "civil_dawn"),
    ("-12", "nautical_dusk", "nautical_dawn"),
    ("-18", "astronomical_dusk", "astronomical_dawn"),
)


def events_by_ephem(night):
    """All ten events within the night, or None: pressure 0, refraction put into the horizon."""
    place = ephem.Observer()
    place.lat, place.lon = str(night.site.latitude_deg), str(night.site.longitude_deg)
    place.elevation, place.pressure = 0, 0

    def first(body, horizon, setting, center):
        place.horizon = horizon
        place.date = ephem.Date(night.start.astimezone(UTC).replace(tzinfo=None))
        search = place.next_setting if setting else place.next_rising
        try:
            found = search(body, use_center=center).datetime().replace(tzinfo=UTC)
        except (ephem.AlwaysUpError, ephem.NeverUpError):
            return None
        return found if seconds_between(found, night.end) > 0 else None

    events = {}
    for horizon, dusk, dawn in HORIZON_EVENTS:
        events[dusk] = first(ephem.Sun(), horizon, True, True)
        events[dawn] = first(ephem.Sun(), horizon, False, True)
    events["moonset"] = first(ephem.Moon(), "-0:34", True, False)
    events["moonrise"] = first(ephem.Moon(), "-0:34", False, False)
    return events


@pytest.mark.parametrize("place", SITES, ids=lambda s: s.name)
@pytest.mark.parametrize("month", [1, 3, 6, 7, 9, 12])
def test_civil_night_agrees_with_ephem(place, month):
    night = civil_night(place, date(2026, month, 21))
    for name, expected in events_by_ephem(night).items():
        found = getattr(night, name)
        assert (found is None) == (expected is None), name
        if found is not None:
            assert abs(seconds_between(expected, found)) < EVENT_TOLERANCE_S, name


@pytest.mark.parametrize("place", SITES, ids=lambda s: s.name)
@pytest.mark.parametrize("day", [date(2026, 2, 3), date(2026, 8, 19)], ids=str)
def test_civil_night_agrees_with_astronomy_engine(place, day):
    night = civil_night(place, day)
    observer = astronomy.Observer(place.latitude_deg, place.longitude_deg, 0.0)
    start = astronomy.Time.Parse(night.start.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z"))
    rise, fall = astronomy.Direction.Rise, astronomy.Direction.Set
    expected = {
        "sunset": astronomy.SearchRiseSet(astronomy.Body.Sun, observer, fall, start, 1.0),
        "sunrise": astronomy.SearchRiseSet(astronomy.Body.Sun, observer, rise, start, 1.0),
        "moonset": astronomy.SearchRiseSet(astronomy.Body.Moon, observer, fall, start, 1.0),
        "moonrise": astronomy.SearchRiseSet(astronomy.Body.Moon, observer, rise, start, 1.0),
    }
    for altitude, dusk, dawn in ((-6, "civil_dusk", "civil_dawn"),
                                 (-18, "astronomical_dusk", "astronomical_dawn")):  # fmt: skip
        for name, way in ((dusk, fall), (dawn, rise)):
            expected[name] = astronomy.SearchAltitude(
                astronomy.Body.Sun, observer, way, start, 1.0, altitude
            )
    for name, moment in expected.items():
        found = getattr(night, name)
        if moment is None or found is None:
            at = moment and moment.Utc().replace(tzinfo=UTC)
            assert found is None and (at is None or seconds_between(night.end, at) > 0), name
        else:
            off = seconds_between(moment.Utc().replace(tzinfo=UTC), found)
            assert abs(off) < EVENT_TOLERANCE_S, name


@settings(deadline=None, max_examples=40)
@given(st.floats(-58.0, 58.0), st.integers(-11, 12), st.dates(date(1973, 1, 1), date(2053, 1, 1)))
def test_events_come_in_order_wherever_the_sun_sets(latitude, hours_east, day):
    zone = f"Etc/GMT{-hours_east:+d}" if hours_east else "UTC"
    night = civil_night(site(latitude, 15.0 * hours_east, zone), day)
    down = (
        night.start,
        night.sunset,
        night.civil_dusk,
        night.nautical_dusk,
        night.astronomical_dusk,
    )
    up = (night.astronomical_dawn, night.nautical_dawn, night.civil_dawn, night.sunrise, night.end)
    happened = [t.astimezone(UTC) for t in (*down, *up) if t is not None]
    assert happened == sorted(happened)
    assert night.sunset is not None and night.sunrise is not None
    assert night.sunset.date() == day
    assert (night.astronomical_dusk is None) == (night.deepest_twilight is not Darkness.FULL)
    longest_change_of_noon_s = 31.0  # equation of time changes by up to 30 s a day
    assert abs(seconds_between(night.start, night.end) - 86400.0) < longest_change_of_noon_s


@pytest.mark.parametrize("place", SITES, ids=lambda s: s.name)
def test_nights_follow_one_another_without_gap(place):
    first, second = (civil_night(place, date(2026, 4, d)) for d in (10, 11))
    noons_differ_s = 2.0  # each noon is found from its own midnight, by one step
    assert abs(seconds_between(first.end, second.start)) < noons_differ_s


@pytest.mark.parametrize("place", SITES, ids=lambda s: s.name)
def test_the_sun_is_on_the_meridian_at_the_nights_ends(place):
    night = civil_night(place, date(2026, 11, 3))
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = (
        str(place.latitude_deg),
        str(place.longitude_deg),
        0,
    )
    observer.date = ephem.Date(night.start.astimezone(UTC).replace(tzinfo=None)) - ephem.hour
    transit = observer.next_transit(ephem.Sun()).datetime().replace(tzinfo=UTC)
    assert abs(seconds_between(transit, night.start)) < 3.0  # delta T and one step's rest


@pytest.mark.parametrize(
    ("day", "clock_hours"),
    [(date(2026, 3, 28), 25), (date(2026, 10, 24), 23), (date(2026, 6, 1), 24)],
)
def test_a_night_with_a_clock_change_is_24_real_hours_long(day, clock_hours):
    # summer time in the EU begins on the last Sunday of March, ends on that of October
    night = civil_night(BERLIN, day)
    noon_s = 31.0
    assert abs(seconds_between(night.start, night.end) - 86400.0) < noon_s
    on_the_clock = night.end.replace(tzinfo=None) - night.start.replace(tzinfo=None)
    assert abs(on_the_clock.total_seconds() - 3600.0 * clock_hours) < noon_s
    assert night.sunset.utcoffset() != night.sunrise.utcoffset() or clock_hours == 24


@pytest.mark.parametrize("place", SITES[2:], ids=lambda s: s.name)
def test_the_evening_belongs_to_the_date_asked_for(place):
    for day in (date(2026, 1, 1), date(2026, 6, 30), date(2026, 12, 31)):
        night = civil_night(place, day)
        assert night.sunset.date() == day
        assert night.sunrise.date() == day + timedelta(days=1)
        assert night.sunset.tzinfo == ZoneInfo(place.timezone)


def test_midnight_sun_at_70_north():
    night = civil_night(NORTH70, date(2026, 6, 21))
    assert night.deepest_twilight is Darkness.MIDNIGHT_SUN
    assert night.sunset is None and night.sunrise is None and not night.sun_never_rises
    # at midnight the Sun stands at 70 + 23.44 - 90 degrees
    assert night.lowest_sun_deg == pytest.approx(3.44, abs=0.01)


def test_polar_night_at_70_north():
    night = civil_night(NORTH70, date(2026, 12, 21))
    assert night.sun_never_rises and night.sunset is None and night.sunrise is None
    # at midnight the Sun stands at 70 - 23.44 - 90 degrees
    assert night.lowest_sun_deg == pytest.approx(-43.44, abs=0.01)
    assert night.deepest_twilight is Darkness.FULL
    assert night.astronomical_dusk is not None and night.astronomical_dawn is not None


@pytest.mark.parametrize("latitude", [90.0, 85.0])
def test_near_the_pole_the_whole_winter_day_is_dark(latitude):
    night = civil_night(site(latitude, 0.0, "UTC"), date(2026, 12, 21))
    # the Sun runs between 23.44 degrees under the horizon, less and more the pole's distance
    assert night.lowest_sun_deg == pytest.approx(latitude - 90.0 - 23.44, abs=0.01)
    assert night.sun_never_rises and night.deepest_twilight is Darkness.FULL
    assert night.astronomical_dusk is None and night.astronomical_dawn is None


@pytest.mark.parametrize(
    ("latitude", "darkness"),
    [
        (45.0, Darkness.FULL),  # midsummer Sun at midnight: latitude + 23.44 - 90 degrees
        (50.0, Darkness.ASTRONOMICAL),
        (56.0, Darkness.NAUTICAL),
        (63.0, Darkness.CIVIL),
        (66.0, Darkness.MIDNIGHT_SUN),  # by refraction and the Sun's radius
    ],
)
def test_deepest_twilight_at_midsummer_follows_from_the_latitude(latitude, darkness):
    night = civil_night(site(latitude, 0.0, "UTC"), date(2026, 6, 20))
    assert night.deepest_twilight is darkness
    assert night.lowest_sun_deg == pytest.approx(latitude + 23.44 - 90.0, abs=0.01)


@pytest.mark.parametrize("place", SITES[2:], ids=lambda s: s.name)
@pytest.mark.parametrize(
    ("hour", "days_later"), [((0, 30), -1), ((3, 0), -1), ((9, 30), 0), ((16, 0), 0), ((23, 30), 0)]
)
def test_coming_night_is_the_one_in_progress_or_todays(place, hour, days_later):
    # near the equinox the Sun rises between 5:40 and 8:50 on every one of these clocks
    day = date(2026, 3, 24)
    now = datetime.combine(day, time(*hour), ZoneInfo(place.timezone))
    assert coming_night_date(place, now) == day + timedelta(days=days_later)


def test_coming_night_changes_at_sunrise():
    sunrise = civil_night(BERLIN, date(2026, 5, 4)).sunrise.astimezone(UTC)
    second = timedelta(seconds=1)
    assert coming_night_date(BERLIN, sunrise - second) == date(2026, 5, 4)
    assert coming_night_date(BERLIN, sunrise + second) == date(2026, 5, 5)


def test_coming_night_in_polar_night_lasts_until_noon():
    zone = ZoneInfo("Europe/Oslo")
    assert coming_night_date(NORTH70, datetime(2026, 12, 21, 9, tzinfo=zone)) == date(2026, 12, 20)
    assert coming_night_date(NORTH70, datetime(2026, 12, 21, 13, tzinfo=zone)) == date(2026, 12, 21)


def test_coming_night_under_the_midnight_sun_changes_in_the_morning():
    zone = ZoneInfo("Europe/Oslo")
    assert coming_night_date(NORTH70, datetime(2026, 6, 21, 2, tzinfo=zone)) == date(2026, 6, 20)
    assert coming_night_date(NORTH70, datetime(2026, 6, 21, 9, tzinfo=zone)) == date(2026, 6, 21)


def test_coming_night_rejects_a_time_without_zone():
    with pytest.raises(UsageError, match="has no zone"):
        coming_night_date(BERLIN, datetime(2026, 1, 1))


def test_civil_night_rejects_a_date_outside_the_ephemeris():
    with pytest.raises(DateOutsideEphemerisError, match="2060-01-01"):
        civil_night(BERLIN, date(2060, 1, 1))


def test_civil_night_rejects_an_unknown_zone():
    with pytest.raises(KitError, match="Nowhere/Town"):
        civil_night(site(0.0, 0.0, "Nowhere/Town"), date(2026, 1, 1))


@pytest.mark.parametrize("place", SITES, ids=lambda s: s.name)
def test_moon_up_at_start_agrees_with_ephem(place):
    """At true noon, over a month; where the Moon stands within a degree of the horizon, skipped."""
    for day in range(1, 29, 2):
        night = civil_night(place, date(2026, 12, day))
        observer = ephem.Observer()
        observer.lat, observer.lon = str(place.latitude_deg), str(place.longitude_deg)
        observer.pressure = 0
        observer.date = ephem.Date(night.start.astimezone(UTC).replace(tzinfo=None))
        altitude_deg = math.degrees(ephem.Moon(observer).alt)
        if abs(altitude_deg + 0.8) > 1.0:
            assert night.moon_up_at_start == (altitude_deg > -0.8), (day, altitude_deg)
