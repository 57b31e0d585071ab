"""Airmass: how much more air a slanting line of sight crosses than one to the zenith."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


def airmass(apparent_altitude_deg: ArrayLike) -> Floats:
    """Airmass along a line of sight; 1 at the zenith, about 38.7 at the horizon.

    ``1 / sin(h + 244 / (165 + 47 h^1.1))``, h in degrees.

    ``apparent_altitude_deg``: altitude as seen, with refraction, 0..90; scalar or array.
    Returns the airmass, never below 1; NaN below the horizon.
    Source: Pickering 2002, DIO 12, 1 (coefficients from memory).
    Limits: a mean atmosphere. Below 3 degrees the weather moves it by several per cent.
    """
    altitude = np.asarray(apparent_altitude_deg, dtype=float)
    above = np.where(altitude >= 0.0, altitude, np.nan)
    lifted_deg = above + 244.0 / (165.0 + 47.0 * above**1.1)
    return np.asarray(np.maximum(1.0 / np.sin(np.radians(lifted_deg)), 1.0))
