"""The best focus against a maximum found by adaptive sums."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from wave_samples import spherical

from planner.optics.figure import Figure, best_focus_waves, strehl, turned_edge, wavefront_error

FOCUS_ERROR_WAVES = 2e-4  # steps of 1e-4 wave in the last search, and its 2000 rings
ZONE = Figure(profile=((0.0, 0.0), (0.45, 0.02), (0.6, 0.21), (0.75, 0.03), (1.0, 0.1)))


def summed_strehl(figure: Figure, obstruction: float, focus: float) -> float:
    """|mean of exp(2 pi i (W - focus r^2))|^2 over the annulus, by adaptive Gauss-Kronrod sums."""
    corners = [r * r for r, _ in figure.profile if obstruction < r < 1.0]

    def mean(function: np.ufunc) -> float:
        def wave(square: float) -> float:
            error = float(wavefront_error(figure, np.sqrt(square))) - focus * square
            return float(function(2.0 * np.pi * error))

        total, _ = quad(wave, obstruction**2, 1.0, points=corners, limit=200, epsabs=1e-9)
        return float(total / (1.0 - obstruction**2))

    return mean(np.cos) ** 2 + mean(np.sin) ** 2


@pytest.mark.parametrize(
    ("figure", "obstruction"), [(turned_edge(0.3, 0.7), 0.2), (ZONE, 0.0), (spherical(0.4), 0.3)]
)
def test_best_focus_agrees_with_an_independent_search(figure: Figure, obstruction: float) -> None:
    """scipy's quadrature and its bounded minimum, on both sides of ours by a tenth of a wave."""
    ours = best_focus_waves(figure, obstruction)
    found = minimize_scalar(
        lambda focus: -summed_strehl(figure, obstruction, focus),
        bounds=(ours - 0.1, ours + 0.08),
        method="bounded",
        options={"xatol": 1e-6},
    )
    assert ours == pytest.approx(found.x, abs=FOCUS_ERROR_WAVES)
    assert strehl(figure, obstruction) == pytest.approx(-found.fun, abs=1e-5)


@pytest.mark.parametrize("obstruction", [0.0, 0.3])
def test_best_focus_of_spherical_aberration_makes_both_rims_equal(obstruction: float) -> None:
    """Mahajan 1982, J. Opt. Soc. Am. 72, 1258 (from memory): ``A (r^4 - (1 + e^2) r^2)`` is best.

    Small enough that the Strehl ratio goes with the RMS; 41 straight lines bend it by 0.002.
    """
    depth = 0.1
    moved = best_focus_waves(spherical(depth), obstruction)
    assert moved == pytest.approx(4.0 * depth * obstruction**2, abs=0.002 * 4.0 * depth)
