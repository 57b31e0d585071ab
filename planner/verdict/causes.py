"""What stands between a target and the eye, and the sky as it would be without it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.background import night_luminance_nl
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass
from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts
from planner.verdict.verdicts import Limit

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]
    Codes = NDArray[np.int8]

NATURAL_SKY_MAG = 21.9  # zenith without any lights; common practice, no source
TELLING_GAIN_MAG = 0.3  # an effect that costs less is not named; own judgement
AMPLE_MARGIN_MAG = 1.5  # with so much in hand nothing limits; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class Air:
    """What the air does to N targets: magnitudes it takes and the sky it puts behind, (N,)."""

    dimming_mag: Floats
    sky_mag: Floats


def air_now(setup: Setup, lines: Sightlines) -> Air:
    """The air as it is."""
    return Air(setup.dimming_mag(lines.airmass), lines.sky_mag)


def air_without(setup: Setup, lines: Sightlines) -> dict[Limit, Air]:
    """The air without the Moon, without twilight, at the zenith, clear, under a natural sky.

    Keys are what was left out. Clear air is that at sea level, or what it
    is now where that is better; a natural sky is 21.9 at the zenith, or the site's own
    where that is darker.
    """
    path = lines.airmass
    now = setup.dimming_mag(path)
    overhead = setup.dimming_mag(np.ones_like(path))
    clear = float(extinction_mag_per_airmass(0.0, Aerosol.CLEAR))
    haze = path * max(setup.extinction_mag - clear, 0.0)
    total = nanolamberts(lines.sky_mag)
    height, k = lines.altitude_deg, setup.extinction_mag
    glow = night_luminance_nl(setup.zenith_sky_mag, k, height)
    zenith = night_luminance_nl(setup.zenith_sky_mag, k, 90.0)
    natural = night_luminance_nl(max(NATURAL_SKY_MAG, setup.zenith_sky_mag), k, height)
    left = {
        Limit.MOON: (now, total * (1.0 - lines.moon_share)),
        Limit.TWILIGHT: (now, total * (1.0 - lines.twilight_share)),
        Limit.ALTITUDE: (overhead, total - glow + zenith),
        Limit.HAZE: (now - haze, total),
        Limit.SKY_GLOW: (now, total - glow + natural),
    }
    return {
        limit: Air(dimming, surface_brightness_from_nanolamberts(sky))
        for limit, (dimming, sky) in left.items()
    }


def costliest(now_mag: Floats, without_mag: dict[Limit, Floats], own: ArrayLike) -> Codes:
    """What costs each target most, numbers of ``Limit`` (N,), from margins now and without it.

    ``own``: what counts where no cause costs 0.3 mag. NOTHING where 1.5 mag are in hand now.
    """
    gains = np.nan_to_num(np.stack([m - now_mag for m in without_mag.values()]), nan=-1.0)
    limits = np.array(list(without_mag), dtype=np.int8)[gains.argmax(axis=0)]
    limits = np.where(gains.max(axis=0) >= TELLING_GAIN_MAG, limits, own)
    ample = np.nan_to_num(now_mag, nan=-1.0) >= AMPLE_MARGIN_MAG
    return np.where(ample, Limit.NOTHING, limits).astype(np.int8)
