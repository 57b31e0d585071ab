"""Resolution against the classical limits and the annular-aperture table."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_rings import HALF_DIGIT, SCHROEDER2000_TABLE_10_1

from planner.constants import ARCSEC_PER_RADIAN, LAMBDA_ARCSEC_MM
from planner.errors import ModelRangeError
from planner.optics.resolution import (
    central_light_share,
    dark_ring_arcsec,
    dawes_arcsec,
    rayleigh_arcsec,
    sparrow_arcsec,
    strehl,
)

INCH_MM = 25.4


@pytest.mark.parametrize(("inches", "limit"), [(1, 4.56), (2, 2.28), (4, 1.14), (6, 0.76)])
def test_dawes_arcsec_reproduces_dawes1867_list(inches: float, limit: float) -> None:
    """Dawes 1867, Mem. RAS 35, 137: 4.56" divided by the aperture in inches."""
    assert dawes_arcsec(inches * INCH_MM) == pytest.approx(limit, abs=0.005)


def test_rayleigh_arcsec_agrees_with_textbook_constant() -> None:
    """1.22 lambda/D (any optics textbook) at 550 nm; 1.22 is rounded to 0.0003 parts."""
    by_hand = 1.22 * 550e-6 / 152.4 * ARCSEC_PER_RADIAN
    assert rayleigh_arcsec(152.4) == pytest.approx(by_hand, rel=3e-4)
    assert rayleigh_arcsec(1.0) == pytest.approx(138.4, abs=0.05)


def test_sparrow_arcsec_agrees_with_textbook_constant() -> None:
    """0.947 lambda/D for two equal incoherent points, clear circle (Sparrow 1916)."""
    assert sparrow_arcsec(1.0) / LAMBDA_ARCSEC_MM == pytest.approx(0.947, abs=HALF_DIGIT)


@pytest.mark.parametrize(("obstruction", "zero", "near", "share"), SCHROEDER2000_TABLE_10_1)
def test_dark_ring_and_light_share_reproduce_schroeder2000_table_10_1(
    obstruction: float, zero: float, near: float, share: float
) -> None:
    """First zero and encircled energy of annular apertures, to the printed digit."""
    ring = float(dark_ring_arcsec(1.0, obstruction)) / LAMBDA_ARCSEC_MM
    assert ring == pytest.approx(zero, abs=near)
    assert central_light_share(obstruction) == pytest.approx(share, abs=HALF_DIGIT)


def test_dark_ring_is_first_zero_of_bessel_j1() -> None:
    """j(1,1) = 3.8317059702 (Abramowitz & Stegun 1964, table 9.5) over pi."""
    ring = float(dark_ring_arcsec(1.0)) / LAMBDA_ARCSEC_MM
    assert ring * math.pi == pytest.approx(3.8317059702, abs=1e-9)


def test_central_light_share_agrees_with_rayleigh1881_closed_form() -> None:
    """Clear circle: 1 - J0(x)^2 - J1(x)^2; J0 there is -0.4027593957 (A&S 1964, table 9.5)."""
    assert central_light_share(0.0) == pytest.approx(1.0 - 0.4027593957**2, abs=1e-6)


@pytest.mark.parametrize("obstruction", [0.0, 0.22, 0.5])
def test_sparrow_separation_is_where_the_dip_between_two_stars_vanishes(obstruction: float) -> None:
    """Two images summed by an independent series for J1: a dip just above, none just below."""

    def series(x: float) -> float:  # 2 J1(x)/x: Abramowitz & Stegun 1964, 9.1.10
        return sum(
            (-1) ** k * (x / 2) ** (2 * k) / (math.factorial(k) * math.factorial(k + 1))
            for k in range(30)
        )

    def image(lambda_d: float) -> float:
        x = math.pi * lambda_d
        return (series(x) - obstruction**2 * series(obstruction * x)) ** 2

    def dip(separation: float) -> float:
        half = separation / 2.0
        between = 2.0 * image(half)
        beside = image(half - 0.02) + image(half + 0.02)
        return beside - between

    limit = float(sparrow_arcsec(1.0, obstruction)) / LAMBDA_ARCSEC_MM
    assert dip(limit * 1.01) > 0.0
    assert dip(limit * 0.99) < 0.0


@pytest.mark.parametrize(
    ("rms", "expected"), [(1 / 14, 0.82), (1 / 13.4, 0.80), (1 / 20, 0.91), (0.0, 1.0)]
)
def test_strehl_agrees_with_marechal_and_practice(rms: float, expected: float) -> None:
    """Marechal: 1/14 wave RMS is Strehl 0.82, 1/13.4 is 0.80 (Born & Wolf 9.3, from memory)."""
    assert strehl(rms) == pytest.approx(expected, abs=0.005)


@settings(deadline=None, max_examples=60)
@given(st.floats(40, 600), st.floats(1.01, 3.0), st.floats(0.0, 0.6), st.floats(0.02, 0.2))
def test_larger_aperture_and_obstruction_never_resolve_less(
    aperture: float, growth: float, obstruction: float, more: float
) -> None:
    """Dark ring and Sparrow limit shrink with aperture, and with the obstruction."""
    for limit in (dark_ring_arcsec, sparrow_arcsec):
        assert limit(aperture * growth, obstruction) < limit(aperture, obstruction)
        assert limit(aperture, obstruction + more) < limit(aperture, obstruction)
    assert central_light_share(obstruction + more) < central_light_share(obstruction)


def test_arrays_equal_scalar_calls() -> None:
    """One call with an array is the same as one call per element."""
    apertures = np.array([60.0, 154.0, 300.0])
    for function in (dawes_arcsec, rayleigh_arcsec, sparrow_arcsec, dark_ring_arcsec):
        np.testing.assert_array_equal(function(apertures), [function(a) for a in apertures])


@pytest.mark.parametrize("obstruction", [-0.1, 0.96, float("nan")])
def test_dark_ring_arcsec_rejects_impossible_obstruction(obstruction: float) -> None:
    """No aperture is left, or none was described."""
    with pytest.raises(ModelRangeError, match="obstruction ratio"):
        dark_ring_arcsec(150.0, obstruction)
