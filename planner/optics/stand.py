"""How the tube hangs in its mount: what decides how high the eyepiece stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True)
class Stand:
    """The altitude axis and the focuser of one telescope, lengths in millimetres.

    ``pivot_height_mm`` is the axis above the ground, ``pivot_to_focuser_mm`` the way from it
    along the tube to the focuser (negative below the axis), ``focuser_reach_mm`` that from the
    tube's middle out to the eyepiece. ``focuser_angle_deg`` is where the focuser points, seen
    along the tube towards the sky: 0 to the right, 90 on top, 180 to the left.
    """

    pivot_height_mm: float
    pivot_to_focuser_mm: float
    focuser_reach_mm: float
    focuser_angle_deg: float

    def eyepiece_height_mm(self, altitude_deg: ArrayLike) -> NDArray[np.float64]:
        """Height of the eyepiece above the ground for tube altitudes of any shape.

        ``pivot + along sin(altitude) + reach cos(altitude) sin(angle)``. Source: geometry.
        """
        altitude = np.radians(np.asarray(altitude_deg, dtype=float))
        upwards = np.sin(np.radians(self.focuser_angle_deg))
        along = self.pivot_to_focuser_mm * np.sin(altitude)
        across = self.focuser_reach_mm * np.cos(altitude) * upwards
        return np.asarray(self.pivot_height_mm + along + across)
