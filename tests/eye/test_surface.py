"""Uniform patches: printed forms, both ends of the law, and order."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.stars import EyeAtTelescope, eyepiece_background_cd_m2, telescopic_limit_mag
from planner.eye.surface import patch_limit_mag, surface_brightness_limit
from planner.eye.threshold import STEREORADIAN_PER_ARCMIN2, contrast_limit, ricco_factor_sr

SIX_INCH = EyeAtTelescope(152.4, 0.0, 1.0 / 1.33, 7.0, 2.0)
ZERO_POINTS_MAG = 0.005  # 12.58 and 13.99 are rounded


@pytest.mark.parametrize("exit_pupil", [7.0, 5.0, 3.0, 2.0])
def test_patch_limit_derived_from_crumey2014_eqs_81_84_88(exit_pupil: float) -> None:
    """Checks the implementation: the paper's own forms, for backgrounds above 1e-5 cd/m^2."""
    area = np.array([0.1, 10.0, 300.0, 5000.0])
    seen = eyepiece_background_cd_m2(SIX_INCH, exit_pupil, 21.0)
    assert seen > 1e-5
    power = 152.4 / exit_pupil
    telescopic_ricco = ricco_factor_sr(seen) / (power**2 * contrast_limit(seen))
    ratio = area * STEREORADIAN_PER_ARCMIN2 / telescopic_ricco
    m0 = telescopic_limit_mag(SIX_INCH, exit_pupil, 21.0)
    total = m0 - 2.5 / 0.6 * np.log10(ratio**0.6 + 1.0)
    assert patch_limit_mag(SIX_INCH, exit_pupil, 21.0, area) == pytest.approx(
        total, abs=ZERO_POINTS_MAG
    )
    deepest = 21.0 - 2.5 * np.log10(2.0 * np.sqrt(2.0) * contrast_limit(seen))
    surface = deepest - 2.5 / 0.6 * np.log10(ratio**-0.6 + 1.0)
    assert surface_brightness_limit(SIX_INCH, exit_pupil, 21.0, area) == pytest.approx(
        surface, abs=ZERO_POINTS_MAG
    )


def test_small_patch_is_a_star() -> None:
    """A patch of 1e-6 arcmin^2 is a star to 0.05 mag (the law goes over slowly)."""
    for exit_pupil in (10.0, 4.0, 0.8):
        found = patch_limit_mag(SIX_INCH, exit_pupil, 21.5, 1e-6)
        star = telescopic_limit_mag(SIX_INCH, exit_pupil, 21.5)
        assert found == pytest.approx(star, abs=0.05)


def test_surface_brightness_and_total_agree() -> None:
    area = np.array([1.0, 50.0, 2000.0])
    total = patch_limit_mag(SIX_INCH, 3.0, 21.0, area)
    mean = total + 2.5 * np.log10(3600.0 * area)
    assert surface_brightness_limit(SIX_INCH, 3.0, 21.0, area) == pytest.approx(
        mean, abs=ZERO_POINTS_MAG
    )


def test_power_does_not_help_a_huge_patch_in_a_black_field() -> None:
    """Once the field is black, a smaller exit pupil only dims the patch (Crumey 2014, sect. 3)."""
    found = surface_brightness_limit(SIX_INCH, np.array([1.0, 0.5]), 21.5, 1e7)
    assert found[0] - found[1] == pytest.approx(2.5 * np.log10(4.0), abs=0.05)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(5.0, 22.0),
    st.floats(0.5, 12.0),
    st.floats(-4.0, 4.0),
    st.floats(0.0, 1.0),
)
def test_better_conditions_never_cost_patches(
    mu: float, exit_pupil: float, log_area: float, aperture: float
) -> None:
    """Darker sky, cleaner mirrors, less shadow, keener eye, and at one exit pupil or at one
    power more aperture.
    """
    eye = EyeAtTelescope(80.0 + 400.0 * aperture, 20.0, 0.7, 6.5, 2.0)
    area = 10.0**log_area
    base = float(patch_limit_mag(eye, exit_pupil, mu, area)) - 1e-9
    larger = replace(eye, aperture_mm=1.1 * eye.aperture_mm)
    assert patch_limit_mag(eye, exit_pupil, mu + 0.3, area) >= base
    assert patch_limit_mag(replace(eye, transmission=0.9), exit_pupil, mu, area) >= base
    assert patch_limit_mag(replace(eye, obstruction_mm=0.0), exit_pupil, mu, area) >= base
    assert patch_limit_mag(replace(eye, field_factor=1.4), exit_pupil, mu, area) >= base
    assert patch_limit_mag(larger, exit_pupil, mu, area) >= base
    assert patch_limit_mag(larger, 1.1 * exit_pupil, mu, area) >= base


@settings(deadline=None, max_examples=60)
@given(st.floats(15.0, 22.0), st.floats(0.5, 8.0), st.floats(-4.0, 4.0), st.floats(-4.0, 4.0))
def test_spread_light_is_harder(mu: float, exit_pupil: float, one: float, other: float) -> None:
    """The same light over more sky is never easier; the same glow over more sky never harder."""
    area = 10.0 ** np.array(sorted((one, other)))
    small, large = patch_limit_mag(SIX_INCH, exit_pupil, mu, area)
    assert large <= small + 1e-9
    faint = surface_brightness_limit(SIX_INCH, exit_pupil, mu, area)
    assert faint[1] >= faint[0] - 1e-9
