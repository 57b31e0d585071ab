"""The second opinion: its own printed figures, and how far it is from the first."""

from __future__ import annotations

import numpy as np
import pytest

from planner.eye.pupil import dark_pupil_mm
from planner.eye.second_opinion import (
    footcandle_magnitude,
    schaefer_limit_mag,
    threshold_footcandle,
)
from planner.eye.stars import EyeAtTelescope, telescopic_limit_mag

SIX_INCH = EyeAtTelescope(152.4, 38.0, 0.735, float(dark_pupil_mm(40.0)), 2.0)
POWERS = np.array([50.0, 107.0, 213.0])


def test_black_sky_limit_reproduces_schaefer1990() -> None:
    """Schaefer 1990, PASP 102, 212, eqs 2 and 16: 7.93 with nothing in the way."""
    assert footcandle_magnitude(threshold_footcandle(0.0)) == pytest.approx(7.93, abs=0.005)


def test_naked_eye_limit_derived_from_the_stated_equation() -> None:
    """Checks the implementation: 6.384 at 21.5 mag/arcsec^2 (Schaefer 1990, eqs 2, 16, 17)."""
    background_nl = 34.08 * np.exp(20.7233 - 0.92104 * 21.5)
    found = footcandle_magnitude(threshold_footcandle(background_nl))
    assert found == pytest.approx(6.384, abs=0.003)


def test_telescopic_limit_derived_from_the_stated_equation() -> None:
    """Checks the implementation: six inches, age 40, k 0.25 at the zenith, B-V 0.5."""
    found = schaefer_limit_mag(SIX_INCH, 152.4 / POWERS, 21.5, 0.25, 0.5)
    assert found == pytest.approx([13.6, 14.0, 14.2], abs=0.05)


def test_rods_give_way_to_cones_with_a_small_step() -> None:
    """Schaefer 1990, eq 2: at 1480 nL the limit falls from 4.30 to 4.21."""
    night, day = footcandle_magnitude(threshold_footcandle([1479.0, 1480.0]))
    assert (night, day) == (pytest.approx(4.30, abs=0.01), pytest.approx(4.21, abs=0.01))


@pytest.mark.parametrize("mu", [20.0, 21.0, 21.5, 22.0])
@pytest.mark.parametrize("aperture_mm", [76.0, 152.4, 300.0])
def test_the_two_opinions_agree_within_a_magnitude(aperture_mm: float, mu: float) -> None:
    """At exit pupils of 0.7 to 3 mm the second is 0.4 to 0.95 mag fainter before extinction,
    and at the zenith (k 0.25) 0.1 to 0.65: models of this kind are no better than that.
    """
    eye = EyeAtTelescope(aperture_mm, 0.25 * aperture_mm, 0.75, 6.5, 2.0)
    exit_pupil = np.array([0.7, 1.0, 1.5, 3.0])
    first = telescopic_limit_mag(eye, exit_pupil, mu)
    difference = schaefer_limit_mag(eye, exit_pupil, mu) - first
    assert np.all((difference > 0.4) & (difference < 0.95))
    at_zenith = schaefer_limit_mag(eye, exit_pupil, mu, 0.25) - first
    assert np.all((at_zenith > 0.1) & (at_zenith < 0.65))


def test_a_wide_exit_pupil_loses_light_to_the_second_opinion_too() -> None:
    """Twice the eye's pupil: less power is worse even though the sky looks no brighter."""
    pupil = SIX_INCH.eye_pupil_mm
    wide, full = schaefer_limit_mag(SIX_INCH, np.array([2.0, 1.0]) * pupil, 21.5)
    assert full - wide == pytest.approx(2.5 * np.log10(4.0), abs=1e-9)


def test_regression_schaefer_six_inch_limit_at_107() -> None:
    """The code's own output: it guards against change and proves nothing."""
    found = schaefer_limit_mag(SIX_INCH, 152.4 / 107.0, 21.5, 0.25, 0.5)
    assert found == pytest.approx(14.0418, abs=5e-4)
