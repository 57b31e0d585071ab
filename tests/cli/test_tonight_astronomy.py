"""`planner tonight` against two independent libraries: places, heights, dusk and the Moon."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache
from typing import Any

import astronomy
import numpy as np
import pytest
from astropy import coordinates as astropy_coordinates
from sample_nights import SITES, WIDE, night_json

PLACE_TOLERANCE_DEG = 0.02
LOWEST_COMPARED_DEG = 10.0  # lower down two formulas of refraction part
EVENT_TOLERANCE_S = 30.0
PLANET_TOLERANCE_DEG = 0.02  # the second library is good to 1'
MAGNITUDE_TOLERANCE = 0.15  # between two formulas; Saturn's rings most of it
NIGHTS = [
    ("Lindenhof", "2026-05-14"),
    ("Nordkapp", "2026-12-21"),
    ("Nordkapp", "2026-09-20"),
    ("Beagle", "2026-06-21"),
    ("Kauri", "2026-12-31"),
]
DUSKS = {
    "sunset": (-50.0 / 60.0, -1), "civil_dusk": (-6.0, -1), "nautical_dusk": (-12.0, -1),
    "astronomical_dusk": (-18.0, -1), "astronomical_dawn": (-18.0, 1), "nautical_dawn": (-12.0, 1),
    "civil_dawn": (-6.0, 1), "sunrise": (-50.0 / 60.0, 1),
}  # fmt: skip


@cache
def targets(site: str, date: str) -> list[dict[str, Any]]:
    """The fixed targets of a night."""
    document = night_json(site, date, *WIDE)
    bodies = ("planet", "moon")
    return [target for target in document["targets"] if target["kind"] not in bodies]


def utc(text: str) -> datetime:
    """A moment of the document."""
    return datetime.fromisoformat(text).astimezone(UTC)


def second_time(moment: datetime) -> astronomy.Time:
    """The same moment for the second library."""
    seconds = moment.second + moment.microsecond * 1e-6
    return astronomy.Time.Make(
        moment.year, moment.month, moment.day, moment.hour, moment.minute, seconds
    )


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_heights_and_azimuths_agree_with_astropy(site: str, date: str) -> None:
    """ICRS to apparent altitude; ERFA's own refraction, dry air at 550 nm, instead of Bennett's."""
    from astropy import units as u
    from astropy.time import Time
    from astropy.utils import iers

    latitude, longitude, elevation, _ = SITES[site]
    listed = targets(site, date)
    air = night_json(site, date, *WIDE)["site"]
    with (
        iers.conf.set_temp("auto_download", False),
        iers.conf.set_temp("auto_max_age", None),  # else the day the test runs would matter
        iers.conf.set_temp("iers_degraded_accuracy", "warn"),
    ):
        frame = astropy_coordinates.AltAz(
            obstime=Time([utc(target["best_time"]) for target in listed]),
            location=astropy_coordinates.EarthLocation(
                lat=latitude * u.deg, lon=longitude * u.deg, height=elevation * u.m
            ),
            pressure=air["pressure_hpa"] * u.hPa,
            temperature=air["temperature_c"] * u.deg_C,
            relative_humidity=0.0,
            obswl=0.55 * u.micron,
        )
        seen = astropy_coordinates.SkyCoord(
            [target["ra_deg"] for target in listed] * u.deg,
            [target["dec_deg"] for target in listed] * u.deg,
        ).transform_to(frame)
    altitude = np.array([target["altitude_deg"] for target in listed])
    azimuth = np.array([target["azimuth_deg"] for target in listed])
    assert len(listed) > 80
    assert altitude.min() >= LOWEST_COMPARED_DEG
    assert np.abs(altitude - seen.alt.deg).max() < PLACE_TOLERANCE_DEG
    turned = (azimuth - seen.az.deg + 180.0) % 360.0 - 180.0
    assert np.abs(turned * np.cos(np.radians(altitude))).max() < PLACE_TOLERANCE_DEG


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_planets_and_moon_stand_where_astronomy_engine_has_them(site: str, date: str) -> None:
    """Right ascension, declination, magnitude and azimuth at the best time; heights without air."""
    latitude, longitude, elevation, _ = SITES[site]
    observer = astronomy.Observer(latitude, longitude, elevation)
    for target in night_json(site, date, "--kinds", "planet,moon")["targets"]:
        body = astronomy.Body[target["id"]]
        time = second_time(utc(target["best_time"]))
        fixed = astronomy.Equator(body, time, observer, False, False)
        across = (fixed.ra * 15.0 - target["ra_deg"] + 180.0) % 360.0 - 180.0
        assert abs(across) * np.cos(np.radians(fixed.dec)) < PLANET_TOLERANCE_DEG
        assert fixed.dec == pytest.approx(target["dec_deg"], abs=PLANET_TOLERANCE_DEG)
        moving = astronomy.Equator(body, time, observer, True, True)
        seen = astronomy.Horizon(
            time, observer, moving.ra, moving.dec, astronomy.Refraction.Airless
        )
        lift = bennett_deg(
            target["altitude_deg"], night_json(site, date, "--kinds", "planet,moon")["site"]
        )
        assert seen.altitude + lift == pytest.approx(
            target["altitude_deg"], abs=PLANET_TOLERANCE_DEG
        )
        assert seen.azimuth == pytest.approx(target["azimuth_deg"], abs=0.1)
        if target["kind"] == "planet":
            bright = astronomy.Illumination(body, time).mag
            assert target["magnitude"] == pytest.approx(bright, abs=MAGNITUDE_TOLERANCE)


def bennett_deg(apparent_deg: float, air: dict[str, float]) -> float:
    """Refraction after Bennett 1982, Journal of Navigation 35, 255, typed anew."""
    minutes = 1.0 / np.tan(np.radians(apparent_deg + 7.31 / (apparent_deg + 4.4)))
    return float(minutes / 60.0 * 0.28 * air["pressure_hpa"] / (air["temperature_c"] + 273.0))


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_dusks_and_dawns_agree_with_astronomy_engine(site: str, date: str) -> None:
    """The Sun's centre at -50', -6, -12 and -18 degrees; none where there is none."""
    latitude, longitude, _, _ = SITES[site]
    observer = astronomy.Observer(latitude, longitude, 0.0)
    night = night_json(site, date, "--kinds", "planet,moon")["night"]
    found = {name: utc(night[name]) for name in DUSKS if night[name]}
    assert found
    middle = next(iter(found.values()))
    for name, (altitude, direction) in DUSKS.items():
        if name not in found:
            continue
        around = astronomy.SearchAltitude(
            astronomy.Body.Sun,
            observer,
            astronomy.Direction.Rise if direction > 0 else astronomy.Direction.Set,
            second_time(found[name]).AddDays(-0.2),
            0.4,
            altitude,
        )
        assert around is not None, name
        other = around.Utc().replace(tzinfo=UTC)
        assert abs((other - found[name]).total_seconds()) < EVENT_TOLERANCE_S, name
    assert abs((middle.date() - datetime.fromisoformat(date).date()).days) <= 1


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_moon_rises_sets_and_shines_as_in_astronomy_engine(site: str, date: str) -> None:
    """Upper limb on a flat horizon with 34' of refraction; the lit share of the disc."""
    latitude, longitude, _, _ = SITES[site]
    observer = astronomy.Observer(latitude, longitude, 0.0)
    night = night_json(site, date, "--kinds", "planet,moon")["night"]
    for name, direction in (
        ("moonrise", astronomy.Direction.Rise),
        ("moonset", astronomy.Direction.Set),
    ):
        if night[name] is None:
            continue
        found = utc(night[name])
        other = astronomy.SearchRiseSet(
            astronomy.Body.Moon, observer, direction, second_time(found).AddDays(-0.1), 0.2
        )
        assert other is not None, name
        apart = (other.Utc().replace(tzinfo=UTC) - found).total_seconds()
        assert abs(apart) < EVENT_TOLERANCE_S, name
    dusk = utc(night["sunset"] or night["civil_dusk"])
    lit = astronomy.Illumination(astronomy.Body.Moon, second_time(dusk)).phase_fraction
    assert night["moon_illuminated_fraction"] == pytest.approx(lit, abs=0.08)  # 13 h on, at most
