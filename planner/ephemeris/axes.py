"""Rotation axes of the planets: where the north pole points and how far the surface has turned."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_JD

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def rotation(name: str, tt_jd: Floats) -> tuple[Floats, Floats]:
    """North pole (3, T), a unit vector on ICRS axes, and the prime meridian W in degrees (T,).

    ``name`` of a planet; ``tt_jd`` (T,) Julian dates in terrestrial time, light time removed. The
    terrestrial time goes straight into the library, so its own idea of the Earth's turning never
    matters. W is counted from the axes' node to the prime meridian; Jupiter's is System III.
    Source: IAU working group on cartographic coordinates 2015, as in astronomy-engine.
    """
    import astronomy  # here: most commands want no axis

    body = getattr(astronomy.Body, name)
    found = [
        astronomy.RotationAxis(body, astronomy.Time.FromTerrestrialTime(day))
        for day in (tt_jd - J2000_JD).tolist()
    ]
    pole = np.array([(axis.north.x, axis.north.y, axis.north.z) for axis in found]).T
    return pole, np.array([axis.spin for axis in found])


def equator_axes(pole: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (3, T) along the equator: its ascending node on the ICRS equator, and 90 on."""
    x, y, _ = pole
    across = np.hypot(x, y)
    node = np.array([-y / across, x / across, np.zeros_like(x)])
    return node, np.cross(pole, node, axis=0)


def position_angle_deg(seen: Floats, direction: Floats) -> Floats:
    """Position angle of a direction at a place seen along a unit vector (3, T), 0..360."""
    east = np.array([-seen[1], seen[0], np.zeros_like(seen[0])])
    east = east / np.linalg.norm(east, axis=0)
    north = np.cross(seen, east, axis=0)
    towards = np.sum(direction * east, axis=0), np.sum(direction * north, axis=0)
    return np.asarray(np.degrees(np.arctan2(*towards)) % 360.0)
