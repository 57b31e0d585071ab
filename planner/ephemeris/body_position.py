"""Where one body of the Solar System stands over a site: direction, distance, true altitude."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.kernel import kernel

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.moments import TimeGrid

    Floats = NDArray[np.float64]

SUN, MOON = 10, 301  # NAIF numbers
MOON_RADIUS_KM = 1737.4  # IAU working group on cartographic coordinates 2015 (from memory)


@dataclass(frozen=True, slots=True, eq=False)
class BodyPosition:
    """One body at T moments, seen from the site itself (topocentric).

    ``vector_au`` (3, T) from site to body, light time allowed for, on ICRS axes;
    ``altitude_deg`` and ``azimuth_deg`` (T,) apparent but without air; ``position`` is
    skyfield's own record of it.
    """

    vector_au: Floats
    distance_au: Floats
    altitude_deg: Floats
    azimuth_deg: Floats
    position: object


def body_position(grid: TimeGrid, naif_number: int) -> BodyPosition:
    """The place of one body of the ephemeris at every moment of the grid.

    Light time and aberration (first order) are in, the bending of light is not (under 0.02"
    at more than 20 degrees from the Sun).
    """
    position = grid.observer.observe(kernel()[naif_number])
    vector = np.asarray(position.xyz.au, dtype=float)
    distance = np.linalg.norm(vector, axis=0)
    seen = vector / distance + grid.velocity
    seen /= np.linalg.norm(seen, axis=0)
    up, east, north = (np.sum(seen * a, axis=0) for a in (grid.zenith, grid.east, grid.north))
    return BodyPosition(
        vector_au=vector,
        distance_au=distance,
        altitude_deg=np.degrees(np.arctan2(up, np.hypot(east, north))),
        azimuth_deg=np.degrees(np.arctan2(east, north)) % 360.0,
        position=position,
    )
