"""What friction holds, and what the hand must do at the eyepiece to overcome it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.tube.balance import GRAVITY_M_S2, MM_PER_M

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Bearing:
    """Pads that a weight rests on by a round bearing, or turns on about an upright axis.

    ``radius_mm`` of the bearing, or from the upright axis to the middle of the pads;
    ``pad_angle_deg`` how far the two pads of a round bearing lie to either side of its lowest
    point, 0 to below 90, 0 for an upright axis; ``friction`` the coefficient, above 0.
    """

    radius_mm: float
    friction: float
    pad_angle_deg: float = 0.0

    @property
    def hold_nm_per_kg(self) -> float:
        """``mu g r / cos phi``: torque that each kg on it holds, N m."""
        slope = float(np.cos(np.radians(self.pad_angle_deg)))
        return self.friction * GRAVITY_M_S2 * self.radius_mm / MM_PER_M / slope

    def hold_nm(self, mass_kg: ArrayLike) -> Floats:
        """The torque that friction holds under a mass, N m. Source: Coulomb's friction."""
        return np.asarray(self.hold_nm_per_kg * np.asarray(mass_kg, dtype=float))


@dataclass(frozen=True, slots=True)
class Pull:
    """Forces of the hand on the eyepiece, across the tube, N; below 0 the tube goes by itself."""

    raising_n: Floats
    lowering_n: Floats


def hand_pull(hold_nm: ArrayLike, torque_nm: ArrayLike, arm_mm: float) -> Pull:
    """``(T + tau)/arm`` to raise the eyepiece and ``(T - tau)/arm`` to lower it, N.

    ``torque_nm`` tau above 0 with the front heavy, ``arm_mm`` along the tube from the axis to the
    focuser; below 0 it lies behind the axis, so that a heavy front helps to raise it. Never 0.
    Source: statics.
    """
    hold, torque = np.asarray(hold_nm, dtype=float), np.asarray(torque_nm, dtype=float)
    arm, torque = abs(arm_mm) / MM_PER_M, torque * np.sign(arm_mm)
    return Pull(np.asarray((hold + torque) / arm), np.asarray((hold - torque) / arm))


def turning_force_n(hold_nm: ArrayLike, lever_mm: ArrayLike) -> Floats:
    """Level force, N, that turns a mount whose friction holds ``hold_nm``: ``T / lever``.

    ``lever_mm`` from the upright axis out to the hand, level; infinite where it is 0.
    """
    lever = np.asarray(lever_mm, dtype=float) / MM_PER_M
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(hold_nm, dtype=float) / lever)


def change_that_holds_kg(
    hold_nm: ArrayLike, torque_nm: ArrayLike, lever_nm_per_kg: ArrayLike, hold_nm_per_kg: float
) -> tuple[float, float]:
    """How much mass may be added at one place and how much taken, kg, before the tube drifts.

    ``|tau + m l| <= T + m h`` at every altitude, solved for m above 0, and for m below 0 as mass
    taken away. ``lever_nm_per_kg`` l is the torque of one kg at the place, ``hold_nm_per_kg`` h
    what one kg more presses on the bearing; arrays over altitude, one shape. Infinite where
    nothing would drift, 0 where it drifts already. Source: statics.
    """
    hold, torque = np.asarray(hold_nm, dtype=float), np.asarray(torque_nm, dtype=float)
    lever = np.asarray(lever_nm_per_kg, dtype=float)
    down, up = hold - torque, hold + torque  # what is left to either side
    if np.any(down < 0.0) or np.any(up < 0.0):
        return 0.0, 0.0
    more = min(_room(down, lever - hold_nm_per_kg), _room(up, -lever - hold_nm_per_kg))
    less = min(_room(down, hold_nm_per_kg - lever), _room(up, hold_nm_per_kg + lever))
    return more, less


def _room(left_nm: Floats, taken_nm_per_kg: Floats) -> float:
    """Mass, kg, until what is left at some altitude is used up."""
    takes = taken_nm_per_kg > 0.0
    return float(np.min(left_nm[takes] / taken_nm_per_kg[takes])) if np.any(takes) else np.inf
