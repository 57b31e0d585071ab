"""What stands between a target and the eye, and the sky as it would be without it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.airmass import airmass
from planner.sky.background import night_luminance_nl
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass
from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.verdict.instrument import Setup

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

NATURAL_SKY_MAG = 21.9  # zenith without any lights; common practice, no source
TELLING_GAIN_MAG = 0.3  # an effect that costs less is not named; own judgement
AMPLE_MARGIN_MAG = 1.5  # with so much in hand nothing limits; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class SkyMoments:
    """N targets at one moment each: altitude and the sky behind them with its shares, (N,)."""

    altitude_deg: Floats
    sky_mu: Floats
    moon_share: Floats
    twilight_share: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Air:
    """What the air does to N targets: magnitudes it takes and the sky it puts behind, (N,)."""

    dimming_mag: Floats
    sky_mu: Floats


def air_now(setup: Setup, moments: SkyMoments) -> Air:
    """The air as it is."""
    return Air(setup.dimming_mag(airmass(moments.altitude_deg)), moments.sky_mu)


def air_without(setup: Setup, moments: SkyMoments) -> dict[str, Air]:
    """The air without the Moon, without twilight, at the zenith, clear, under a natural sky.

    Keys are the words for what was left out. Clear air is that at sea level, or what it
    is now where that is better; a natural sky is 21.9 at the zenith, or the site's own
    where that is darker.
    """
    path = airmass(moments.altitude_deg)
    now = setup.dimming_mag(path)
    overhead = setup.dimming_mag(np.ones_like(path))
    clear = float(extinction_mag_per_airmass(0.0, Aerosol.CLEAR))
    haze = path * max(setup.extinction_mag - clear, 0.0)
    total = nanolamberts(moments.sky_mu)
    height, k = moments.altitude_deg, setup.extinction_mag
    glow = night_luminance_nl(setup.sky_mag, k, height)
    zenith = night_luminance_nl(setup.sky_mag, k, 90.0)
    natural = night_luminance_nl(max(NATURAL_SKY_MAG, setup.sky_mag), k, height)
    left = {
        "the Moon": (now, total * (1.0 - moments.moon_share)),
        "twilight": (now, total * (1.0 - moments.twilight_share)),
        "low altitude": (overhead, total - glow + zenith),
        "haze": (now - haze, total),
        "sky glow": (now, total - glow + natural),
    }
    return {
        word: Air(dimming, surface_brightness_from_nanolamberts(sky))
        for word, (dimming, sky) in left.items()
    }


def costliest(now_mag: Floats, without_mag: dict[str, Floats], own: Texts) -> Texts:
    """The word for what costs each target most (N,), from margins now and without each cause.

    ``own``: what is said where no cause costs 0.3 mag. Empty where 1.5 mag are in hand now.
    """
    gains = np.nan_to_num(np.stack([m - now_mag for m in without_mag.values()]), nan=-1.0)
    words = np.array(list(without_mag), dtype=object)[gains.argmax(axis=0)]
    words = np.where(gains.max(axis=0) >= TELLING_GAIN_MAG, words, own)
    return np.where(np.nan_to_num(now_mag, nan=-1.0) >= AMPLE_MARGIN_MAG, "", words)
