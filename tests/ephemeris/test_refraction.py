"""Refraction against handbook values and skyfield."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skyfield.earthlib import refract

from planner.ephemeris.refraction import refracted_altitude_deg
from planner.errors import ModelRangeError

UNIT_HPA, UNIT_C = 1000.0, 7.0  # 0.28 P/(T + 273) = 1: the formula's own air
TABLE_ERROR_DEG = 0.02 / 3600.0


@pytest.mark.parametrize(
    ("apparent_deg", "expected_arcmin", "last_digit_arcmin"),
    [(0.0, 34.48, 0.01), (0.5, 28.754, 0.001), (5.0, 9.88, 0.01), (45.0, 0.995, 0.002)],
)
def test_lift_to_an_apparent_altitude_reproduces_meeus1998_example16a(
    apparent_deg, expected_arcmin, last_digit_arcmin
):
    # Meeus 1998, Astronomical Algorithms, ch. 16, ex. 16.a: 28.754' at 0.5 deg (from memory);
    # the others are Bennett 1982's formula in the same chapter (from memory)
    true_deg = apparent_deg - expected_arcmin / 60.0
    found = 60.0 * refracted_altitude_deg(true_deg, UNIT_HPA, UNIT_C)
    assert found == pytest.approx(60.0 * apparent_deg, abs=last_digit_arcmin)


def test_refracted_altitude_reproduces_meeus1998_example16a():
    # the same example by Saemundsson's formula: true altitude 33.246' is lifted by 24.618'
    # (from memory). Bennett's and Saemundsson's formulae agree to about 0.1'.
    formulae_agree_arcmin = 0.1
    seen = 60.0 * refracted_altitude_deg(33.246 / 60.0, UNIT_HPA, UNIT_C)
    assert seen - 33.246 == pytest.approx(24.618, abs=formulae_agree_arcmin)


@pytest.mark.parametrize(("pressure", "temperature"), [(1013.0, 10.0), (700.0, -20.0), (0.0, 5.0)])
def test_refracted_altitude_agrees_with_skyfield(pressure, temperature):
    true = np.concatenate([np.linspace(-0.999, 5.0, 2000), np.linspace(5.0, 89.8, 2000)])
    skyfield_stops_at_deg = 1e-4
    difference = refracted_altitude_deg(true, pressure, temperature) - refract(
        true, temperature, pressure
    )
    assert np.max(np.abs(difference)) < skyfield_stops_at_deg


def test_refraction_is_left_out_below_the_horizon_and_at_the_zenith():
    far = np.array([-90.0, -18.0, -1.01, 89.95, 90.0])
    assert np.array_equal(refracted_altitude_deg(far, 1010.0, 10.0), far)


def test_no_answer_stays_no_answer():
    assert np.isnan(refracted_altitude_deg([np.nan, 30.0], 1010.0, 10.0)).tolist() == [True, False]


@settings(deadline=None, max_examples=60)
@given(st.floats(-1.0, 89.0), st.floats(0.01, 0.8))
def test_refraction_keeps_the_order_of_altitudes(low, step):
    seen = refracted_altitude_deg([low, low + step], 1010.0, 10.0)
    assert seen[1] > seen[0] > low


@settings(deadline=None, max_examples=60)
@given(st.floats(-0.9, 89.0))
def test_refracted_altitude_solves_the_equation_it_promises(true_deg):
    # Bennett 1982 at the altitude found, in air of 950 hPa and 0 C
    seen = refracted_altitude_deg(true_deg, 950.0, 0.0)
    lift = 0.28 * 950.0 / 273.0 / 60.0 / np.tan(np.radians(seen + 7.31 / (seen + 4.4)))
    assert seen - lift == pytest.approx(true_deg, abs=2 * TABLE_ERROR_DEG)


@pytest.mark.parametrize(
    ("pressure", "temperature"), [(101325.0, 10.0), (-1.0, 10.0), (1010.0, 283.0)]
)
def test_refraction_rejects_impossible_air(pressure, temperature):
    with pytest.raises(ModelRangeError, match="hPa"):
        refracted_altitude_deg(10.0, pressure, temperature)
