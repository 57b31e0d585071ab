"""Tracks of fixed targets against skyfield's own full reduction and astropy."""

import warnings
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skyfield.api import Star, wgs84

from planner.angles import separation_deg, unit_vectors
from planner.ephemeris.kernel import kernel
from planner.ephemeris.moments import grid
from planner.ephemeris.site import Site
from planner.ephemeris.track import parallactic_angle_at_deg, track

ARCSEC = 1.0 / 3600.0
PLACES = [
    (70.0, 25.0, 10.0), (48.1, 8.2, 870.0), (0.0, -78.5, 2850.0), (-36.9, 174.8, 20.0),
    (-55.0, -68.0, 30.0),
]  # fmt: skip
SEASONS = [datetime(2026, 1, 15, 18, tzinfo=UTC), datetime(2034, 8, 2, 21, tzinfo=UTC)]


def site_at(latitude, longitude, elevation, pressure=950.0, temperature=5.0):
    return Site("here", latitude, longitude, elevation, "UTC", pressure, temperature)


def random_sky(count, seed):
    rng = np.random.default_rng(seed)
    return rng.uniform(0.0, 360.0, count), np.degrees(np.arcsin(rng.uniform(-1.0, 1.0, count)))


def hour_angle_deg(site, grid, ra, dec):
    """Hour angle (T,), degrees -180..180, from the grid's axes; aberration (20") left out."""
    place, latitude = unit_vectors(ra, dec), np.radians(site.latitude_deg)
    towards_meridian = np.cos(latitude) * grid.zenith - np.sin(latitude) * grid.north
    return np.degrees(np.arctan2(-(place @ grid.east), place @ towards_meridian))


@pytest.mark.parametrize("place", PLACES, ids=str)
@pytest.mark.parametrize("start", SEASONS, ids=lambda t: str(t.year))
def test_track_agrees_with_skyfields_full_reduction(place, start):
    site = site_at(*place)
    g = grid(site, start, start + timedelta(hours=9), 180)
    ra, dec = random_sky(60, 1)
    found = track(site, g, ra, dec)
    observer = kernel()["earth"] + wgs84.latlon(*place)
    stars = Star(ra_hours=ra / 15.0, dec_degrees=dec)
    for k in range(g.seconds.size):
        seen = observer.at(g.times[k]).observe(stars).apparent()
        altitude, azimuth, _ = seen.altaz(temperature_C=5.0, pressure_mbar=950.0)
        shown = altitude.degrees > -0.5  # the step of refraction lies at -1
        offset = separation_deg(
            found.azimuth_deg[:, k], found.altitude_deg[:, k], azimuth.degrees, altitude.degrees
        )
        light_bending_and_table = 0.5 * ARCSEC  # bending 0.4" at a degree and a half from the Sun
        assert shown.sum() > 10
        assert np.max(offset[shown]) < light_bending_and_table


@pytest.mark.parametrize("place", PLACES, ids=str)
def test_track_agrees_with_astropy(place):
    from astropy import units as u
    from astropy.coordinates import AltAz, EarthLocation, SkyCoord
    from astropy.time import Time
    from astropy.utils import iers

    site = site_at(*place, pressure=0.0)
    start = SEASONS[0]
    g = grid(site, start, start + timedelta(hours=8), 240)
    ra, dec = random_sky(60, 2)
    found = track(site, g, ra, dec)
    with iers.conf.set_temp("auto_download", False), iers.conf.set_temp(
        "iers_degraded_accuracy", "warn"
    ), warnings.catch_warnings():  # fmt: skip
        warnings.simplefilter("ignore")
        frame = AltAz(
            obstime=Time([t.astimezone(UTC).replace(tzinfo=None) for t in g.instants], scale="utc"),
            location=EarthLocation.from_geodetic(place[1], place[0], place[2]),
        )
        stars = SkyCoord(ra[:, None] * u.deg, dec[:, None] * u.deg)
        expected = stars.transform_to(frame[None, :])
    offset = separation_deg(
        found.azimuth_deg, found.altitude_deg, expected.az.deg, expected.alt.deg
    )
    # polar motion 0.5", UT1 predicted differently by 0.03 s = 0.5", bending of light
    models_differ = 2.0 * ARCSEC
    assert np.max(offset[expected.alt.deg > 10.0]) < models_differ


def test_hour_angle_and_altitude_reproduce_meeus1998_example13b():
    # Meeus 1998, Astronomical Algorithms, ex. 13.b (from memory): apparent ra 23h09m16.641s,
    # dec -6 43' 11.61" of date, seen from 77 03' 56" W, 38 55' 17" N on 1987 April 10,
    # 19h21m UT: hour angle 64.352133, azimuth 68.0337 from south, altitude 15.1249.
    site = site_at(38.0 + 55 / 60 + 17 / 3600, -(77.0 + 3 / 60 + 56 / 3600), 0.0, pressure=0.0)
    t = datetime(1987, 4, 10, 19, 21, tzinfo=UTC)
    g = grid(site, t, t, 1)
    # from the true equator of date to ICRS by skyfield's matrix
    ra, dec = np.radians([347.3193375, -6.7198917])
    of_date = np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])
    x, y, z = g.times.M[:, :, 0].T @ of_date
    icrs = np.degrees(np.arctan2(y, x)) % 360.0, np.degrees(np.arcsin(z))
    dut1_s = 0.35  # UT1 - UTC, April 1987 (at most 0.9 by definition)
    clock = 15.0 * ARCSEC * dut1_s * 2
    assert hour_angle_deg(site, g, *icrs)[0] == pytest.approx(64.352133, abs=clock)
    found = track(site, g, *icrs)
    aberration = 21.0 * ARCSEC  # already inside Meeus' apparent place, added again here
    assert found.altitude_deg[0, 0] == pytest.approx(15.1249, abs=aberration + clock)
    assert found.azimuth_deg[0, 0] == pytest.approx(248.0337, abs=aberration * 1.05 + clock)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 360.0), st.floats(-80.0, 80.0), st.floats(-55.0, 70.0))
def test_parallactic_angle_agrees_with_the_textbook_formula(ra, dec, latitude):
    # Meeus 1998, eq. 14.1 (from memory): tan q = sin H / (tan lat cos dec - sin dec cos H), on
    # the equator of date. Up to 26 years of precession (0.15 deg) turn north by less than
    # 0.15 deg / cos dec, and move the star as much.
    site = site_at(latitude, 20.0, 0.0)
    g = grid(site, SEASONS[0], SEASONS[0] + timedelta(hours=12), 120)
    hour = np.radians(hour_angle_deg(site, g, ra, dec))
    d, lat = np.radians(dec), np.radians(latitude)
    up, north = (
        np.cos(lat) * np.sin(hour),
        np.sin(lat) * np.cos(d) - np.cos(lat) * np.sin(d) * np.cos(hour),
    )
    textbook = np.degrees(np.arctan2(up, north))
    moments = np.arange(g.seconds.size)
    same = np.ones(moments.size)
    found = parallactic_angle_at_deg(g, ra * same, dec * same, moments)
    zenith_distance = np.degrees(np.arccos(np.clip(
        np.sin(lat) * np.sin(d) + np.cos(lat) * np.cos(d) * np.cos(hour), -1, 1)))  # fmt: skip
    clear = (zenith_distance > 10.0) & (zenith_distance < 170.0)
    off = np.abs((found - textbook + 180.0) % 360.0 - 180.0)
    assert np.all(off[clear] < 0.15 / np.cos(d) + 0.15 / np.sin(np.radians(10.0)))


@settings(deadline=None, max_examples=30)
@given(st.integers(1, 1300))
def test_a_target_alone_has_the_track_it_has_among_many(count):
    site = site_at(48.1, 8.2, 0.0)
    g = grid(site, SEASONS[0], SEASONS[0] + timedelta(hours=2), 60)
    ra, dec = random_sky(count, 3)
    many, alone = track(site, g, ra, dec), track(site, g, ra[-1], dec[-1])
    rounding_deg = 1e-6
    assert many.altitude_deg.shape == (count, 3)
    assert many.altitude_deg[-1] == pytest.approx(alone.altitude_deg[0], abs=rounding_deg)
    assert many.azimuth_deg[-1] == pytest.approx(alone.azimuth_deg[0], abs=rounding_deg * 60)


def test_a_target_without_place_gives_no_answer():
    site = site_at(48.1, 8.2, 0.0)
    found = track(site, grid(site, SEASONS[0], SEASONS[0], 1), [np.nan, 10.0], [10.0, 10.0])
    assert np.isnan(found.altitude_deg[:, 0]).tolist() == [True, False]


def test_track_of_no_targets_is_empty():
    site = site_at(48.1, 8.2, 0.0)
    assert track(site, grid(site, SEASONS[0], SEASONS[0], 1), [], []).altitude_deg.shape == (0, 1)
