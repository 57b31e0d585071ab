"""Axes, meridians and phases against printed examples and another library."""

from __future__ import annotations

import ephem
import numpy as np
import pytest
from planet_samples import around_sun, geocentric, utc

from planner.ephemeris.aspect import (
    jupiter_meridians,
    mars_season_deg,
    ring_axes_arcsec,
    ring_sun_offset_deg,
)
from planner.ephemeris.bodies import PLANETS

OF_DATE_DEG = 0.06  # the book's north is that of date in 1992, ours is ICRS
RADIUS = {planet.name: planet.radius_arcsec for planet in PLANETS}


def test_mars_reproduces_meeus1998_example42a():
    """Meeus 1998, Astronomical Algorithms, example 42.a: 1992 November 9, 0h."""
    mars = geocentric("Mars", utc("1992-11-09T00:00"))
    assert mars.sub_site_lat[0] == pytest.approx(12.44, abs=0.02)
    assert mars.sub_sun_lat[0] == pytest.approx(-2.76, abs=0.02)
    assert mars.central_meridian[0] == pytest.approx(111.55, abs=0.05)
    assert mars.axis_angle[0] == pytest.approx(347.64, abs=OF_DATE_DEG)
    assert mars.bright_limb_angle[0] == pytest.approx(279.91 - 180.0, abs=OF_DATE_DEG)
    assert mars.illuminated_fraction[0] == pytest.approx(0.9012, abs=2e-4)
    diameter = 2.0 * RADIUS["Mars"] / mars.distance_au[0]
    assert diameter == pytest.approx(10.75, abs=0.02)
    assert diameter * (1.0 - mars.illuminated_fraction[0]) == pytest.approx(1.06, abs=0.01)


@pytest.mark.parametrize(
    ("when", "season_deg", "tolerance"),
    [
        ("2000-01-06T00:00", 277.18, 0.03),  # Allison & McEwen 2000, worked example; from memory
        ("2021-02-07T10:00", 0.0, 0.3),  # start of Mars year 36, Piqueux 2015; from memory
        ("2024-11-12T10:00", 0.0, 0.3),  # of year 38
    ],
)
def test_season_of_mars_reproduces_allison2000_and_piqueux2015(when, season_deg, tolerance):
    time = utc(when)
    found = mars_season_deg(geocentric("Mars", time), around_sun("Mars", time))[0]
    assert (found - season_deg + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=tolerance)


def test_jupiter_reproduces_meeus1998_example43a():
    """Example 43.a: 1992 December 16, 0h; the book's meridians are those of the lit disc."""
    jupiter = geocentric("Jupiter", utc("1992-12-16T00:00"))
    assert jupiter.sub_site_lat[0] == pytest.approx(-2.48, abs=0.02)
    assert jupiter.sub_sun_lat[0] == pytest.approx(-2.20, abs=0.02)
    assert jupiter.axis_angle[0] == pytest.approx(24.8, abs=OF_DATE_DEG)
    lit = np.degrees(np.sin(np.radians(jupiter.phase_angle[0]) / 2.0) ** 2)
    first, second = jupiter_meridians(jupiter)
    assert first[0] + lit == pytest.approx(268.06, abs=0.1)
    assert second[0] + lit == pytest.approx(72.74, abs=0.1)


@pytest.mark.parametrize(
    "when",
    ["17T06:27", "17T16:23", "18T02:19", "18T12:15", "19T08:06", "24T07:15", "28T00:37"],
)
def test_system_ii_agrees_with_printed_transits_of_the_red_spot(when):
    """A list of transits for longitude 294 printed for January 2019; a minute is 0.6 degrees."""
    _, second = jupiter_meridians(geocentric("Jupiter", utc(f"2019-01-{when}")))
    assert second[0] == pytest.approx(294.0, abs=0.5)


def test_ring_reproduces_meeus1998_example45a():
    """Example 45.a: 1992 December 16, 0h."""
    saturn = geocentric("Saturn", utc("1992-12-16T00:00"))
    major, minor = ring_axes_arcsec(saturn)
    assert saturn.sub_site_lat[0] == pytest.approx(16.442, abs=0.01)
    assert saturn.sub_sun_lat[0] == pytest.approx(14.679, abs=0.01)
    assert abs(ring_sun_offset_deg(saturn)[0]) == pytest.approx(4.198, abs=0.01)
    assert saturn.axis_angle[0] == pytest.approx(6.741, abs=OF_DATE_DEG)
    assert major[0] == pytest.approx(35.87, abs=0.02)
    assert minor[0] == pytest.approx(10.15, abs=0.02)


def test_venus_reproduces_meeus1998_example41a():
    """Example 41.a: 1992 December 20, 0h."""
    venus = geocentric("Venus", utc("1992-12-20T00:00"))
    assert venus.illuminated_fraction[0] == pytest.approx(0.647, abs=0.001)
    assert np.cos(np.radians(venus.phase_angle[0])) == pytest.approx(0.29312, abs=1e-4)


@pytest.mark.parametrize("when", ["2025-03-23T17:00", "2027-02-19T00:00", "2032-06-01T00:00"])
def test_tilt_of_the_ring_agrees_with_ephem(when):
    """The ephem library (theory of its own for Saturn); the ring was edge-on on 2025 March 23."""
    theirs = ephem.Saturn(ephem.Date(when.replace("-", "/").replace("T", " ")))
    found = geocentric("Saturn", utc(when))
    assert found.sub_site_lat[0] == pytest.approx(np.degrees(theirs.earth_tilt), abs=0.01)
    assert found.sub_sun_lat[0] == pytest.approx(np.degrees(theirs.sun_tilt), abs=0.01)


def test_ring_is_edge_on_in_march_2025():
    """The Earth crossed the ring's plane on 2025 March 23, about 16h to 17h; from memory."""
    before, after = utc("2025-03-23T12:00"), utc("2025-03-23T21:00")
    tilts = [geocentric("Saturn", when).sub_site_lat[0] for when in (before, after)]
    assert tilts[0] * tilts[1] < 0.0
