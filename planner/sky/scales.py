"""Scales of sky brightness: magnitudes per square arcsecond, nanolamberts, limit, class."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.constants import NANOLAMBERT_AT_ZERO_MAG
from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

LIMIT_RANGE_MAG = (2.0, 6.7)  # naked-eye limits that speak of the sky rather than of the eye

# Class to the brightest and darkest zenith sky, V mag/arcsec^2. Bortle 2001, Sky & Telescope
# 101(2), 126 gives no such figures; these are the ranges of later pages, which disagree by
# up to half a magnitude. Classes 6..9 split the ranges "6-7" and "8-9": common practice, no
# source.
_BORTLE_SKY_MU = {
    1: (21.7, 22.0),
    2: (21.5, 21.7),
    3: (21.3, 21.5),
    4: (20.3, 21.3),
    5: (19.1, 20.3),
    6: (18.5, 19.1),
    7: (18.0, 18.5),
    8: (17.0, 18.0),
    9: (16.0, 17.0),
}


def nanolamberts(sky_mag: ArrayLike) -> Floats:
    """Nanolamberts of V mag/arcsec^2: ``34.08 exp(20.7233 - 0.92104 mu)``; scalar or array.

    Source: Schaefer 1990, PASP 102, 212, eq 17.
    """
    return np.asarray(NANOLAMBERT_AT_ZERO_MAG * np.exp(-0.92104 * np.asarray(sky_mag, dtype=float)))


def surface_brightness_from_nanolamberts(nanolambert: ArrayLike) -> Floats:
    """V mag/arcsec^2 of nanolamberts; the inverse of ``nanolamberts``. Infinite at zero."""
    values = np.asarray(nanolambert, dtype=float)
    with np.errstate(divide="ignore"):
        return np.asarray((np.log(NANOLAMBERT_AT_ZERO_MAG) - np.log(values)) / 0.92104)


def sky_from_naked_eye_limit(limit_mag: ArrayLike) -> Floats:
    """Zenith sky, V mag/arcsec^2, under which an average eye has this naked-eye limit.

    ``21.58 - 5 log10(10^(1.586 - n / 5) - 1)``, the inverse of
    ``n = 7.93 - 5 log10(10^(4.316 - mu / 5) + 1)``.

    ``limit_mag``: 2.0..6.7, scalar or array. Raises: ModelRangeError outside.
    Source: algebra of Schaefer 1990, PASP 102, 212, eqs 2, 16, 17.
    Limits: one tenth in the limit is 0.15 to 0.25 in the sky. Above 6.7 no sky on Earth is
    dark enough: then the eye is keen, and the sky has to be given directly.
    """
    limit = np.asarray(limit_mag, dtype=float)
    least, most = LIMIT_RANGE_MAG
    if np.any((limit < least) | (limit > most)):
        raise ModelRangeError(
            f"naked-eye limit outside {least:g}..{most:g}: give the sky in mag/arcsec^2 instead"
        )
    return np.asarray(21.58 - 5.0 * np.log10(10.0 ** (1.586 - limit / 5.0) - 1.0))


def bortle_range_mu(class_number: int) -> tuple[float, float]:
    """Brightest and darkest zenith sky, V mag/arcsec^2, that pages give for a class 1..9.

    Raises: ModelRangeError for another class.
    Limits: coarse. Pages differ by half a magnitude, and classes are judged by eye.
    """
    if class_number not in _BORTLE_SKY_MU:
        raise ModelRangeError(f"sky class {class_number} is not one of 1..9 (1 darkest)")
    return _BORTLE_SKY_MU[class_number]


def sky_from_bortle(class_number: int) -> float:
    """Middle of ``bortle_range_mu``, V mag/arcsec^2; uncertain by half a magnitude.

    Raises: ModelRangeError for another class than 1..9.
    """
    brightest, darkest = bortle_range_mu(class_number)
    return 0.5 * (brightest + darkest)
