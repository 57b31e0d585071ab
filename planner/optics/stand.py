"""How the tube hangs in its mount: what decides how high the eyepiece stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


USUAL_REACH = 0.7  # of the aperture, from the tube's middle to the eyepiece; common practice


@dataclass(frozen=True, slots=True)
class Stand:
    """The altitude axis and the focuser of one telescope, lengths in millimetres.

    ``pivot_height_mm`` is the axis above the ground, ``pivot_to_focuser_mm`` the way from it
    along the tube towards the sky to the focuser, below 0 where this lies behind the axis;
    ``focuser_reach_mm`` that from the tube's middle out to the eyepiece. ``focuser_angle_deg`` is
    where the focuser points, seen along the tube towards the sky: 0 to the right, 90 on top, 180
    to the left.
    ``axis_above_mm`` is how far the axis lies above the tube's middle when that is level.
    """

    pivot_height_mm: float
    pivot_to_focuser_mm: float
    focuser_reach_mm: float
    focuser_angle_deg: float
    axis_above_mm: float = 0.0

    def eyepiece_height_mm(self, altitude_deg: ArrayLike) -> NDArray[np.float64]:
        """Height of the eyepiece above the ground for tube altitudes of any shape.

        ``pivot + along sin(altitude) + (reach sin(angle) - above) cos(altitude)``, ``above`` the
        axis over the tube's middle. Source: geometry.
        """
        altitude = np.radians(np.asarray(altitude_deg, dtype=float))
        return np.asarray(
            self.pivot_height_mm
            + self.pivot_to_focuser_mm * np.sin(altitude)
            + self.eyepiece_above_mm * np.cos(altitude)
        )

    @property
    def eyepiece_above_mm(self) -> float:
        """How far the eyepiece lies above the axis when the tube is level."""
        upwards = float(np.sin(np.radians(self.focuser_angle_deg)))
        return self.focuser_reach_mm * upwards - self.axis_above_mm

    def eyepiece_ahead_mm(self, altitude_deg: ArrayLike) -> NDArray[np.float64]:
        """Level distance of the eyepiece before the upright axis through the pivot. Geometry.

        Below 0 behind it; "before" is where the tube points.
        """
        altitude = np.radians(np.asarray(altitude_deg, dtype=float))
        ahead = self.pivot_to_focuser_mm * np.cos(altitude)
        return np.asarray(ahead - self.eyepiece_above_mm * np.sin(altitude))

    @property
    def eyepiece_aside_mm(self) -> float:
        """How far the eyepiece lies to the right of the tube's middle, below 0 to the left."""
        return self.focuser_reach_mm * float(np.cos(np.radians(self.focuser_angle_deg)))

    def eyepiece_out_mm(self, altitude_deg: ArrayLike) -> NDArray[np.float64]:
        """Level distance of the eyepiece from the upright axis through the pivot. Geometry."""
        return np.asarray(np.hypot(self.eyepiece_ahead_mm(altitude_deg), self.eyepiece_aside_mm))
