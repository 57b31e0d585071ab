"""Where the weight of a tube sits, and how hard it turns the tube about its axis."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

GRAVITY_M_S2 = 9.80665  # standard acceleration, CGPM 1901
MM_PER_M = 1000.0


@dataclass(frozen=True, slots=True)
class Load:
    """A mass in kg and where its middle is, mm: along the tube, and above it when it lies level.

    Both places count from any one point, ``along_mm`` growing towards the sky.
    """

    mass_kg: float
    along_mm: float
    above_mm: float = 0.0


def together(loads: Sequence[Load]) -> Load:
    """Several loads as one in their balance point: the means weighted by mass.

    Raises ``ValueError`` where there is no mass at all. Source: definition of the centre of mass.
    """
    mass = sum(load.mass_kg for load in loads)
    if not mass > 0.0:
        raise ValueError("loads without any mass have no balance point")
    return Load(
        mass_kg=mass,
        along_mm=sum(load.mass_kg * load.along_mm for load in loads) / mass,
        above_mm=sum(load.mass_kg * load.above_mm for load in loads) / mass,
    )


def torque_nm(load: Load, axis: Load, altitude_deg: ArrayLike) -> Floats:
    """How hard a load turns the tube about an axis, N m; above 0 the front goes down.

    ``M g (u cos A - v sin A)`` with u and v from the axis to the load, along and above. Only the
    place of ``axis`` counts. Altitudes A in degrees, scalar or array. Source: statics.
    """
    altitude = np.radians(np.asarray(altitude_deg, dtype=float))
    along = (load.along_mm - axis.along_mm) / MM_PER_M
    above = (load.above_mm - axis.above_mm) / MM_PER_M
    lever = along * np.cos(altitude) - above * np.sin(altitude)
    return np.asarray(load.mass_kg * GRAVITY_M_S2 * lever)


def middle_axis(loads: Sequence[Load]) -> Load:
    """Where an axis makes the greatest torque of several loads least, level and upright.

    Along and above alike: two of them pull equally hard there, one down and one up,
    ``(M1 x1 + M2 x2)/(M1 + M2)`` of the pair that leaves the most,
    ``M1 M2 |x1 - x2| / (M1 + M2)``. At least one load; the answer weighs nothing. Source: statics.
    """
    masses = np.array([load.mass_kg for load in loads])
    along = np.array([load.along_mm for load in loads])
    above = np.array([load.above_mm for load in loads])
    return Load(0.0, _middle(masses, along), _middle(masses, above))


def _middle(masses: Floats, places: Floats) -> float:
    one, other = np.meshgrid(np.arange(masses.size), np.arange(masses.size))
    both = masses[one] + masses[other]
    left = masses[one] * masses[other] * np.abs(places[one] - places[other]) / both
    worst = np.unravel_index(np.argmax(left), left.shape)
    i, j = one[worst], other[worst]
    return float((masses[i] * places[i] + masses[j] * places[j]) / (masses[i] + masses[j]))
