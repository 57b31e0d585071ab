"""What limits a deep-sky object: the one effect whose absence would help most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.airmass import airmass
from planner.sky.background import night_luminance_nl
from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts
from planner.verdict.deepsky import deepsky_margins, deepsky_overflows

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky import DeepSkyTables
    from planner.verdict.instrument import Setup

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

NATURAL_SKY_MAG = 21.9  # zenith without any lights; common practice, no source
NO_EYEPIECE = "no eyepiece's field holding it"
TELLING_GAIN_MAG = 0.3  # an effect that costs less is not named; own judgement
AMPLE_MARGIN_MAG = 1.5  # with so much in hand nothing limits; own judgement
LARGE_ARCMIN = 20.0  # from here on a lost object is called spread out, not faint; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyMoments:
    """N objects at one moment each: altitude and the sky behind them with its shares, (N,)."""

    altitude_deg: Floats
    sky_mu: Floats
    moon_share: Floats
    twilight_share: Floats


def limiting_conditions(
    setup: Setup, tables: DeepSkyTables, objects: DeepSky, moments: DeepSkyMoments
) -> Texts:
    """The word for what limits each object (N,): empty where nothing to speak of.

    The margin is worked out again without the Moon, without twilight, at the zenith, and
    under a natural sky; the largest gain of at least 0.3 mag is named. Where none helps,
    the object itself is too faint, or too large for its light.
    """
    x = airmass(moments.altitude_deg)
    now_dimming = setup.dimming_mag(x)
    total = nanolamberts(moments.sky_mu)
    natural = night_luminance_nl(
        max(NATURAL_SKY_MAG, setup.sky_mag), setup.extinction_mag, moments.altitude_deg
    )
    glow = night_luminance_nl(setup.sky_mag, setup.extinction_mag, moments.altitude_deg)
    overhead = setup.dimming_mag(np.ones_like(x))
    zenith_sky = total - glow + night_luminance_nl(setup.sky_mag, setup.extinction_mag, 90.0)
    tries = {
        "the Moon": (total * (1.0 - moments.moon_share), now_dimming),
        "twilight": (total * (1.0 - moments.twilight_share), now_dimming),
        "low altitude and haze": (zenith_sky, overhead),
        "sky glow": (total - glow + natural, now_dimming),
    }
    now = _margin(tables, objects, now_dimming, moments.sky_mu)
    gains = np.stack(
        [
            _margin(tables, objects, dimming, surface_brightness_from_nanolamberts(sky)) - now
            for sky, dimming in tries.values()
        ]
    )
    gains = np.nan_to_num(gains, nan=-1.0)
    words = np.array(list(tries), dtype=object)[gains.argmax(axis=0)]
    large = np.nan_to_num(objects.major_arcmin) >= LARGE_ARCMIN
    own = np.where(large, "its faint spread-out light", "its faintness")
    own = np.where(deepsky_overflows(tables, objects), NO_EYEPIECE, own)
    words = np.where(gains.max(axis=0) >= TELLING_GAIN_MAG, words, own)
    return np.where(np.nan_to_num(now, nan=-1.0) >= AMPLE_MARGIN_MAG, "", words)


def _margin(tables: DeepSkyTables, objects: DeepSky, dimming_mag: Floats, sky_mu: Floats) -> Floats:
    found = deepsky_margins(tables, objects, dimming_mag[:, None], np.asarray(sky_mu)[:, None])
    return found.margin_mag[:, 0]
