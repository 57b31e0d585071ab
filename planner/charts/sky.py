"""The sky of one minute at one site: where up is, and where the Moon and planets stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import horizontal_deg
from planner.ephemeris.bodies import Bodies, body_table, moon_track, planet_tracks
from planner.ephemeris.moments import grid_at, seconds_between
from planner.ephemeris.site import horizon_altitude_deg

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from numpy.typing import NDArray

    from planner.ephemeris.site import Site

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """``zenith``, ``north``, ``east`` (3,) are the site's directions on the axes of the ICRS.

    ``bodies`` are the Moon and planets at that moment, one value each.
    """

    site: Site
    moment: datetime
    zenith: Floats
    north: Floats
    east: Floats
    bodies: Bodies

    def horizontal_deg(self, places: Floats) -> tuple[Floats, Floats]:
        """Altitude without the air's lift and azimuth of unit vectors (N, 3), degrees.

        The lift is left out: 0.1 degree at 8 degrees high, less than a dot on a wide chart.
        """
        return horizontal_deg(places, self.zenith, self.north, self.east)

    def above_ground(self, places: Floats) -> NDArray[np.bool_]:
        """Which of N places stand above the local horizon."""
        altitude, azimuth = self.horizontal_deg(places)
        return np.asarray(altitude >= horizon_altitude_deg(self.site, azimuth))

    def direction(self, altitude_deg: Floats, azimuth_deg: Floats) -> Floats:
        """Unit vectors (N, 3) of directions at the site."""
        h, a = np.radians(altitude_deg)[:, None], np.radians(azimuth_deg)[:, None]
        flat = np.cos(a) * self.north + np.sin(a) * self.east
        return np.asarray(np.cos(h) * flat + np.sin(h) * self.zenith)


def skies_at(site: Site, moments: Sequence[datetime]) -> list[Sky]:
    """The skies of some moments (aware), worked out together.

    Raises DateOutsideEphemerisError beyond the ephemeris.
    """
    if not moments:
        return []
    offsets = [seconds_between(moments[0], moment) for moment in moments]
    grid = grid_at(site, moments[0], offsets)
    tracks = (moon_track(site, grid), *planet_tracks(site, grid))
    table = body_table(tracks, len(moments))
    return [
        Sky(
            site, moment, grid.zenith[:, k], grid.north[:, k], grid.east[:, k],
            table.at(np.full(len(table), k, dtype=np.intp)),
        )
        for k, moment in enumerate(moments)
    ]  # fmt: skip
