"""Orbits against Meeus, against Gaia DR3, and against the laws of motion."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from target_samples import orbits_of, sample_rows

from planner.targets.orbit import (
    apparent_places,
    eccentric_anomaly_rad,
    position_angle_shift_deg,
)

ELEMENTS = (
    "period_yr",
    "semi_major_arcsec",
    "inclination_deg",
    "node_deg",
    "periastron_yr",
    "eccentricity",
    "periastron_longitude_deg",
)
ETA_CRB = dict(
    zip(ELEMENTS, (41.623, 0.907, 59.025, 23.717, 1934.008, 0.2763, 219.907), strict=True)
)
FIRST_ORDER_DEG = 0.01  # second-order terms of precession over 30 years below dec 60
HALF_DIGIT_ARCSEC = 0.0005
HALF_DIGIT_DEG = 0.05

elements = st.fixed_dictionaries(
    {
        "period_yr": st.floats(5.0, 5000.0),
        "semi_major_arcsec": st.floats(0.1, 50.0),
        "inclination_deg": st.floats(0.0, 180.0),
        "node_deg": st.floats(0.0, 360.0),
        "periastron_yr": st.floats(1500.0, 2200.0),
        "eccentricity": st.floats(0.0, 0.99),
        "periastron_longitude_deg": st.floats(0.0, 360.0),
    }
)
years = st.floats(1700.0, 2100.0)


def _plane(orbit: dict[str, float], year: float) -> tuple[float, float]:
    separation, angle = apparent_places(orbits_of(**orbit), year)
    turn = np.radians(angle[0])
    return float(separation[0] * np.cos(turn)), float(separation[0] * np.sin(turn))


def test_apparent_places_reproduces_meeus1998_example_57a() -> None:
    # Meeus 1998, Astronomical Algorithms, 2nd ed., example 57.a: eta CrB in 1980.0
    separation, angle = apparent_places(orbits_of(**ETA_CRB), 1980.0)
    assert separation[0] == pytest.approx(0.411, abs=HALF_DIGIT_ARCSEC)
    assert angle[0] == pytest.approx(318.4, abs=HALF_DIGIT_DEG)


def test_eccentric_anomaly_reproduces_meeus1998_chapter30() -> None:
    # Meeus 1998, example 30.a: e = 0.1, M = 5 deg; and p. 205: e = 0.99, M = 0.2 rad
    assert np.degrees(eccentric_anomaly_rad(np.radians(5.0), 0.1)) == pytest.approx(
        5.554589, abs=5e-7
    )
    assert eccentric_anomaly_rad(0.2, 0.99) == pytest.approx(1.066997365282, abs=5e-12)


# Relative places at 2016.0 from Gaia DR3 positions (Gaia Collaboration 2023, A&A 674, A1); the
# orbits are of the Sixth Catalog and rest on other measures.
GAIA_2016 = {
    "gam Vir": (2.398, 3.7),
    "eps2 Lyr": (2.383, 76.5),
    "eta Cas": (13.327, 324.4),
    "xi UMa": (1.830, 170.9),
    "70 Oph": (6.412, 125.1),
    "61 Cyg": (31.593, 152.6),
    "36 And": (1.130, 330.2),
    "mu Dra": (2.525, 2.1),
}
ORBIT_ERROR_ARCSEC = 0.05  # scatter of such orbits against Gaia is about 0.026", twice that
ORBIT_ERROR_DEG = 1.2  # scatter about 1.2 deg over orbits of all grades


def test_apparent_places_agrees_with_gaia_dr3() -> None:
    rows = sample_rows("orbits_typed.csv")
    orbits = orbits_of(**{name: [float(row[name]) for row in rows] for name in ELEMENTS})
    separation, angle = apparent_places(orbits, 2016.0)
    for row, found, turned in zip(rows, separation, angle, strict=True):
        measured, position_angle = GAIA_2016[row["name"]]
        assert found == pytest.approx(measured, abs=ORBIT_ERROR_ARCSEC), row["name"]
        off = (turned - position_angle + 180.0) % 360.0 - 180.0
        assert abs(off) < ORBIT_ERROR_DEG, row["name"]


@settings(deadline=None, max_examples=60)
@given(st.floats(-20.0, 20.0), st.floats(0.0, 0.9999))
def test_eccentric_anomaly_satisfies_kepler(mean: float, eccentricity: float) -> None:
    anomaly = float(eccentric_anomaly_rad(mean, eccentricity))
    back = anomaly - eccentricity * np.sin(anomaly) - mean
    assert abs((back + np.pi) % (2.0 * np.pi) - np.pi) < 1e-11  # rounding of angles up to 20 rad


@settings(deadline=None, max_examples=60)
@given(elements, years)
def test_separation_stays_between_projected_limits(orbit: dict[str, float], year: float) -> None:
    separation, _ = apparent_places(orbits_of(**orbit), year)
    a, e = orbit["semi_major_arcsec"], orbit["eccentricity"]
    nearest = a * (1.0 - e) * abs(np.cos(np.radians(orbit["inclination_deg"])))
    assert nearest - 1e-9 <= separation[0] <= a * (1.0 + e) + 1e-9


@settings(deadline=None, max_examples=60)
@given(elements, years, st.integers(-3, 3))
def test_place_returns_after_whole_periods(
    orbit: dict[str, float], year: float, turns: int
) -> None:
    here = _plane(orbit, year)
    there = _plane(orbit, year + turns * orbit["period_yr"])
    # a rounding error of the date, amplified by the speed at periastron
    speed = orbit["semi_major_arcsec"] / (1.0 - orbit["eccentricity"]) / orbit["period_yr"]
    assert np.hypot(here[0] - there[0], here[1] - there[1]) < 1e-8 * (1.0 + 100.0 * speed)


@settings(deadline=None, max_examples=60)
@given(elements, st.floats(0.05, 0.95))
def test_line_sweeps_equal_areas(orbit: dict[str, float], phase: float) -> None:
    year = orbit["periastron_yr"] + phase * orbit["period_yr"]
    step = 1e-5 * orbit["period_yr"]
    (x1, y1), (x2, y2) = _plane(orbit, year - step), _plane(orbit, year + step)
    swept = (x1 * y2 - x2 * y1) / 2.0 / (2.0 * step)
    a, e = orbit["semi_major_arcsec"], orbit["eccentricity"]
    ellipse = np.pi * a * a * np.sqrt(1.0 - e * e) / orbit["period_yr"]
    tilt = np.cos(np.radians(orbit["inclination_deg"]))
    assert swept == pytest.approx(ellipse * tilt, abs=1e-4 * ellipse)


def test_grid_of_years_equals_single_years() -> None:
    orbits = orbits_of(**{name: [value, value] for name, value in ETA_CRB.items()})
    grid = np.array([[1980.0, 1990.0, 2000.0]])
    separation, angle = apparent_places(orbits, grid)
    assert separation.shape == angle.shape == (2, 3)
    for column, year in enumerate(grid[0]):
        one, turned = apparent_places(orbits, year)
        assert np.array_equal(separation[:, column], one)
        assert np.array_equal(angle[:, column], turned)
    each, _ = apparent_places(orbits, np.array([1980.0, 1990.0]))
    assert np.array_equal(each, separation[[0, 1], [0, 1]])


@pytest.mark.parametrize("place", [(104.0, 13.2), (281.1, 39.7), (200.0, 60.0), (90.0, -30.0)])
def test_position_angle_shift_agrees_with_astropy(place: tuple[float, float]) -> None:
    # the pair's two ends precessed from J2000 to J2030 by astropy (IAU 1976 precession of FK5)
    from astropy.coordinates import FK5, SkyCoord
    from astropy.time import Time

    ends = SkyCoord([place[0]] * 2, [place[1], place[1] + 0.001], unit="deg", frame=FK5())
    later = ends.transform_to(FK5(equinox=Time(2030.0, format="jyear")))
    expected = later[0].position_angle(later[1]).deg
    found = position_angle_shift_deg(*place, 2000.0, 2030.0)
    assert abs((found - expected + 180.0) % 360.0 - 180.0) < FIRST_ORDER_DEG


def test_position_angle_shift_runs_both_ways() -> None:
    there = position_angle_shift_deg(100.0, 40.0, 1900.0, 2000.0)
    back = position_angle_shift_deg(100.0, 40.0, 2000.0, 1900.0)
    assert there == pytest.approx(-back)
    assert there > 0.5
