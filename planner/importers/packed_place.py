"""Places packed into columns: ``16413+3136`` and ``164117.16+313609.8``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.importers.fixed_width import Lines

    Floats = NDArray[np.float64]


def identifier_place(lines: Lines, first: int) -> tuple[Floats, Floats]:
    """Right ascension and declination (degrees, J2000) of the WDS identifier from a column on.

    Columns count from 1. NaN where it is none.
    """
    hour = lines.number_in(first, first + 1)[0]
    minute = lines.number_in(first + 2, first + 4)[0] / 10.0
    degree = lines.number_in(first + 6, first + 7)[0]
    arcmin = lines.number_in(first + 8, first + 9)[0]
    sign = np.where(lines.column(first + 5, first + 5) == b"-", -1.0, 1.0)
    valid = (hour < 24.0) & (minute < 60.0) & (degree <= 90.0) & (arcmin < 60.0)
    ra = np.where(valid, 15.0 * (hour + minute / 60.0), np.nan)
    return ra, np.where(valid, sign * (degree + arcmin / 60.0), np.nan)


def precise_place(lines: Lines, first: int) -> tuple[Floats, Floats]:
    """The place ``HHMMSS.ss+DDMMSS.s`` from a column on, degrees; NaN where it is not whole."""
    hour = lines.number_in(first, first + 1)[0]
    minute = lines.number_in(first + 2, first + 3)[0]
    second = lines.number_in(first + 4, first + 8)[0]
    mark = lines.column(first + 9, first + 9)
    degree = lines.number_in(first + 10, first + 11)[0]
    arcmin = lines.number_in(first + 12, first + 13)[0]
    arcsec = lines.number_in(first + 14, first + 17)[0]
    sign = np.where(mark == b"-", -1.0, np.where(mark == b"+", 1.0, np.nan))
    ra = 15.0 * (hour + minute / 60.0 + second / 3600.0)
    dec = sign * (degree + arcmin / 60.0 + arcsec / 3600.0)
    parts_fit = (minute < 60.0) & (second < 60.0) & (arcmin < 60.0) & (arcsec < 60.0)
    fits = parts_fit & (ra < 360.0) & (np.abs(dec) <= 90.0)
    return np.where(fits, ra, np.nan), np.where(fits, dec, np.nan)
