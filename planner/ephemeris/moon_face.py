"""The Moon's face: which point of it looks at us, where the Sun stands over it, its age."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.axes import equator_axes, position_angle_deg, rotation
from planner.ephemeris.body_position import MOON, SUN, body_position
from planner.ephemeris.kernel import kernel, timescale

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.ephemeris.moments import TimeGrid

    Floats = NDArray[np.float64]

_AU_PER_DAY = 173.144632674  # speed of light; IAU 2012 Resolution B2 and SI
_LONGEST_LUNATION_DAYS = 29.84  # Meeus 1998, ch. 49 (from memory): 29.27 to 29.84
_STEP_DAYS = 0.25


@dataclass(frozen=True, slots=True, eq=False)
class MoonFace:
    """The Moon's aspect at T moments: degrees, arrays (T,), on the mean-Earth axes of maps.

    ``libration_lon_deg`` and ``libration_lat_deg`` are longitude (east positive, -180..180) and
    latitude of the point that looks at the observer; ``sun_lon_deg`` and ``sun_lat_deg`` of the
    point under the Sun. ``axis_angle_deg`` is the position angle of the north pole on the sky,
    from ICRS north through east, 0..360.
    """

    libration_lon_deg: Floats
    libration_lat_deg: Floats
    sun_lon_deg: Floats
    sun_lat_deg: Floats
    axis_angle_deg: Floats

    @property
    def colongitude_deg(self) -> Floats:
        """West longitude of the morning terminator at the equator, 0..360: 90 at full moon."""
        return np.asarray((90.0 - self.sun_lon_deg) % 360.0)

    @property
    def morning_terminator_lon_deg(self) -> Floats:
        """East longitude where the Sun rises on the Moon's equator, -180..180."""
        return _signed(self.sun_lon_deg - 90.0)

    @property
    def evening_terminator_lon_deg(self) -> Floats:
        """East longitude where the Sun sets on the Moon's equator, -180..180."""
        return _signed(self.sun_lon_deg + 90.0)

    def sun_altitude_deg(self, lon_deg: ArrayLike, lat_deg: ArrayLike) -> Floats:
        """Height of the Sun over N places on the Moon at T moments: (N, T), degrees.

        ``sin h = sin b sin t + cos b cos t cos(n - l)``, the Sun over longitude l, latitude b.
        Level ground at the mean radius; a rim 3 km high sees the Sun about 3 degrees earlier.
        Source: Meeus 1998, Astronomical Algorithms, ch. 53.
        """
        return 90.0 - _distance_deg(lon_deg, lat_deg, self.sun_lon_deg, self.sun_lat_deg)

    def from_centre_deg(self, lon_deg: ArrayLike, lat_deg: ArrayLike) -> Floats:
        """Angle of N places from the middle of the disc at T moments: (N, T), 90 at the limb."""
        return _distance_deg(lon_deg, lat_deg, self.libration_lon_deg, self.libration_lat_deg)


def moon_face(grid: TimeGrid) -> MoonFace:
    """The Moon's face as the site itself sees it (up to 1 degree off the Earth's centre)."""
    here, sun = body_position(grid, MOON), body_position(grid, SUN)
    return face_from(here.vector_au, sun.vector_au, np.asarray(grid.times.tt))


def face_from(moon_au: Floats, sun_au: Floats, tt_jd: Floats) -> MoonFace:
    """The face from vectors (3, T), observer to Moon and to Sun on ICRS axes, and TT (T,).

    Pole and meridian after the IAU, within 0.005 degrees of the lunar kernel of DE421; axes of
    maps, which differ from the principal axes of Meeus ch. 53 by 0.02 degrees.
    Source: IAU working group on cartographic coordinates 2015.
    """
    away = np.linalg.norm(moon_au, axis=0)
    pole, meridian = rotation("Moon", np.atleast_1d(tt_jd - away / _AU_PER_DAY))
    node, further = equator_axes(pole)

    def under(direction: Floats) -> tuple[Floats, Floats]:
        x, y, z = (np.sum(axis * direction, axis=0) for axis in (node, further, pole))
        longitude = np.degrees(np.arctan2(y, x)) - meridian
        return _signed(longitude), np.degrees(np.arctan2(z, np.hypot(x, y)))

    angle = position_angle_deg(moon_au / away, pole)
    return MoonFace(*under(-moon_au), *under(sun_au - moon_au), axis_angle_deg=angle)


def moon_age_days(tt_jd: float) -> float:
    """Days since the last new moon (equal ecliptic longitudes, from the Earth's centre).

    Good to about a minute, 0..29.84. Raises nothing within the ephemeris.
    """
    days = tt_jd - np.arange(0.0, _LONGEST_LUNATION_DAYS + _STEP_DAYS, _STEP_DAYS)
    lead = _lead_deg(days)
    passed = np.flatnonzero((lead[:-1] >= 0.0) & (lead[1:] < 0.0) & (lead[:-1] < 90.0))[0]
    late, early = days[passed], days[passed + 1]
    for _ in range(12):
        middle = (late + early) / 2.0
        if _lead_deg(np.array([middle]))[0] >= 0.0:
            late = middle
        else:
            early = middle
    return float(tt_jd - (late + early) / 2.0)


def _lead_deg(tt_jd: Floats) -> Floats:
    """How far the Moon stands east of the Sun along the ecliptic of date, -180..180."""
    from skyfield.framelib import ecliptic_frame

    earth = kernel()[399].at(timescale().tt_jd(tt_jd))
    moon, sun = (
        earth.observe(kernel()[body]).apparent().frame_latlon(ecliptic_frame)[1].degrees
        for body in (MOON, SUN)
    )
    return _signed(moon - sun)


def _distance_deg(lon: ArrayLike, lat: ArrayLike, to_lon: Floats, to_lat: Floats) -> Floats:
    n, t = (np.radians(np.atleast_1d(np.asarray(a, dtype=float)))[:, None] for a in (lon, lat))
    lon_to, lat_to = np.radians(to_lon), np.radians(to_lat)
    cosine = np.sin(lat_to) * np.sin(t) + np.cos(lat_to) * np.cos(t) * np.cos(n - lon_to)
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))


def _signed(angle_deg: Floats) -> Floats:
    return np.asarray((angle_deg + 180.0) % 360.0 - 180.0)
