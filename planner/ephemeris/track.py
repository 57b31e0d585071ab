"""Where many fixed targets stand through a night: altitude, azimuth, slant."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.ephemeris.refraction import refracted_altitude_deg

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.ephemeris.moments import TimeGrid
    from planner.ephemeris.site import Site

    Floats = NDArray[np.float64]

PRECESSION_SLACK_DEG = 0.5  # a declination of J2000 is at most so far from that of date, to 2053
_BLOCK = 512  # targets worked on together, so that the arrays stay in the processor's cache


@dataclass(frozen=True, slots=True, eq=False)
class Track:
    """N targets at T moments: arrays (N, T) in degrees.

    Altitude is apparent (lifted by the air); azimuth runs from north through east, 0..360.
    """

    altitude_deg: Floats
    azimuth_deg: Floats


def track(site: Site, grid: TimeGrid, ra_deg: ArrayLike, dec_deg: ArrayLike) -> Track:
    """Apparent altitude and azimuth (N, T) of N fixed targets at the grid's moments.

    The place p becomes p + v/c (aberration, first order) and is then measured along the
    site's zenith, north and east. ``ra_deg``, ``dec_deg``: ICRS, degrees, (N,), at the night's
    epoch: proper motion is the caller's. ``site`` is the one the grid was made for; its
    pressure and temperature give the refraction.
    Left out: bending of light by the Sun (0.02" at 20 degrees from it), parallax (0.8" at
    most), second-order aberration (0.003"), the wandering of the poles (0.3").
    """
    places = unit_vectors(np.atleast_1d(ra_deg), np.atleast_1d(dec_deg))
    altitude, azimuth = np.empty((2, len(places), grid.seconds.size))
    for first in range(0, len(places), _BLOCK):
        rows = slice(first, first + _BLOCK)
        _horizontal(places[rows], grid, altitude[rows], azimuth[rows])
        altitude[rows] = refracted_altitude_deg(
            altitude[rows], site.pressure_hpa, site.temperature_c
        )
    return Track(altitude, azimuth)


def highest_altitude_deg(site: Site, dec_deg: ArrayLike) -> Floats:
    """Altitude in upper culmination, refraction included, degrees; the shape of the declination.

    ``90 - |latitude - declination|``, lifted by the air; good to 0.1 degree.
    """
    apart = np.abs(np.asarray(dec_deg, dtype=float) - site.latitude_deg)
    return refracted_altitude_deg(90.0 - apart, site.pressure_hpa, site.temperature_c)


def parallactic_angle_at_deg(
    grid: TimeGrid, ra_deg: ArrayLike, dec_deg: ArrayLike, moments: NDArray[np.intp]
) -> Floats:
    """Position angle of the zenith at each target, at one moment of its own: (N,), degrees.

    -180..180, from north through east, counted from ICRS north like catalogued position angles;
    negative east of the meridian (for a target that culminates towards the equator). Undefined
    at the zenith. ``tan q = sin H / (tan lat cos dec - sin dec cos H)``. ``moments`` (N,) are
    indices into the grid.
    Source: Meeus 1998, Astronomical Algorithms, eq. 14.1 (from memory).
    """
    ra, dec = np.atleast_1d(np.asarray(ra_deg, float)), np.atleast_1d(np.asarray(dec_deg, float))
    east, north = _sky_axes(ra, dec)
    zenith = grid.zenith[:, moments].T
    return np.asarray(
        np.degrees(np.arctan2(np.sum(east * zenith, axis=1), np.sum(north * zenith, axis=1)))
    )


def _horizontal(places: Floats, grid: TimeGrid, altitude: Floats, azimuth: Floats) -> None:
    """Write altitude without air and azimuth, degrees, of a block of places (N, 3)."""
    stretch = places @ grid.velocity  # |p + v| - 1, first order
    up = _component(places, grid.zenith, grid.velocity)
    up -= up * stretch
    np.arcsin(np.clip(up, -1.0, 1.0, out=up), out=altitude)
    east = _component(places, grid.east, grid.velocity)
    np.arctan2(east, _component(places, grid.north, grid.velocity), out=azimuth)
    altitude *= 180.0 / np.pi
    azimuth *= 180.0 / np.pi
    azimuth += 360.0 * (azimuth < 0.0)


def _component(places: Floats, axis: Floats, velocity: Floats) -> Floats:
    """(p + v) . axis for N places and T moments."""
    along = places @ axis
    along += np.sum(axis * velocity, axis=0)
    return np.asarray(along)


def _sky_axes(ra_deg: Floats, dec_deg: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (N, 3) towards east and north on the sky at each place."""
    east = unit_vectors(ra_deg + 90.0, np.zeros_like(dec_deg))
    north = unit_vectors(ra_deg, dec_deg + 90.0)
    return east, north
