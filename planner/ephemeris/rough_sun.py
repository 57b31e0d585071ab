"""About where the Sun stands, for thousands of moments at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.site import Site

    Floats = NDArray[np.float64]


def rough_sun_altitude_deg(site: Site, days: Floats) -> Floats:
    """Altitude of the Sun's centre without air, degrees; any shape.

    ``days`` of universal time since 2000-01-01 12:00. Good to 0.05 degrees from 1950 to 2050; for
    leaving out moments by day before a real ephemeris is asked.
    Source: Astronomical Almanac, low-precision formulas for the Sun, and the sidereal time of the
    IAU 1982 to first order (both from memory).
    """
    anomaly = np.radians(357.528 + 0.9856003 * days)
    longitude = 280.460 + 0.9856474 * days + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly)
    longitude, obliquity = np.radians(longitude), np.radians(23.439 - 4e-7 * days)
    right = np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude))
    declination = np.arcsin(np.sin(obliquity) * np.sin(longitude))
    sidereal = np.radians(280.46062 + 360.98564737 * days + site.longitude_deg)
    latitude = np.radians(site.latitude_deg)
    height = np.sin(latitude) * np.sin(declination)
    height = height + np.cos(latitude) * np.cos(declination) * np.cos(sidereal - right)
    return np.asarray(np.degrees(np.arcsin(height)))
