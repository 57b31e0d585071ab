"""Figure errors against the aberration theory of textbooks."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wave_samples import mapped_rms_waves, spherical

from planner.errors import ModelRangeError
from planner.optics.figure import (
    Figure,
    best_focus_waves,
    rms_from_peak_to_valley,
    strehl,
    turned_edge,
    wavefront_error,
)

HALF_DIGIT = 0.0005
PROFILE_STEP = 0.002  # straight lines between 41 points of a quartic


def test_strehl_of_quarter_wave_spherical_is_rayleighs_080() -> None:
    """Rayleigh 1879, Born & Wolf 9.3: a quarter wave of spherical aberration leaves 0.80."""
    assert strehl(spherical(0.25), 0.0) == pytest.approx(0.80, abs=0.005)


def test_rms_of_quarter_wave_spherical_is_one_13th() -> None:
    """Any optics text: PV/RMS of spherical aberration at best focus is 3.354, RMS 1/13.4."""
    assert rms_from_peak_to_valley(0.25) == pytest.approx(1.0 / 13.416, rel=1e-4)
    assert mapped_rms_waves(spherical(0.25), 0.0) == pytest.approx(1.0 / 13.416, rel=PROFILE_STEP)


@pytest.mark.parametrize(("waves", "ratio"), [(1 / 14, 0.818), (1 / 13.4, 0.803), (0.05, 0.906)])
def test_strehl_of_unmapped_error_agrees_with_marechal(waves: float, ratio: float) -> None:
    """exp(-(2 pi sigma)^2): 0.82 at a fourteenth of a wave (Marechal; any optics text)."""
    assert strehl(Figure(waves), 0.3) == pytest.approx(ratio, abs=HALF_DIGIT)


def test_defocus_is_no_error_once_the_observer_focuses() -> None:
    radius = np.linspace(0.0, 1.0, 201)
    defocus = Figure(profile=tuple(zip(radius.tolist(), (0.8 * radius**2).tolist(), strict=True)))
    assert best_focus_waves(defocus, 0.25) == pytest.approx(0.8, abs=0.001)
    assert strehl(defocus, 0.25) == pytest.approx(1.0, abs=1e-4)


def test_strehl_of_small_error_agrees_with_its_rms() -> None:
    """Marechal's law ties the mapped error's exact Strehl to its RMS; fourth order left out."""
    figure = turned_edge(0.2, 0.15)
    sigma = mapped_rms_waves(figure, 0.2)
    assert strehl(figure, 0.2) == pytest.approx(math.exp(-((2 * math.pi * sigma) ** 2)), abs=0.005)


def test_a_mask_that_hides_the_turned_edge_restores_the_wave() -> None:
    """What lies outside the mask does not count: the profile within is flat."""
    edge = turned_edge(0.1, 1.0)
    assert np.all(wavefront_error(edge, np.linspace(0.0, 0.9, 50)) == 0.0)
    assert float(wavefront_error(edge, 1.0)) == pytest.approx(-1.0)  # turned down, the wave lags


@settings(deadline=None, max_examples=60)
@given(st.floats(0.01, 0.3), st.floats(0.0, 1.0), st.floats(0.0, 0.4))
def test_strehl_stays_within_0_and_1(width: float, waves: float, obstruction: float) -> None:
    assert 0.0 <= strehl(turned_edge(width, waves), obstruction) <= 1.0 + 1e-12


@pytest.mark.parametrize("rms", [-0.01, 0.251, 0.5])
def test_figure_rejects_a_peak_to_valley_given_as_rms(rms: float) -> None:
    with pytest.raises(ModelRangeError, match="peak to valley"):
        Figure(rms)


def test_figure_takes_the_worst_rms_and_a_profile_over_the_whole_radius() -> None:
    """A quarter of a wave, and points from the middle to the rim: the documented ends."""
    worst = Figure(0.25, ((0.0, 0.1), (1.0, -0.1)))
    assert wavefront_error(worst, [0.0, 0.25, 1.0]) == pytest.approx([0.1, 0.05, -0.1], abs=1e-12)


@pytest.mark.parametrize("radii", [(0.5, 0.2), (0.3, 0.3), (-0.1, 0.5), (0.5, 1.01)])
def test_figure_rejects_radii_out_of_order(radii: tuple[float, float]) -> None:
    with pytest.raises(ModelRangeError, match="rise within 0..1"):
        Figure(profile=((radii[0], 0.0), (radii[1], 0.1)))
