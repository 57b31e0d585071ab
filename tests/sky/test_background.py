"""The sky behind targets: sums, shares, shapes and order."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.sky.background import SkyState, night_luminance_nl, sky_background
from planner.sky.scales import nanolamberts

UNITS = st.floats(0.0, 1.0)


def _state(
    zenith: float = 21.2, sun: float = -40.0, moon: float = -30.0, phase: float = 60.0
) -> SkyState:
    return SkyState(zenith, 0.25, sun, moon, phase)


def test_moonless_zenith_is_the_sites_own_sky() -> None:
    found = sky_background(_state(), 90.0, 90.0)
    assert found.sky_mag == pytest.approx(21.2, abs=1e-9)
    assert found.moon_share == found.twilight_share == 0.0


def test_night_sky_derived_from_the_stated_equation() -> None:
    """Checks the implementation: Krisciunas & Schaefer 1991, eq 2, at 60 deg from the zenith.

    X = 1.8898: -2.5 log10(1.8898) + 0.172 * 0.8898 = -0.538 mag.
    """
    ratio = night_luminance_nl(21.587, 0.172, 30.0) / night_luminance_nl(21.587, 0.172, 90.0)
    assert -2.5 * np.log10(ratio) == pytest.approx(-0.538, abs=0.001)


def test_background_broadcasts_targets_against_times() -> None:
    """A scalar call gives the element of the array call; below the horizon no answer."""
    sun = np.array([-10.0, -14.0, -25.0, -30.0])
    moon = np.array([20.0, 10.0, 3.0, -8.0])
    state = SkyState(20.8, 0.28, sun, moon, np.full(4, 40.0), np.full(4, 370000.0))
    altitude = np.array([[80.0, 60.0, 40.0, 20.0], [30.0, 20.0, 10.0, -1.0]])
    separation = np.array([[90.0, 80.0, 70.0, 60.0], [5.0, 9.0, 15.0, 20.0]])
    found = sky_background(state, altitude, separation)
    assert found.sky_mag.shape == (2, 4)
    assert np.isnan(found.sky_mag[1, 3]) and np.isfinite(found.sky_mag).sum() == 7
    alone = sky_background(SkyState(20.8, 0.28, -14.0, 10.0, 40.0, 370000.0), 20.0, 9.0)
    assert alone.sky_mag == pytest.approx(found.sky_mag[1, 1], rel=1e-12)
    above = np.isfinite(found.sky_mag)
    whole = nanolamberts(found.sky_mag[above])
    total = night_luminance_nl(20.8, 0.28, altitude[above]) / whole
    total = total + found.moon_share[above] + found.twilight_share[above]
    assert total == pytest.approx(np.ones(7), rel=1e-12)


def test_shares_name_what_limits() -> None:
    twilight = sky_background(_state(sun=-8.0), 60.0, 90.0)
    moonlit = sky_background(_state(moon=40.0, phase=5.0), 60.0, 60.0)
    assert twilight.twilight_share > 0.9
    assert moonlit.moon_share > 0.8
    assert moonlit.twilight_share == 0.0


@settings(deadline=None, max_examples=60)
@given(UNITS, UNITS, UNITS, UNITS, UNITS)
def test_no_light_makes_the_sky_darker(a: float, b: float, c: float, d: float, e: float) -> None:
    """Brighter site, higher Sun or a Moon at all: never a darker background."""
    altitude, separation = 90.0 * d, 5.0 + 170.0 * e
    zenith, sun, phase = 16.0 + 6.0 * a, -30.0 + 40.0 * b, 180.0 * c

    def mu(state: SkyState) -> float:
        return float(sky_background(state, altitude, separation).sky_mag)

    base = mu(_state(zenith, sun, -5.0, phase)) + 1e-9
    assert mu(_state(zenith - 0.5, sun, -5.0, phase)) <= base
    assert mu(_state(zenith, sun + 2.0, -5.0, phase)) <= base
    assert mu(_state(zenith, sun, 35.0, phase)) <= base
    assert mu(_state(zenith, sun, 35.0, 0.5 * phase)) <= mu(_state(zenith, sun, 35.0, phase)) + 1e-9


@pytest.mark.parametrize(("zenith", "extinction"), [(24.0, 0.25), (12.0, 0.25)])
def test_sky_state_rejects_skies_of_no_site(zenith: float, extinction: float) -> None:
    with pytest.raises(ModelRangeError, match="zenith sky"):
        SkyState(zenith, extinction, -30.0, -10.0, 0.0)


@pytest.mark.parametrize("extinction", [0.0, 3.0, float("nan")])
def test_sky_state_rejects_extinctions_of_no_air(extinction: float) -> None:
    with pytest.raises(ModelRangeError, match="extinction"):
        SkyState(21.0, extinction, -30.0, -10.0, 0.0)


ENDS = [(15.0, 0.25), (22.3, 0.25), (21.0, 0.05), (21.0, 1.5)]  # as documented
BEYOND = [(14.99, 0.25), (22.31, 0.25), (21.0, 0.049), (21.0, 1.51)]


@pytest.mark.parametrize(("zenith", "extinction"), ENDS)
def test_sky_state_takes_the_ends_of_its_ranges(zenith: float, extinction: float) -> None:
    assert SkyState(zenith, extinction, -30.0, -10.0, 0.0).extinction_mag == extinction


@pytest.mark.parametrize(("zenith", "extinction"), BEYOND)
def test_sky_state_rejects_what_is_just_beyond_its_ranges(zenith: float, extinction: float) -> None:
    with pytest.raises(ModelRangeError, match="is outside"):
        SkyState(zenith, extinction, -30.0, -10.0, 0.0)
