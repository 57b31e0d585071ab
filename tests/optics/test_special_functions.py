"""Series and roots of the star image against scipy's."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import j0, j1, jvp

from planner.constants import LAMBDA_ARCSEC_MM
from planner.optics.image import mtf_nodes, psf_matrix
from planner.optics.resolution import central_light_share, dark_ring_arcsec, sparrow_arcsec

SERIES_ERROR = 1.2e-7  # Abramowitz & Stegun 1964, 9.4.1 and 9.4.3: 5e-8 and 1e-7
OBSTRUCTIONS = [0.0, 0.15, 0.3, 0.55]


def amplitude(x: float, obstruction: float) -> float:
    """``(2 J1(x) - e 2 J1(ex)) / (x (1 - e^2))``: Schroeder 2000, ch. 10; scipy's J1."""
    e = obstruction
    return float(2.0 * (j1(x) - e * j1(e * x)) / x / (1.0 - e * e))


def test_psf_matrix_holds_bessel_functions_to_the_series_own_error() -> None:
    """Column v of the matrix over its weights is J0(2 pi f v), from 0 to 60 lambda/D."""
    radius = np.concatenate((np.linspace(0.0, 2.0, 101), np.linspace(2.0, 60.0, 101)))
    frequency, weight = mtf_nodes()
    found = psf_matrix(radius, 0.25) * (1.0 - 0.25**2) / 8.0 / weight[:, None]
    wanted = j0(2.0 * np.pi * frequency[:, None] * radius)
    assert np.max(np.abs(found - wanted)) < SERIES_ERROR


@pytest.mark.parametrize("obstruction", OBSTRUCTIONS)
def test_dark_ring_is_the_root_scipy_finds(obstruction: float) -> None:
    zero = brentq(amplitude, 1.0, 4.0, args=(obstruction,), xtol=1e-13)
    ring = float(dark_ring_arcsec(1.0, obstruction)) / LAMBDA_ARCSEC_MM
    assert ring * np.pi == pytest.approx(zero, abs=1e-10)


@pytest.mark.parametrize("obstruction", OBSTRUCTIONS)
def test_central_light_share_agrees_with_adaptive_sums(obstruction: float) -> None:
    """Trapezia of 2000 steps: good to 1e-6."""
    zero = brentq(amplitude, 1.0, 4.0, args=(obstruction,))
    inside, _ = quad(lambda x: amplitude(x, obstruction) ** 2 * x, 1e-12, zero)
    expected = (1.0 - obstruction**2) / 2.0 * inside
    assert central_light_share(obstruction) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("obstruction", OBSTRUCTIONS)
def test_sparrow_separation_is_the_root_scipy_finds(obstruction: float) -> None:
    """Flat top: a'^2 + a a'' = 0 half-way, with a = 2 J1(x)/x and its derivatives of jvp."""

    def jinc(x: float, order: int) -> float:
        j, d, dd = (float(jvp(1, x, n)) for n in (0, 1, 2))
        return 2.0 * (j / x, d / x - j / x**2, dd / x - 2 * d / x**2 + 2 * j / x**3)[order]

    def bend(x: float) -> float:
        e = obstruction
        a, slope, curve = (
            jinc(x, n) - (e ** (2 + n) * jinc(e * x, n) if e else 0.0) for n in range(3)
        )
        return slope * slope + a * curve

    expected = 2.0 * brentq(bend, 0.3, 2.0, xtol=1e-13)
    found = float(sparrow_arcsec(1.0, obstruction)) / LAMBDA_ARCSEC_MM
    assert found * np.pi == pytest.approx(expected, abs=1e-9)
