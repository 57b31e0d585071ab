"""The Moon's face against Meeus ch. 53, another library and observed light at Plato."""

from datetime import UTC, datetime

import astronomy
import numpy as np
import pytest

from planner.ephemeris.kernel import kernel, timescale
from planner.ephemeris.moments import grid
from planner.ephemeris.moon_face import face_from, moon_age_days, moon_face
from planner.ephemeris.site import Site

SITE = Site("Lindenhof", 48.1, 8.2, 870.0, "Europe/Berlin", 915.0, 10.0)


def geocentric(t):
    earth = kernel()[399].at(t)
    moon, sun = (np.asarray(earth.observe(kernel()[n]).xyz.au)[:, None] for n in (301, 10))
    return face_from(moon, sun, np.array([t.tt]))


def test_libration_reproduces_meeus1998_example_53a():
    # Astronomical Algorithms, 2nd ed., ex. 53.a, 1992 April 12.0 TT: -1.23, +4.20. The book's
    # latitude is on principal axes; 0.03 is the difference to the axes of maps.
    face = geocentric(timescale().tt(1992, 4, 12))
    assert face.libration_lon_deg[0] == pytest.approx(-1.23, abs=0.02)
    assert face.libration_lat_deg[0] == pytest.approx(4.20, abs=0.03)


def test_sun_altitude_reproduces_meeus1998_chapter_53_at_copernicus():
    face = geocentric(timescale().tt(1992, 4, 12))
    assert face.sun_altitude_deg(-20.0, 9.7)[0, 0] == pytest.approx(2.318, abs=0.02)


@pytest.mark.parametrize(
    "moment",
    [(2014, 1, 10, 23, 36), (2014, 1, 22, 22, 14), (2014, 3, 22, 23, 56), (2014, 6, 7, 23, 31)],
)
def test_sun_altitude_agrees_with_an_observers_list_for_plato(moment):
    # A public list of when the Sun stands 12 degrees high at Plato, to the minute; 0.08 degrees
    # are nine minutes. Plato: 51.6 N, 9.4 W (IAU gazetteer, rounded).
    face = geocentric(timescale().utc(*moment))
    assert face.sun_altitude_deg(-9.38, 51.62)[0, 0] == pytest.approx(12.0, abs=0.08)


@pytest.mark.parametrize(
    ("moment", "lon", "lat", "colongitude"),
    [
        ((2027, 1, 15), -7.704, -5.415, 357.393), ((2027, 2, 19), -0.215, -2.068, 62.994),
        ((2027, 6, 1), -6.919, -6.047, 226.586), ((2027, 10, 18), -4.513, -6.318, 124.040),
    ],
)  # fmt: skip
def test_face_agrees_with_the_lunar_kernel_of_de421(moment, lon, lat, colongitude):
    # NAIF's moon_pa_de421 in mean-Earth axes, read with skyfield beforehand; 0.005 degrees is
    # how far the IAU's series may stray from it.
    face = geocentric(timescale().utc(*moment))
    assert face.libration_lon_deg[0] == pytest.approx(lon, abs=0.005)
    assert face.libration_lat_deg[0] == pytest.approx(lat, abs=0.005)
    assert face.colongitude_deg[0] == pytest.approx(colongitude, abs=0.005)


@pytest.mark.parametrize("year", [1995, 2010, 2027, 2045])
def test_libration_agrees_with_another_library(year):
    t = timescale().tt(year, 3, 5)
    theirs = astronomy.Libration(astronomy.Time.FromTerrestrialTime(t.tt - 2451545.0))
    face = geocentric(t)
    # Theirs follows Meeus on principal axes: up to 0.03 degrees from the axes of maps.
    assert face.libration_lon_deg[0] == pytest.approx(theirs.elon, abs=0.03)
    assert face.libration_lat_deg[0] == pytest.approx(theirs.elat, abs=0.03)


@pytest.mark.parametrize("month", range(1, 13))
def test_age_agrees_with_another_library(month):
    moment = datetime(2027, month, 15, 12, tzinfo=UTC)
    t = timescale().from_datetime(moment)
    new = astronomy.SearchMoonPhase(0.0, astronomy.Time.FromTerrestrialTime(t.tt - 2451545.0), -30)
    assert moon_age_days(t.tt) == pytest.approx(t.tt - 2451545.0 - new.tt, abs=0.002)


def test_site_sees_the_face_within_a_degree_of_the_earths_centre():
    moment = datetime(2027, 1, 15, 20, tzinfo=UTC)
    here = moon_face(grid(SITE, moment, moment, 1))
    centre = geocentric(timescale().from_datetime(moment))
    apart = np.hypot(
        here.libration_lon_deg[0] - centre.libration_lon_deg[0],
        here.libration_lat_deg[0] - centre.libration_lat_deg[0],
    )
    # Parallax: the Earth's radius at the Moon's least distance is 1.02 degrees.
    assert 0.1 < apart < 1.05


def test_colongitude_is_90_where_the_sun_stands_over_the_middle_and_terminators_are_apart():
    face = geocentric(timescale().tt(2027, 2, 20.9))
    assert face.sun_altitude_deg(face.morning_terminator_lon_deg, [0.0])[0, 0] == pytest.approx(
        0.0, abs=1e-6
    )
    assert face.colongitude_deg[0] == pytest.approx(-face.morning_terminator_lon_deg[0] % 360.0)


def test_axis_reproduces_meeus1998_example_53a():
    # 15.08 degrees, of date; ours is that of the ICRS, 0.04 degrees apart in 1992.
    face = geocentric(timescale().tt(1992, 4, 12))
    assert face.axis_angle_deg[0] == pytest.approx(15.08, abs=0.06)


def test_sun_reproduces_meeus1998_example_53a():
    # Point under the Sun: 67.90, +1.46 (principal axes).
    face = geocentric(timescale().tt(1992, 4, 12))
    assert face.sun_lon_deg[0] == pytest.approx(67.90, abs=0.02)
    assert face.sun_lat_deg[0] == pytest.approx(1.46, abs=0.02)


def test_sunrise_at_copernicus_reproduces_meeus1998_chapter_53():
    # 1992 April 11.8069 TD; 0.002 days are three minutes.
    days = 11.7 + np.arange(0.0, 0.2, 0.01)
    faces = [geocentric(timescale().tt(1992, 4, day)) for day in days]
    height = [face.sun_altitude_deg(-20.0, 9.7)[0, 0] for face in faces]
    assert np.interp(0.0, height, days) == pytest.approx(11.8069, abs=0.002)


def test_phase_reproduces_meeus1998_example_48a():
    # Phase angle 69.0756 degrees, lit share 0.6786 (0.6775 by the short formula).
    face = geocentric(timescale().tt(1992, 4, 12))
    phase = face.from_centre_deg(face.sun_lon_deg, face.sun_lat_deg)[0, 0]
    assert phase == pytest.approx(69.0756, abs=0.02)
    assert (1.0 + np.cos(np.radians(phase))) / 2.0 == pytest.approx(0.6786, abs=0.0005)


def test_face_agrees_with_the_lunar_kernel_on_the_day_of_example_53a():
    # NAIF's moon_pa_de421 in mean-Earth axes: -1.2330, 4.1743; Sun 67.8993, 1.4536.
    face = geocentric(timescale().tt(1992, 4, 12))
    found = [face.libration_lon_deg, face.libration_lat_deg, face.sun_lon_deg, face.sun_lat_deg]
    kernel_says = [-1.2330, 4.1743, 67.8993, 1.4536]
    assert [float(x[0]) for x in found] == pytest.approx(kernel_says, abs=0.004)
