"""`planner tonight` through the year and around the world: every window lies in a night."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import astronomy
import numpy as np
import pytest
from sample_nights import SITES, WIDE, night_json, run

SUN_DOWN_DEG = -0.8333  # upper limb on the horizon; Astronomical Almanac
CIVIL_DEG = -6.0  # nothing but the Moon and planets before the end of civil twilight
SUN_TOLERANCE_DEG = 0.01  # between two ephemerides
STEP = timedelta(minutes=5)
SUN_EVENTS = (
    "sunset", "civil_dusk", "nautical_dusk", "astronomical_dusk", "astronomical_dawn",
    "nautical_dawn", "civil_dawn", "sunrise",
)  # fmt: skip
NIGHTS = [
    ("Lindenhof", "2026-05-14"),
    ("Lindenhof", "2026-03-28"),  # summer time begins in this night
    ("Lindenhof", "2026-03-29"),
    ("Lindenhof", "2026-10-24"),  # and ends in this one
    ("Lindenhof", "2026-10-25"),
    ("Lindenhof", "2026-12-31"),
    ("Nordkapp", "2026-05-14"),  # the Sun just sets
    ("Nordkapp", "2026-09-20"),
    ("Nordkapp", "2026-12-21"),  # polar night
    ("Glen", "2026-06-21"),  # nautical twilight only
    ("Beagle", "2026-06-21"),
    ("Beagle", "2026-12-21"),
    ("Kauri", "2026-12-31"),
    ("Atoll", "2026-12-31"),  # fourteen hours ahead of Greenwich
]


def sun_altitude_deg(site: str, moment: datetime) -> float:
    """By an independent ephemeris, without air."""
    latitude, longitude, elevation, _ = SITES[site]
    observer = astronomy.Observer(latitude, longitude, elevation)
    utc = moment.astimezone(UTC)
    time = astronomy.Time.Make(
        utc.year, utc.month, utc.day, utc.hour, utc.minute, utc.second + utc.microsecond * 1e-6
    )
    sun = astronomy.Equator(astronomy.Body.Sun, time, observer, True, True)
    seen = astronomy.Horizon(time, observer, sun.ra, sun.dec, astronomy.Refraction.Airless)
    return float(seen.altitude)


def moments(target: dict[str, object]) -> tuple[datetime, datetime, datetime]:
    """Begin, best time and end in UTC: local datetimes of one zone compare by the clock's face."""
    begin, best, end = (
        datetime.fromisoformat(str(target[name])).astimezone(UTC)
        for name in ("window_start", "best_time", "window_end")
    )
    return begin, best, end


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_windows_lie_in_the_night_with_the_sun_down(site: str, date: str) -> None:
    """In order, on the five-minute grid, high enough, and the Sun deep enough at both ends.

    Stars wait for the Sun to be 6 degrees down, but in a night that gets no darker for sunset.
    """
    document = night_json(site, date, *WIDE)
    targets = document["targets"]
    assert targets
    darkest = CIVIL_DEG if document["night"]["civil_dusk"] else SUN_DOWN_DEG
    checked: dict[datetime, float] = {}
    for target in targets:
        begin, best, end = moments(target)
        assert begin <= best <= end
        assert end - begin < timedelta(hours=24)
        limit = SUN_DOWN_DEG if target["kind"] in ("planet", "moon") else darkest
        for moment in (begin, best, end):
            assert moment.minute % 5 == 0 and moment.second == 0
            if moment not in checked:
                checked[moment] = sun_altitude_deg(site, moment)
            assert checked[moment] < limit + SUN_TOLERANCE_DEG
        assert 10.0 <= target["altitude_deg"] <= 90.0
        assert 0.0 <= target["azimuth_deg"] < 360.0
        assert target["airmass"] == pytest.approx(kasten_young(target["altitude_deg"]), rel=0.005)
        assert target["shown"] is True
    happening = [document["night"][name] for name in SUN_EVENTS]
    happening = [datetime.fromisoformat(text).astimezone(UTC) for text in happening if text]
    assert happening == sorted(happening)


def kasten_young(altitude_deg: float) -> float:
    """Airmass after Kasten & Young 1989, Applied Optics 28, 4735 (from memory); 0.5 % off 1976."""
    sine = np.sin(np.radians(altitude_deg))
    return float(1.0 / (sine + 0.50572 * (altitude_deg + 6.07995) ** -1.6364))


@pytest.mark.parametrize(
    ("date", "evening", "morning"),
    [("2026-03-28", "+01:00", "+02:00"), ("2026-10-24", "+02:00", "+01:00")],
)
def test_a_night_of_clock_change_carries_both_offsets(
    date: str, evening: str, morning: str
) -> None:
    """EU Directive 2000/84/EC: last Sunday of March and of October at 1:00 UTC."""
    document = night_json("Lindenhof", date, *WIDE)
    assert document["night"]["sunset"].endswith(evening)
    assert document["night"]["sunrise"].endswith(morning)
    change = datetime.fromisoformat(f"{date}T01:00:00+00:00") + timedelta(days=1)
    for target in document["targets"]:
        for name in ("window_start", "best_time", "window_end"):
            moment = datetime.fromisoformat(target[name])
            assert target[name].endswith(evening if moment < change else morning)


def test_midnight_sun_lists_nothing_and_says_so() -> None:
    """No sweep with the Sun up, whatever is asked."""
    document = night_json("Nordkapp", "2026-06-21", "--all", "--kinds", "planet,moon")
    assert document["night"]["sunset"] is None and document["night"]["sunrise"] is None
    assert document["shown_count"] == 0
    assert [target for target in document["targets"] if target["shown"]] == []
    result = run("tonight", "--site", "Nordkapp", "--date", "2026-06-21")
    assert result.exit_code == 0
    assert "Midnight sun" in result.stdout
    assert "Nothing is shown" in result.stdout


def test_polar_night_is_used_around_the_clock() -> None:
    """The Sun never rises, so a target may be best at clock noon."""
    document = night_json("Nordkapp", "2026-12-21", "--kinds", "double", "--limit", "600")
    assert "Polar night" in " ".join(document["notes"])
    hours = {moments(target)[1].hour for target in document["targets"]}
    assert len(hours) >= 16


def test_a_night_of_twilight_is_said_to_be_one() -> None:
    """Scotland at midsummer: the Sun goes down 9 degrees, 90 - 57.5 - 23.44."""
    document = night_json("Glen", "2026-06-21", *WIDE)
    night = document["night"]
    assert night["civil_dusk"] and night["nautical_dusk"] is None
    note = " ".join(document["notes"])
    assert "nautical twilight only" in note and "9.1°" in note


def test_new_years_eve_runs_into_the_next_year() -> None:
    """Evening of one year, morning of the next, on both sides of the date line."""
    for site in ("Lindenhof", "Kauri", "Atoll"):
        document = night_json(site, "2026-12-31", *WIDE)
        years = {target["best_time"][:4] for target in document["targets"]}
        assert years == {"2026", "2027"}
        assert document["night"]["sunset"].startswith("2026-12-31")
        assert document["night"]["sunrise"].startswith("2027-01-01")


def test_the_date_is_that_of_the_sites_evening_beyond_the_date_line() -> None:
    """Kiritimati is 14 hours ahead of Greenwich: its evening is still morning there."""
    sunset = night_json("Atoll", "2026-12-31")["night"]["sunset"]
    assert sunset.endswith("+14:00")
    assert datetime.fromisoformat(sunset).astimezone(UTC).date().isoformat() == "2026-12-31"
    assert datetime.fromisoformat(sunset).astimezone(UTC).hour < 6


def test_targets_are_used_on_the_darker_side_of_dusk() -> None:
    """A double near the zenith at dusk waits for the sky to darken, deep sky still longer."""
    for target in night_json("Lindenhof", "2026-05-14", "--kinds", "globular-cluster")["targets"]:
        assert sun_altitude_deg("Lindenhof", moments(target)[1]) < -10.0


def test_least_altitude_is_kept() -> None:
    """Also where it is asked for high up."""
    night = night_json("Beagle", "2026-09-12", "--least-altitude", "55", "--limit", "60")
    assert night["targets"]
    assert all(target["altitude_deg"] >= 55.0 for target in night["targets"])


def test_the_moon_is_listed_only_while_it_is_up() -> None:
    """The window of the Moon lies between its rising and setting."""
    document = night_json("Lindenhof", "2026-10-22", "--kinds", "moon")
    (moon,) = document["targets"]
    begin, _, end = moments(moon)
    rise, set_ = (document["night"][name] for name in ("moonrise", "moonset"))
    if rise is not None and datetime.fromisoformat(rise).astimezone(UTC) <= end:
        assert datetime.fromisoformat(rise).astimezone(UTC) <= begin
    assert end <= datetime.fromisoformat(set_).astimezone(UTC) + STEP
