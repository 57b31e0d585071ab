"""Angles on the sphere: unit vectors, separations, position angles, and how they are written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


COMPASS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
           "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")  # fmt: skip


def unit_vectors(longitude_deg: ArrayLike, latitude_deg: ArrayLike) -> Floats:
    """Unit vectors of spherical positions.

    Arguments in degrees, scalars or arrays of one shape; result has that shape plus a last
    axis of three (x towards longitude 0, z towards the pole).
    """
    lon = np.radians(np.asarray(longitude_deg, dtype=float))
    lat = np.radians(np.asarray(latitude_deg, dtype=float))
    return np.stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)], axis=-1)


def longitude_latitude_deg(vectors: Floats) -> tuple[Floats, Floats]:
    """Longitude (0..360) and latitude (-90..90), degrees, of vectors along the last axis."""
    x, y, z = np.moveaxis(np.asarray(vectors, dtype=float), -1, 0)
    return np.degrees(np.arctan2(y, x)) % 360.0, np.degrees(np.arctan2(z, np.hypot(x, y)))


def separation_deg(
    lon1_deg: ArrayLike, lat1_deg: ArrayLike, lon2_deg: ArrayLike, lat2_deg: ArrayLike
) -> Floats:
    """Great-circle distance in degrees, exact for small and large angles (Vincenty's form)."""
    lon1, lat1, lon2, lat2 = (
        np.radians(np.asarray(a, dtype=float)) for a in (lon1_deg, lat1_deg, lon2_deg, lat2_deg)
    )
    d = lon2 - lon1
    across = np.hypot(
        np.cos(lat2) * np.sin(d),
        np.cos(lat1) * np.sin(lat2) - np.sin(lat1) * np.cos(lat2) * np.cos(d),
    )
    along = np.sin(lat1) * np.sin(lat2) + np.cos(lat1) * np.cos(lat2) * np.cos(d)
    return np.asarray(np.degrees(np.arctan2(across, along)))


def position_angle_deg(
    lon1_deg: ArrayLike, lat1_deg: ArrayLike, lon2_deg: ArrayLike, lat2_deg: ArrayLike
) -> Floats:
    """Position angle of point 2 seen from point 1, degrees from north through east, 0..360."""
    lon1, lat1, lon2, lat2 = (
        np.radians(np.asarray(a, dtype=float)) for a in (lon1_deg, lat1_deg, lon2_deg, lat2_deg)
    )
    d = lon2 - lon1
    east = np.cos(lat2) * np.sin(d)
    north = np.cos(lat1) * np.sin(lat2) - np.sin(lat1) * np.cos(lat2) * np.cos(d)
    return np.asarray(np.degrees(np.arctan2(east, north)) % 360.0)


def horizontal_deg(
    places: Floats, zenith: Floats, north: Floats, east: Floats
) -> tuple[Floats, Floats]:
    """Altitude without air and azimuth (0..360, north through east) of places, degrees.

    ``places`` are unit vectors (N, 3), the others a site's directions (3,) in the same frame.
    """
    altitude = np.degrees(np.arcsin(np.clip(places @ zenith, -1.0, 1.0)))
    azimuth = np.degrees(np.arctan2(places @ east, places @ north)) % 360.0
    return altitude, azimuth


def compass_point(azimuth_deg: float) -> str:
    """One of sixteen compass points."""
    return COMPASS[round(azimuth_deg / 22.5) % 16]


def right_ascension_text(ra_deg: float) -> str:
    """Right ascension as hours and minutes, to 0.1 minute: ``14h45.0m``."""
    tenths = round((ra_deg % 360.0) * 40.0) % 14400
    hours, rest = divmod(tenths, 600)
    return f"{hours:02d}h{rest / 10:04.1f}m"


def declination_text(dec_deg: float) -> str:
    """Declination as degrees and minutes with a sign: ``+27°04'``."""
    minutes = round(abs(dec_deg) * 60.0)
    sign = "-" if dec_deg < 0 and minutes else "+"
    return f"{sign}{minutes // 60:02d}°{minutes % 60:02d}'"
