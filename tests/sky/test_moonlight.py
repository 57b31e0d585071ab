"""Moonlight: the published equations, the joints, and that more Moon never darkens."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sky.moonlight import (
    Moon,
    moon_illuminance,
    moon_luminance_nl,
    scattering_function,
    scattering_path,
)
from planner.sky.scales import surface_brightness_from_nanolamberts

MAUNA_KEA_EXTINCTION = 0.172  # Krisciunas & Schaefer 1991
MAUNA_KEA_ZENITH_NL = 79.0  # Krisciunas & Schaefer 1991 (from memory)
ALTITUDES = st.floats(0.0, 90.0)


# The paper's own worked values were not seen: these check the implementation only, with
# figures worked out apart from Krisciunas & Schaefer 1991, PASP 103, 1033, eqs 3, 15-21.


@pytest.mark.parametrize(
    ("rho", "value", "tolerance"), [(60.0, 344772, 50), (30.0, 665836, 50), (5.0, 2950179, 200)]
)
def test_scattering_function_derived_from_the_stated_equation(
    rho: float, value: float, tolerance: float
) -> None:
    assert scattering_function(rho) == pytest.approx(value, abs=tolerance)


def test_moon_illuminance_derived_from_the_stated_equation() -> None:
    assert moon_illuminance([0.0, 90.0], 384400.0) == pytest.approx([0.02911, 0.00265], abs=1e-5)


def test_scattering_path_derived_from_the_stated_equation() -> None:
    assert scattering_path([0.0, 60.0, 90.0]) == pytest.approx([1.0, 1.8898, 5.0], abs=2e-4)


def test_full_moon_sky_derived_from_the_stated_equation() -> None:
    """Full Moon, 60 deg away, both at 60 deg altitude: 1390.4 nL, sky V 18.41."""
    glow = moon_luminance_nl(Moon(60.0, 0.0), 60.0, 60.0, MAUNA_KEA_EXTINCTION)
    assert glow == pytest.approx(1390.4, abs=1.0)
    path = scattering_path(30.0)
    night = MAUNA_KEA_ZENITH_NL * path * 10 ** (-0.4 * MAUNA_KEA_EXTINCTION * (path - 1.0))
    assert surface_brightness_from_nanolamberts(glow + night) == pytest.approx(18.41, abs=0.01)


def test_half_moon_brightening_derived_from_the_stated_equation() -> None:
    """Phase angle 90, Moon at 30 deg, target at the zenith: -0.883 mag."""
    glow = moon_luminance_nl(Moon(30.0, 90.0), 60.0, 90.0, MAUNA_KEA_EXTINCTION)
    change = -2.5 * np.log10(1.0 + glow / MAUNA_KEA_ZENITH_NL)
    assert change == pytest.approx(-0.883, abs=0.003)


def test_full_moon_sky_agrees_with_experience() -> None:
    """High full Moon: 17.5 to 19 mag/arcsec^2 well away from it (common practice, no source)."""
    glow = moon_luminance_nl(Moon(45.0, 0.0), [45.0, 60.0, 90.0], [60.0, 60.0, 45.0], 0.25)
    sky = surface_brightness_from_nanolamberts(glow)
    assert np.all((sky > 17.5) & (sky < 19.0))


def test_moonlight_is_zero_while_the_moon_is_down() -> None:
    moon = Moon(np.array([-20.0, -0.01]), np.zeros(2))
    assert np.all(moon_luminance_nl(moon, np.full((3, 2), 60.0), 45.0, 0.25) == 0.0)


def test_moonrise_makes_no_jump() -> None:
    """Full Moon on the horizon adds under 1 % of a dark sky (80 nL)."""
    assert 0.0 < moon_luminance_nl(Moon(0.0, 0.0), 40.0, 60.0, 0.25) < 0.8
    around = moon_luminance_nl(Moon(np.array([9.999, 10.001]), 0.0), 40.0, 60.0, 0.25)
    assert around[1] / around[0] == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("hazy", [0.15, 0.25, 0.5])
def test_light_of_a_moon_on_the_horizon_crosses_38_airmasses(hazy: float) -> None:
    """Pickering 2002: 38.75 at the horizon. What a second air's extinction costs the lamp, over
    the share caught overhead, 1 - 10^(-0.4 k), is 10^(-0.4 k 38.75)."""

    def lamp(extinction: float) -> float:
        glow = float(moon_luminance_nl(Moon(0.0, 20.0), 90.0, 90.0, extinction))
        return glow / (1.0 - 10.0 ** (-0.4 * extinction))

    dimmed = -2.5 * np.log10(lamp(hazy) / lamp(0.1))
    assert dimmed == pytest.approx(38.75 * (hazy - 0.1), abs=0.01 * hazy)


@pytest.mark.parametrize("altitude", [10.0, 25.0, 60.0])
def test_light_of_a_high_moon_crosses_the_papers_path(altitude: float) -> None:
    """Krisciunas & Schaefer 1991, eq 3: (1 - 0.96 sin^2 Z)^-1/2 at 10 degrees and above."""
    path = (1.0 - 0.96 * np.cos(np.radians(altitude)) ** 2) ** -0.5
    thin, thick = (
        float(moon_luminance_nl(Moon(altitude, 20.0), 90.0, 90.0, k)) / (1.0 - 10.0 ** (-0.4 * k))
        for k in (0.1, 0.4)
    )
    assert -2.5 * np.log10(thick / thin) == pytest.approx(0.3 * path, abs=1e-9)


MOLECULES = 10.0**5.36
CLOSE, FAR = 6.2e7, 10.0**6.15


@pytest.mark.parametrize(
    ("rho", "aerosol"),
    [
        (0.3, CLOSE / 0.3**2),
        (0.31, CLOSE / 0.31**2),
        (7.99, CLOSE / 7.99**2),
        (10.0, np.sqrt(CLOSE / 10.0**2 * FAR * 10.0 ** (-10.0 / 40.0))),
        (12.01, FAR * 10.0 ** (-12.01 / 40.0)),
    ],
)
def test_scattering_function_keeps_the_published_forms_outside_the_joint(
    rho: float, aerosol: float
) -> None:
    """Krisciunas & Schaefer 1991, eqs 16-19, below 8 and above 12 degrees; half-way in the joint
    it is the geometric mean of the two, and nearer than 0.3 degrees it stays."""
    molecules = MOLECULES * (1.06 + np.cos(np.radians(rho)) ** 2)
    assert scattering_function(rho) == pytest.approx(molecules + aerosol, rel=1e-9)
    assert scattering_function(0.1) == scattering_function(0.3)


@pytest.mark.parametrize("joint", [0.3, 8.0, 10.0, 12.0])
def test_scattering_function_is_continuous(joint: float) -> None:
    low, high = scattering_function([joint - 1e-6, joint + 1e-6])
    assert high == pytest.approx(low, rel=1e-5)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 180.0), st.floats(0.0, 180.0), ALTITUDES, ALTITUDES, st.floats(0.5, 120.0))
def test_more_moon_never_darkens(
    one: float, other: float, moon_altitude: float, altitude: float, separation: float
) -> None:
    """A fuller Moon, a nearer Moon and a higher Moon each give no less light."""
    fuller, thinner = sorted((one, other))

    def glow(phase: float, height: float, km: float = 384400.0) -> float:
        return float(moon_luminance_nl(Moon(height, phase, km), separation, altitude, 0.25))

    assert glow(fuller, moon_altitude) >= glow(thinner, moon_altitude) >= 0.0
    assert glow(one, moon_altitude, 360000.0) >= glow(one, moon_altitude, 400000.0)
    assert glow(one, moon_altitude) >= glow(one, 0.9 * moon_altitude) * (1.0 - 1e-12)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 90.0), st.floats(0.0, 90.0))
def test_scattering_falls_away_from_the_moon(one: float, other: float) -> None:
    """Up to 90 degrees; beyond, molecules scatter back a little."""
    near, far = sorted((one, other))
    assert scattering_function(near) >= scattering_function(far)
