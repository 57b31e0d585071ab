"""Seeing against turbulence theory and a second formula for the air's refraction."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sky.seeing import (
    apertures_per_r0,
    atmosphere_mtf,
    dispersion_arcsec,
    fried_parameter_mm,
    line_of_sight_fwhm,
    refractivity,
)

FORMULA_SPREAD = 1e-5  # of n - 1: two fits to different measurements, 0.030 and 0.033 % CO2
RADIANS_ARCSEC = 206264.806


def test_r0_of_one_arcsec_seeing_agrees_with_common_figures() -> None:
    """Roddier 1981: r0 about 11 cm at 1" and half of it at 2", at 550 nm."""
    assert float(fried_parameter_mm(1.0)) == pytest.approx(110.7, abs=0.5)
    assert float(fried_parameter_mm(2.0)) == pytest.approx(55.4, abs=0.3)


def test_apertures_per_r0_of_six_inches_in_one_arcsec() -> None:
    """0.976 lambda/r0 = 1" by hand: D/r0 = 1.376."""
    assert float(apertures_per_r0(152.4, 1.0)) == pytest.approx(1.376, abs=0.005)


def test_long_exposure_image_has_kolmogorov_width() -> None:
    """Fried 1966, Roddier 1981: FWHM 0.976 lambda/r0, here from the transfer function itself."""
    frequency = (np.arange(4000) + 0.5) / 1000.0  # in r0/lambda
    transfer = np.exp(-3.44 * frequency ** (5.0 / 3.0))
    ours = atmosphere_mtf(frequency / 100.0, 100.0, 0.0)
    assert np.max(np.abs(ours - transfer)) < 1e-12
    angle = (np.arange(400) + 0.5) * np.pi / 800.0
    radius = np.linspace(0.4, 0.6, 41)
    turns = 2.0 * np.pi * frequency[:, None] * np.sin(angle)
    waves = [np.cos(r * turns).mean(axis=1) for r in radius]
    profile = [float(np.sum(w * ours * frequency)) for w in waves]
    half = 0.5 * float(np.sum(ours * frequency))
    width = 2.0 * np.interp(-half, -np.array(profile), radius)
    assert width == pytest.approx(0.976, abs=0.002)


@pytest.mark.parametrize(("d_over_r0", "strehl"), [(1.0, 0.875), (1.4, 0.791), (2.06, 0.640)])
def test_peak_with_all_motion_followed_is_near_noll1976(d_over_r0: float, strehl: float) -> None:
    """Noll 1976: exp(-0.134 (D/r0)^(5/3)) without tilt. Fried's form is known to fall short,
    by 4 to 10 % here: the band is one-sided."""
    f = (np.arange(2000) + 0.5) / 2000.0
    clear = 2.0 / np.pi * (np.arccos(f) - f * np.sqrt(1.0 - f**2))
    peak = float(np.mean(clear * atmosphere_mtf(f, d_over_r0, 1.0) * f) * 8.0)
    assert 0.89 * strehl < peak < strehl


def test_seeing_grows_with_airmass_to_the_three_fifths() -> None:
    """Roddier 1981: at 60 degrees from the zenith, X = 2, seeing is 2^0.6 = 1.516 times worse."""
    assert float(line_of_sight_fwhm(2.0, 2.0)) == pytest.approx(2.0 * 1.516, abs=0.001)


def _peck_reeder(wavelength_nm: float) -> float:
    """Peck & Reeder 1972, J. Opt. Soc. Am. 62, 958 (constants from memory)."""
    square = (1000.0 / wavelength_nm) ** 2
    return 1e-8 * (8060.51 + 2480990.0 / (132.274 - square) + 17455.7 / (39.32957 - square))


@pytest.mark.parametrize("wavelength_nm", [450.0, 510.0, 550.0, 610.0, 700.0])
def test_refractivity_agrees_with_peck_and_reeder1972(wavelength_nm: float) -> None:
    assert refractivity(wavelength_nm) == pytest.approx(
        _peck_reeder(wavelength_nm), rel=FORMULA_SPREAD
    )


def test_dispersion_agrees_with_peck_and_reeder1972() -> None:
    """510 to 610 nm at X = 1.5, from the second formula: 0.43 arcsec at sea level."""
    spread = (_peck_reeder(510.0) - _peck_reeder(610.0)) * RADIANS_ARCSEC * np.sqrt(1.5**2 - 1.0)
    assert float(dispersion_arcsec(1.5)) == pytest.approx(spread, rel=0.005)
    assert float(dispersion_arcsec(1.0)) == 0.0


def test_dispersion_falls_with_the_air() -> None:
    """Ideal gas: proportional to the pressure."""
    assert float(dispersion_arcsec(2.0, 900.0)) == pytest.approx(
        float(dispersion_arcsec(2.0)) * 900.0 / 1013.25
    )


def test_dispersion_grows_in_cold_air_as_printed_indices_do() -> None:
    """n - 1 of air in sodium light at 760 mm: 2.926e-4 at 0 C and 2.773e-4 at 15 C, any
    handbook of physics (from memory); the last digit is good to 0.0004 of the ratio."""
    cold = float(dispersion_arcsec(2.0, 1013.25, 0.0))
    assert cold / float(dispersion_arcsec(2.0)) == pytest.approx(2.926 / 2.773, abs=0.001)


@pytest.mark.parametrize(("celsius", "kelvin"), [(-20.0, 253.15), (30.0, 303.15)])
def test_dispersion_follows_the_density_of_an_ideal_gas(celsius: float, kelvin: float) -> None:
    """Standard air is that of 15 C, 288.15 K: density goes with one over the absolute T."""
    at_15 = float(dispersion_arcsec(1.7, 900.0))
    assert float(dispersion_arcsec(1.7, 900.0, celsius)) == pytest.approx(at_15 * 288.15 / kelvin)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.0, 1.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 5.0),
    st.floats(0.0, 1.0),
    st.floats(0.0, 1.0),
)
def test_atmosphere_mtf_never_gains_from_more_air_or_less_following(
    f: float, broken: float, more: float, a: float, b: float
) -> None:
    low, high = sorted((a, b))
    best = float(atmosphere_mtf(f, broken, high))
    assert float(atmosphere_mtf(f, broken + more, high)) <= best <= 1.0
    assert float(atmosphere_mtf(f, broken, low)) <= best
