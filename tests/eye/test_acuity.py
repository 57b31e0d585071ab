"""Acuity: what is known of it, and its invariants; its slope is calibrated by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.acuity import blur_fwhm_arcmin, coarsening, image_brightness_mag


def test_blur_of_a_bright_star_is_the_normal_eyes_arcminute() -> None:
    """Normal acuity of 6/6 resolves 1 arcmin (Snellen; any optometry text)."""
    assert float(blur_fwhm_arcmin(3.0)) == pytest.approx(1.0)


def test_image_brightness_equals_the_magnitude_in_six_inches_at_one_mm() -> None:
    assert float(image_brightness_mag(6.3, 152.4, 1.0)) == pytest.approx(6.3)


def test_twice_the_aperture_is_worth_a_magnitude_and_a_half() -> None:
    """Light grasp goes with the square of the aperture: 5 log10 2 = 1.505 mag."""
    gain = float(image_brightness_mag(8.0, 150.0, 1.0) - image_brightness_mag(8.0, 300.0, 1.0))
    assert gain == pytest.approx(1.505, abs=0.0005)


def test_halving_the_exit_pupil_spreads_the_light_four_times() -> None:
    """The disc's apparent area goes with the inverse square of the exit pupil: 1.505 mag."""
    loss = float(image_brightness_mag(8.0, 150.0, 0.5) - image_brightness_mag(8.0, 150.0, 1.0))
    assert loss == pytest.approx(1.505, abs=0.0005)


@settings(deadline=None, max_examples=60)
@given(st.floats(-2.0, 14.0), st.floats(0.0, 4.0))
def test_a_fainter_image_is_never_seen_finer(b: float, more: float) -> None:
    bright, faint = coarsening(np.array([b, b + more]))
    assert faint >= bright >= 1.0


def test_regression_coarsening_of_a_faint_image() -> None:
    """10^(0.09 x 3) at b = 10: the calibrated slope itself."""
    assert float(coarsening(10.0)) == pytest.approx(1.862, abs=0.001)
