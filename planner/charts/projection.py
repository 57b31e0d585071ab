"""From places in the sky to points on a chart: stereographic, then turned as the view is."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin, tan
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.optics.turn import Turn

    Floats = NDArray[np.float64]

NEAR_ZENITH_COS = cos(radians(89.0))  # nearer to the zenith than 1 degree its angle says nothing


@dataclass(frozen=True, slots=True, eq=False)
class Projection:
    """A field about a centre (ICRS, degrees) on a circle of ``radius_pt``.

    ``matrix`` (2, 2) takes (east, north) to (right, up) in points for each radian at the centre;
    ``zenith_pa_deg`` is the position angle of the zenith, north through east.
    """

    centre: Floats
    east: Floats
    north: Floats
    matrix: Floats
    zenith_pa_deg: float
    radius_pt: float
    field_deg: float

    @property
    def points_per_deg(self) -> float:
        """Scale in the middle."""
        return float(np.sqrt(abs(np.linalg.det(self.matrix)))) * radians(1.0)

    def points(self, places: Floats) -> Floats:
        """Points (N, 2) of unit vectors (N, 3); the place opposite the centre has none.

        Source: stereographic projection, Snyder 1987, USGS Professional Paper 1395, eq. 21-2
        (from memory): angles are true everywhere.
        """
        stretch = 2.0 / np.maximum(1.0 + places @ self.centre, 1e-9)
        plane = np.stack([places @ self.east, places @ self.north], axis=-1) * stretch[..., None]
        return np.asarray(plane @ self.matrix.T)

    def place(self, ra_deg: ArrayLike, dec_deg: ArrayLike) -> Floats:
        """Points (N, 2) of places in degrees (N,)."""
        return self.points(
            np.atleast_2d(unit_vectors(np.atleast_1d(ra_deg), np.atleast_1d(dec_deg)))
        )

    def direction_deg(self, position_angle_deg: float) -> float:
        """Where a position angle points on the chart, degrees counter-clockwise from right."""
        angle = radians(position_angle_deg)
        right, up = self.matrix @ np.array([sin(angle), cos(angle)])
        return degrees(atan2(up, right))


def project(
    place_deg: tuple[float, float],
    zenith: Floats,
    turn: Turn,
    field_deg: float,
    radius_pt: float,
) -> Projection:
    """The field of ``field_deg`` about a place (ra, dec), as a view turns it at that minute.

    ``zenith`` is the site's unit vector (3,) in the same frame. Within one degree of the zenith
    no side is up; north is taken then.
    """
    ra, dec = place_deg
    centre = unit_vectors(ra, dec)
    east, north = unit_vectors(ra + 90.0, 0.0), unit_vectors(ra, dec + 90.0)
    across = np.hypot(zenith @ east, zenith @ north)
    q = atan2(zenith @ east, zenith @ north) if across > NEAR_ZENITH_COS else 0.0
    columns = [turn.seen(-cos(q), sin(q)), turn.seen(sin(q), cos(q))]
    scale = radius_pt / (2.0 * tan(radians(field_deg / 4.0)))
    matrix = scale * np.array(columns).T
    return Projection(centre, east, north, matrix, degrees(q), radius_pt, field_deg)
