"""Extinction: how many magnitudes the air takes from a star at the zenith."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

ROD_WAVELENGTH_UM = 0.51  # where the dark-adapted eye sees best; Green 1992
AIR_SCALE_HEIGHT_KM = 7.996  # Hayes & Latham 1975
AEROSOL_SCALE_HEIGHT_KM = 1.5  # Hayes & Latham 1975
OZONE_MAG = 0.016  # Green 1992
ELEVATION_RANGE_M = (-430.0, 6000.0)  # Dead Sea shore to the highest dwellings


class Aerosol(StrEnum):
    """How much dust, smoke and water haze hangs in the air tonight."""

    CLEAR = "clear"
    AVERAGE = "average"
    HAZY = "hazy"


# Zenith extinction by aerosol at sea level, magnitudes. Average: Green 1992. Clear and hazy:
# common practice, no source.
AEROSOL_MAG = {Aerosol.CLEAR: 0.05, Aerosol.AVERAGE: 0.12, Aerosol.HAZY: 0.30}


def rayleigh_mag_per_airmass(wavelength_um: ArrayLike, elevation_m: ArrayLike = 0.0) -> Floats:
    """Extinction by the air molecules alone, magnitudes per airmass.

    ``9.4977e-3 lambda^-4 n^2 exp(-H / 7.996 km)`` with
    ``n = 0.23465 + 107.6 / (146 - lambda^-2) + 0.93161 / (41 - lambda^-2)``.

    ``wavelength_um``: 0.3..1.1; ``elevation_m``: metres above the sea; broadcast.
    Source: Hayes & Latham 1975, ApJ 197, 593 (n from memory).
    """
    inverse_square = np.asarray(wavelength_um, dtype=float) ** -2.0
    index = 0.23465 + 107.6 / (146.0 - inverse_square) + 0.93161 / (41.0 - inverse_square)
    height_km = np.asarray(elevation_m, dtype=float) / 1000.0
    thinning = np.exp(-height_km / AIR_SCALE_HEIGHT_KM)
    return np.asarray(9.4977e-3 * inverse_square**2 * index**2 * thinning)


def extinction_mag_per_airmass(
    elevation_m: ArrayLike, aerosol: Aerosol = Aerosol.AVERAGE
) -> Floats:
    """Extinction for the dark-adapted eye, magnitudes per airmass.

    Molecules at 0.51 um + aerosol ``A exp(-H / 1.5 km)`` + ozone 0.016.

    ``elevation_m``: -430..6000, scalar or array; ``aerosol``: state of the air, 0.05, 0.12 or
    0.30 mag at sea level.
    Returns magnitudes per airmass, about 0.28 at the sea and 0.16 at 2 km in average air.
    Raises: ModelRangeError outside the elevations.
    Source: Green 1992, ICQ 14, 55, with the constants of Hayes & Latham 1975.
    Limits: aerosol changes from night to night by more than the rest together. Rods see
    bluer light than a V filter passes, so this is about 0.04 above the V-band figure. Do not
    raise it further for night vision.
    """
    height_m = np.asarray(elevation_m, dtype=float)
    lowest, highest = ELEVATION_RANGE_M
    if np.any((height_m < lowest) | (height_m > highest)):
        raise ModelRangeError(
            f"elevation {height_m} m is outside {lowest:.0f}..{highest:.0f} m: "
            "give the site's height above the sea in metres"
        )
    haze = AEROSOL_MAG[aerosol] * np.exp(-height_m / 1000.0 / AEROSOL_SCALE_HEIGHT_KM)
    molecules = rayleigh_mag_per_airmass(ROD_WAVELENGTH_UM, height_m)
    return np.asarray(molecules + haze + OZONE_MAG)
