"""An observing site: where the telescope stands and what hides its horizon."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np

from planner.errors import KitError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True)
class Site:
    """One site. Latitude and east longitude in degrees (WGS84), elevation in metres.

    ``horizon`` is a profile of (azimuth, altitude) points in degrees, joined by straight
    lines around the compass; empty means flat and free. ``ceiling`` is such a profile of the
    greatest altitude free of a roof or balcony above; empty means open sky.
    ``timezone`` is an IANA name.
    """

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    timezone: str
    pressure_hpa: float
    temperature_c: float
    horizon: tuple[tuple[float, float], ...] = ()
    ceiling: tuple[tuple[float, float], ...] = ()


def standard_pressure_hpa(elevation_m: float) -> float:
    """Air pressure of the standard atmosphere, hPa, for -400..11000 m.

    ``1013.25 (1 - 2.25577e-5 h)^5.25588``. Weather moves it by about 3 %.
    Source: ISO 2533:1975 standard atmosphere (constants from memory).
    """
    return float(1013.25 * (1.0 - 2.25577e-5 * elevation_m) ** 5.25588)


def horizon_altitude_deg(site: Site, azimuth_deg: ArrayLike) -> NDArray[np.float64]:
    """Altitude of the local horizon at azimuths (any shape), degrees."""
    return _profile_altitude_deg(site.horizon, azimuth_deg, 0.0)


def ceiling_altitude_deg(site: Site, azimuth_deg: ArrayLike) -> NDArray[np.float64]:
    """Greatest altitude free of what hangs over the site at azimuths (any shape), degrees.

    90 under an open sky.
    """
    return _profile_altitude_deg(site.ceiling, azimuth_deg, 90.0)


def _profile_altitude_deg(
    profile: tuple[tuple[float, float], ...], azimuth_deg: ArrayLike, without: float
) -> NDArray[np.float64]:
    azimuth = np.asarray(azimuth_deg, dtype=float)
    if not profile:
        return np.full_like(azimuth, without)
    points = np.array(sorted(profile))
    return np.asarray(np.interp(azimuth, points[:, 0], points[:, 1], period=360.0))


def site_zone(site: Site) -> ZoneInfo:
    """The site's time zone.

    Raises KitError when no zone has that name.
    """
    try:
        return ZoneInfo(site.timezone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise KitError(
            f"timezone of site {site.name!r}: no zone is called {site.timezone!r}; "
            "write an IANA name such as Europe/Berlin"
        ) from error
