"""Twilight: published tables, steady growth, no jumps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts
from planner.sky.twilight import DARK_SKY_MU, patat_zenith_mu, twilight_luminance_nl

PUBLISHED_SCATTER_MAG = 0.9  # between twilights of different authors and sites


@pytest.mark.parametrize(
    ("zenith_distance", "mu"),
    [(95, 11.84), (96, 13.30), (98, 15.88), (100, 18.00), (102, 19.67), (104, 20.89), (105, 21.32)],
)
def test_twilight_reproduces_patat2006_table1(zenith_distance: float, mu: float) -> None:
    """Patat et al. 2006, A&A 455, 385, Table 1: V fit by the Sun's zenith distance.

    The sum of twilight and the dark level inside the fit gives the fit back.
    """
    depression = zenith_distance - 90.0
    assert patat_zenith_mu(depression) == pytest.approx(mu, abs=0.01)
    total = twilight_luminance_nl(-depression) + nanolamberts(DARK_SKY_MU)
    assert surface_brightness_from_nanolamberts(total) == pytest.approx(mu, abs=0.01)


@pytest.mark.parametrize(
    ("depression", "sacramento_peak", "maryland"),
    [
        (0.0, 7.74, 7.06),
        (3.0, 10.00, 9.25),
        (6.0, 14.14, 13.05),
        (9.0, 17.81, 17.06),
        (12.0, 20.30, 19.80),
        (15.0, 21.75, 20.99),
    ],
)
def test_twilight_agrees_with_koomen1952(
    depression: float, sacramento_peak: float, maryland: float
) -> None:
    """Koomen et al. 1952, JOSA 42, 353: zenith luminances of two sites, in magnitudes.

    Below 5 degrees the model is drawn through their mean, so the first two rows only check
    that; the others are independent of it.
    """
    total = twilight_luminance_nl(-depression) + nanolamberts(DARK_SKY_MU)
    mu = surface_brightness_from_nanolamberts(total)
    assert mu == pytest.approx(sacramento_peak, abs=PUBLISHED_SCATTER_MAG)
    assert mu == pytest.approx(maryland, abs=PUBLISHED_SCATTER_MAG)


def test_twilight_ends_at_18_degrees() -> None:
    """End of astronomical twilight; at 17 degrees under 1 % of a dark sky is left."""
    assert np.all(twilight_luminance_nl([-18.0, -18.5, -40.0, -90.0]) == 0.0)
    assert 0.0 < twilight_luminance_nl(-17.0) < 0.01 * nanolamberts(21.6)


@settings(deadline=None, max_examples=60)
@given(st.floats(-90.0, 90.0), st.floats(-90.0, 90.0))
def test_a_higher_sun_never_darkens(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert twilight_luminance_nl(high) >= twilight_luminance_nl(low) * (1.0 - 1e-12)


@pytest.mark.parametrize(("depression", "mu"), [(0.0, 7.40), (3.0, 9.625)])
def test_bright_twilight_is_the_mean_of_koomen1952(depression: float, mu: float) -> None:
    """Koomen et al. 1952: the mean of 7.74 and 7.06, of 10.00 and 9.25."""
    found = surface_brightness_from_nanolamberts(twilight_luminance_nl(-depression))
    assert found == pytest.approx(mu, abs=0.01)


def test_twilight_has_no_kink_where_the_fit_ends() -> None:
    """The magnitudes a degree just before and just after 15 degrees differ by under a tenth."""
    around = np.log10(twilight_luminance_nl([-15.02, -15.0, -14.98]))
    after, before = np.diff(around) / 0.02 * 2.5
    assert after == pytest.approx(before, rel=0.1)


@pytest.mark.parametrize("joint", [-15.0, -5.0, -3.0, 0.0, 5.0, 20.0])
def test_twilight_is_continuous(joint: float) -> None:
    low, high = twilight_luminance_nl([joint - 1e-6, joint + 1e-6])
    assert high == pytest.approx(low, rel=1e-4)


@pytest.mark.parametrize(("sun", "cd_m2"), [(5.0, 700.0), (90.0, 4000.0)])
def test_day_sky_runs_from_700_to_4000_cd_m2(sun: float, cd_m2: float) -> None:
    """A low and an overhead Sun, clear sky (from memory), to a tenth of a magnitude.

    1 nL is 1e-5/pi cd/m^2.
    """
    found = float(twilight_luminance_nl(sun)) * 1e-5 / np.pi
    assert found == pytest.approx(cd_m2, rel=0.096)


def test_day_sky_is_far_too_bright_for_faint_targets() -> None:
    """A clear day's sky is some thousand cd/m^2, 3 to 6 mag/arcsec^2 (from memory)."""
    mu = surface_brightness_from_nanolamberts(twilight_luminance_nl([5.0, 30.0, 60.0]))
    assert np.all((mu > 3.0) & (mu < 6.0))
