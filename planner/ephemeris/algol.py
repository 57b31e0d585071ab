"""Minima of Algol, the eclipsing star, good to half an hour."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ALGOL_EPOCH_HJD, AU_KM, LIGHT_SPEED_KM_S
from planner.ephemeris.kernel import kernel, timescale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ALGOL_PERIOD_DAYS = 2.867328
ALGOL_HOURS = 9.6  # from first to last contact; common practice, no source
ALGOL_UNCERTAIN_HOURS = 0.5
ALGOL_RA_DEG, ALGOL_DEC_DEG = 47.04222, 40.95565  # ICRS, Hipparcos
_LIGHT_DAYS = AU_KM / LIGHT_SPEED_KM_S / 86400.0


def algol_minima(first_jd: float, last_jd: float, epoch_hjd: float = ALGOL_EPOCH_HJD) -> Floats:
    """Julian dates (UTC) of the middles of eclipse between two Julian dates, seen from the Earth.

    ``epoch + E period``, a heliocentric date: the Earth, nearer to the star or farther by up to
    an astronomical unit, has it up to 8 minutes earlier or later.
    Source: elements from public code, no author named, held to two observed minima.
    """
    first, last = ((jd - epoch_hjd) / ALGOL_PERIOD_DAYS for jd in (first_jd, last_jd))
    cycles = np.arange(np.floor(first), np.ceil(last) + 1.0)
    heliocentric = epoch_hjd + ALGOL_PERIOD_DAYS * cycles
    if not heliocentric.size:
        return heliocentric
    times = timescale().tt_jd(heliocentric)
    earth = np.asarray((kernel()[399] - kernel()[10]).at(times).xyz.au)
    ra, dec = np.radians(ALGOL_RA_DEG), np.radians(ALGOL_DEC_DEG)
    star = np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])
    seen = heliocentric - (star @ earth) * _LIGHT_DAYS
    return np.asarray(seen[(seen >= first_jd) & (seen <= last_jd)])
