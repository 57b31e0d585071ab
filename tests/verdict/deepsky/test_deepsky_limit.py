"""What limits an object: the effect that is really there is the one that is named."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import objects, setup, tables

from planner.sky.background import night_luminance_nl
from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts
from planner.verdict.deepsky.limits import limiting_conditions
from planner.verdict.setup import Setup
from planner.verdict.sightlines import Sightlines
from planner.verdict.verdicts import Limit

FAINT = {"v_mag": [11.0], "major_arcmin": [4.0], "minor_arcmin": [4.0]}


def limit(
    zenith_sky_mag: float = 21.5,
    altitude_deg: float = 80.0,
    sky_mag: float | None = None,
    moon: float = 0.0,
    twilight: float = 0.0,
    used: Setup | None = None,
    **columns: list[float],
) -> Limit:
    """What limits one galaxy under one sky."""  # fmt: skip
    moments = Sightlines(
        altitude_deg=np.array([altitude_deg]),
        sky_mag=np.array([zenith_sky_mag if sky_mag is None else sky_mag]),
        moon_share=np.array([moon]),
        twilight_share=np.array([twilight]),
    )
    found = objects("NGC 3031", **{**FAINT, **columns})
    return Limit(
        int(limiting_conditions(used or setup(zenith_sky_mag), tables(), found, moments)[0])
    )


def brightened(zenith_sky_mag: float, share: float) -> float:
    """The sky with so much more light that it makes up this share of the whole."""
    return zenith_sky_mag + 2.5 * float(np.log10(1.0 - share))


def test_the_moon_is_named_when_most_of_the_light_is_hers() -> None:
    """Four fifths of the sky's light."""
    assert limit(sky_mag=brightened(21.5, 0.8), moon=0.8) == Limit.MOON


def test_twilight_is_named_when_most_of_the_light_is_its() -> None:
    """As with the Moon."""
    assert limit(sky_mag=brightened(21.5, 0.8), twilight=0.8) == Limit.TWILIGHT


def test_a_low_place_is_named() -> None:
    """12 degrees high: more than four airmasses of 0.2 mag."""
    behind = night_luminance_nl(21.5, setup().extinction_mag, 12.0)
    sky_mag = float(surface_brightness_from_nanolamberts(behind))
    assert limit(altitude_deg=12.0, sky_mag=sky_mag) == Limit.ALTITUDE


def test_haze_is_named_where_it_costs_most() -> None:
    """0.6 mag per airmass, near the zenith, against the 0.2 of clear air."""
    hazy = replace(setup(21.9), extinction_mag=0.6)
    assert limit(zenith_sky_mag=21.9, used=hazy) == Limit.HAZE


def test_a_towns_light_is_named() -> None:
    """18.5 overhead, with the object near the zenith."""
    assert limit(zenith_sky_mag=18.5) == Limit.SKY_GLOW


def test_faintness_is_named_where_nothing_else_helps() -> None:
    """A small galaxy too faint under the best of skies."""
    assert (
        limit(zenith_sky_mag=21.9, v_mag=[15.5], major_arcmin=[1.0], minor_arcmin=[1.0])
        == Limit.FAINTNESS
    )


def test_a_large_pale_object_is_called_so() -> None:
    """Mag 10 spread over 40 arcmin, under the best of skies."""
    size = {"major_arcmin": [40.0], "minor_arcmin": [40.0]}
    assert limit(zenith_sky_mag=21.9, v_mag=[10.5], **size) == Limit.SPREAD_LIGHT


def test_nothing_limits_what_is_plain() -> None:
    """M 81 itself, 1.5 mag or more in hand, even under the Moon."""
    assert limit(v_mag=[6.9], major_arcmin=[20.0], minor_arcmin=[10.0]) == Limit.NOTHING


def test_a_bright_dot_is_called_too_small() -> None:
    """2" across in 2" of seeing; 0.2' is 62" across at 310x, a small disc, not a star."""
    dot = {"v_mag": [9.0], "major_arcmin": [0.03], "minor_arcmin": [0.03]}
    assert limit(**dot) == Limit.SMALLNESS
    assert limit(**{**dot, "major_arcmin": [0.2], "minor_arcmin": [0.2]}) == Limit.NOTHING
    assert limit(**{**dot, "v_mag": [17.0]}) == Limit.FAINTNESS


@pytest.mark.parametrize("share", [0.0, 0.02])
def test_a_moon_that_hardly_shines_is_not_named(share: float) -> None:
    """Two hundredths of the light cost nothing that is noticed."""
    assert limit(sky_mag=brightened(21.5, share), moon=share) != Limit.MOON


def test_the_samples_are_the_light_they_say() -> None:
    """Four fifths more light: five times as bright."""
    ratio = nanolamberts(brightened(21.5, 0.8)) / nanolamberts(21.5)
    assert float(ratio) == pytest.approx(5.0, rel=1e-4)  # scales printed to five digits
