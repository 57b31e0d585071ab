"""The star in and out of focus, and the bands of a grating."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j0

from planner.mirror.grating import ronchi_dark
from planner.mirror.star_test import star_light

RHO = np.linspace(0.0, 1.0, 401)
PERFECT, HIGH_EDGE = np.zeros_like(RHO), RHO**4
MIDDLE = np.zeros(1)


def test_a_perfect_star_out_of_focus_follows_the_closed_form() -> None:
    """On the axis (sin pi D / pi D)^2; Born & Wolf, Principles of Optics, 8.8 (from memory)."""
    for defocus in (0.3, 1.5, 5.5, -5.5):
        found = float(star_light(RHO, PERFECT, defocus, MIDDLE, 0.0)[0])
        assert found == pytest.approx(float(np.sinc(defocus) ** 2), abs=2e-5)


def test_spherical_aberration_at_best_focus_agrees_with_hand_arithmetic() -> None:
    """rho^4 less rho^2 is a quarter wave peak to valley: Strehl 0.80, Rayleigh's rule."""
    assert float(star_light(RHO, HIGH_EDGE, 1.0, MIDDLE, 0.0)[0]) == pytest.approx(0.8003, abs=2e-4)


@pytest.mark.parametrize(("defocus", "radius"), [(8.0, 20.0), (-8.0, 20.0), (1.0, 1.2), (5.0, 3.0)])
@pytest.mark.parametrize("obstruction", [0.0, 0.25])
def test_a_star_agrees_with_scipys_integral(
    defocus: float, radius: float, obstruction: float
) -> None:
    """The diffraction integral by scipy's own quadrature and Bessel function."""
    inner = obstruction**2

    def part(t: float, turn: float) -> float:
        wave = 2.0 * np.pi * (t**2 - defocus * t) + turn
        return float(np.cos(wave) * j0(np.pi * radius * np.sqrt(t)))

    sums = [quad(part, inner, 1.0, args=(turn,), limit=400)[0] for turn in (0.0, -np.pi / 2.0)]
    expected = (sums[0] ** 2 + sums[1] ** 2) / (1.0 - inner) ** 2
    found = float(star_light(RHO, HIGH_EDGE, defocus, np.array([radius]), obstruction)[0])
    assert found == pytest.approx(expected, rel=0.01, abs=1e-6)


def test_inside_and_outside_change_places_with_the_sign_of_the_wave() -> None:
    radius = np.linspace(0.0, 40.0, 30)
    inside = star_light(RHO, HIGH_EDGE, 6.0, radius, 0.2)
    outside = star_light(RHO, -HIGH_EDGE, -6.0, radius, 0.2)
    assert inside == pytest.approx(outside, rel=1e-9)


def test_bands_of_a_sphere_are_straight_and_as_wide_as_the_grating_makes_them() -> None:
    """All rays of a sphere meet in its centre: d mm off it the line spacing is R/(n d)."""
    radius, inside, lines = 2000.0, 5.0, 4.0
    x, _ = np.meshgrid(np.linspace(-80.0, 80.0, 801), np.linspace(-80.0, 80.0, 9))
    dark = ronchi_dark(x, np.zeros_like(x), radius, inside, lines)
    assert (dark == dark[0]).all()
    edges = x[0][1:][np.diff(dark[0].astype(int)) != 0]
    assert np.diff(edges) == pytest.approx(radius / (2.0 * lines * inside), abs=0.3)
