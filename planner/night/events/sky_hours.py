"""Sun, Moon and planets hour by hour over many nights, and when the site may look."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import PLANETS
from planner.ephemeris.body_position import MOON, SUN, body_position
from planner.ephemeris.kernel import require_covered
from planner.ephemeris.moments import grid_at
from planner.ephemeris.refraction import refracted_altitude_deg
from planner.ephemeris.site import Site, horizon_altitude_deg, site_zone
from planner.ephemeris.sun_safety import safe_sun_deg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.moments import TimeGrid

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

NUMBERS = {"Sun": SUN, "Moon": MOON, **{planet.name: planet.naif_number for planet in PLANETS}}
NAMES = tuple(NUMBERS)
PLANET_NAMES = NAMES[2:]
HOUR_S = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class SkyHours:
    """Bodies (B) at T moments: unit vectors (B, 3, T), altitudes with air and azimuths (B, T).

    ``names`` (B) are theirs, the Sun the first; ``distance_au`` (B, T). ``safe`` (T,) tells that
    the Sun is far enough down for the sky beside it.
    """

    site: Site
    grid: TimeGrid
    least_altitude_deg: float
    vector: Floats
    altitude_deg: Floats
    azimuth_deg: Floats
    distance_au: Floats
    safe: Bools
    names: tuple[str, ...] = NAMES

    def row(self, name: str) -> int:
        """The row of a body."""
        return self.names.index(name)

    def up(self, name: str) -> Bools:
        """When the site sees a body with the Sun safely down, (T,)."""
        row = self.row(name)
        least = horizon_altitude_deg(self.site, self.azimuth_deg[row])
        least = np.maximum(least, self.least_altitude_deg)
        return np.asarray(self.safe & (self.altitude_deg[row] >= least))

    def separation_deg(self, one: str, other: str) -> Floats:
        """Angle between two bodies, (T,)."""
        a, b = self.vector[self.row(one)], self.vector[self.row(other)]
        return np.asarray(2.0 * np.degrees(np.arcsin(np.linalg.norm(a - b, axis=0) / 2.0)))

    def instant(self, index: float) -> dt.datetime:
        """The time at an index of the grid, fractions allowed."""
        seconds = np.interp(index, np.arange(len(self.grid.seconds)), self.grid.seconds)
        return self.grid.instant(float(seconds))


def sky_hours(
    site: Site,
    first: dt.date,
    days: int,
    least_altitude_deg: float,
    names: tuple[str, ...] = NAMES,
) -> SkyHours:
    """Every hour from noon of a date on, for some days, of the Sun and any others.

    Raises:
        DateOutsideEphemerisError: some of it is beyond the ephemeris.
    """
    require_covered(first)
    require_covered(min(first + dt.timedelta(days=days), dt.date.max))
    start = dt.datetime.combine(first, dt.time(12), site_zone(site))
    seconds = np.asarray(np.arange(24 * days + 1) * HOUR_S, dtype=float)
    return sky_at(site, start, seconds, least_altitude_deg, names)


def sky_at(
    site: Site,
    start: dt.datetime,
    seconds: Floats,
    least_altitude_deg: float,
    names: tuple[str, ...] = NAMES,
) -> SkyHours:
    """The same at given seconds after a time, of some bodies: the Sun, then any others."""
    times = grid_at(site, start, seconds, short_nutation=True)
    places = [body_position(times, NUMBERS[name]) for name in names]
    true_altitude = np.array([place.altitude_deg for place in places])
    return SkyHours(
        site=site,
        grid=times,
        least_altitude_deg=least_altitude_deg,
        vector=np.array([place.vector_au / place.distance_au for place in places]),
        altitude_deg=refracted_altitude_deg(true_altitude, site.pressure_hpa, site.temperature_c),
        azimuth_deg=np.array([place.azimuth_deg for place in places]),
        distance_au=np.array([place.distance_au for place in places]),
        safe=true_altitude[0] < safe_sun_deg(site.elevation_m),
        names=names,
    )


def lowest_points(values: Floats) -> tuple[Ints, Floats]:
    """Inner minima of a curve: their indices, and the same refined by a parabola."""
    inner = np.flatnonzero((values[1:-1] < values[:-2]) & (values[1:-1] <= values[2:])) + 1
    a, b, c = values[inner - 1], values[inner], values[inner + 1]
    bend = a - 2.0 * b + c
    shift = np.where(bend > 0.0, 0.5 * (a - c) / np.where(bend > 0.0, bend, 1.0), 0.0)
    return inner.astype(np.intp), np.asarray(inner + shift, dtype=float)
