"""Scales of sky brightness: published pairs, inverses, what is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.sky.scales import (
    bortle_range_mu,
    nanolamberts,
    sky_from_bortle,
    sky_from_naked_eye_limit,
    surface_brightness_from_nanolamberts,
)

CD_M2_PER_NANOLAMBERT = 1e-5 / np.pi  # definition of the lambert
LAST_DIGIT_MAG = 0.006  # half of the last printed digit, and rounding
OUR_ZERO_CD_M2 = 34.08 * np.exp(20.7233) * CD_M2_PER_NANOLAMBERT  # Schaefer 1990, eq 17
KOOMEN_ZERO_CD_M2 = 10.0 ** (0.4 * 12.58)  # Crumey 2014: mu = 12.58 - 2.5 log10 B
METER_ZERO_CD_M2 = 1.08e5  # the conversion pages' own


def limit_after_schaefer(mu: float) -> float:
    """Naked-eye limit under a sky: Schaefer 1990, PASP 102, 212, eqs 2, 16 and 17."""
    background_nl = 34.08 * np.exp(20.7233 - 0.92104 * mu)
    footcandles = 10**-9.80 * (1.0 + np.sqrt(10**-1.90 * background_nl)) ** 2
    return float(-16.57 - 2.5 * np.log10(footcandles))


@pytest.mark.parametrize(
    ("luminance", "mu"),
    [(0.2368, 14.14), (0.008073, 17.81), (0.0008181, 20.30), (0.0002153, 21.75)],
)
def test_surface_brightness_agrees_with_koomen1952(luminance: float, mu: float) -> None:
    """Koomen et al. 1952, JOSA 42, 353: zenith at Sacramento Peak, as later quoted in mag."""
    found = surface_brightness_from_nanolamberts(luminance / CD_M2_PER_NANOLAMBERT)
    theirs = found - 2.5 * np.log10(OUR_ZERO_CD_M2 / KOOMEN_ZERO_CD_M2)
    assert theirs == pytest.approx(mu, abs=LAST_DIGIT_MAG)


@pytest.mark.parametrize(("mu", "luminance"), [(16.60, 0.02474), (22.0, 1.712e-4)])
def test_nanolamberts_agree_with_sky_meter_tables(mu: float, luminance: float) -> None:
    """Conversion pages of a sky-meter maker and of a university; their zero point, 1.08e5 cd/m^2,
    differs from Schaefer's by 0.5 %, and four digits are printed.
    """
    found = nanolamberts(mu) * CD_M2_PER_NANOLAMBERT
    assert found * METER_ZERO_CD_M2 / OUR_ZERO_CD_M2 == pytest.approx(luminance, rel=1e-3)


def test_nanolamberts_reproduce_krisciunas_schaefer1991() -> None:
    """Dark zenith of Mauna Kea: V 21.587 is 79.0 nL (from memory)."""
    assert nanolamberts(21.587) == pytest.approx(79.0, abs=0.1)


@pytest.mark.parametrize("mu", [16.0, 18.0, 20.0, 21.5, 22.0])
def test_sky_from_naked_eye_limit_derived_from_the_stated_equation(mu: float) -> None:
    """Checks the implementation: Schaefer 1990, eqs 2, 16 and 17 put together; rounded to 0.01."""
    assert sky_from_naked_eye_limit(limit_after_schaefer(mu)) == pytest.approx(mu, abs=0.01)


def test_sky_from_naked_eye_limit_reproduces_common_pairs() -> None:
    """21.5 for 6.384, and 20 for 5.49 (from memory)."""
    assert sky_from_naked_eye_limit(6.384) == pytest.approx(21.5, abs=0.01)
    assert sky_from_naked_eye_limit(5.49) == pytest.approx(20.0, abs=0.02)


@settings(deadline=None, max_examples=60)
@given(st.floats(2.05, 6.69), st.floats(-5.0, 28.0))
def test_scales_return_what_went_in(limit: float, mu: float) -> None:
    """The limit within 0.01 mag, which is what the rounded constants leave; the other exactly."""
    there = float(sky_from_naked_eye_limit(limit))
    assert limit_after_schaefer(there) == pytest.approx(limit, abs=0.01)
    assert surface_brightness_from_nanolamberts(nanolamberts(mu)) == pytest.approx(mu, abs=1e-9)


def test_bortle_classes_run_from_dark_to_bright_without_overlap() -> None:
    """Bortle 2001 orders them; class 1 near 22, class 5 near 19.7 (common pages, +-0.5)."""
    middles = [sky_from_bortle(n) for n in range(1, 10)]
    assert middles == sorted(middles, reverse=True)
    for darker, brighter in zip(range(1, 9), range(2, 10), strict=True):
        assert bortle_range_mu(darker)[0] == bortle_range_mu(brighter)[1]
    assert middles[0] == pytest.approx(21.85, abs=0.5)
    assert middles[4] == pytest.approx(19.7, abs=0.5)


@pytest.mark.parametrize("limit", [2.0, 6.7])
def test_sky_from_naked_eye_limit_takes_the_ends_of_its_range(limit: float) -> None:
    """Schaefer 1990, eqs 2, 16 and 17, within 0.01 mag for the rounded constants."""
    there = float(sky_from_naked_eye_limit(limit))
    assert limit_after_schaefer(there) == pytest.approx(limit, abs=0.01)


@pytest.mark.parametrize("limit", [1.0, 1.99, 6.71, 7.2, [5.0, 8.0]])
def test_sky_from_naked_eye_limit_rejects_limits_of_no_sky(limit: float | list[float]) -> None:
    with pytest.raises(ModelRangeError, match="naked-eye limit outside 2..6.7"):
        sky_from_naked_eye_limit(limit)


def test_sky_from_bortle_rejects_a_class_that_is_none() -> None:
    with pytest.raises(ModelRangeError, match="sky class 10"):
        sky_from_bortle(10)
