"""What tips a telescope over, or slides it away."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.tube.balance import GRAVITY_M_S2

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Footing:
    """Feet at equal steps on a circle about the upright axis: its radius in mm, at least 3."""

    radius_mm: float
    feet: int

    @property
    def side_mm(self) -> float:
        """From the axis to the nearest line between two feet: ``r cos(180/n)``. Geometry."""
        return self.radius_mm * float(np.cos(np.pi / self.feet))

    def tipping_push_n(
        self, mass_kg: float, height_mm: ArrayLike, shift_mm: ArrayLike = 0.0
    ) -> Floats:
        """The level push at a height that tips a mass over, N: ``M g (side - shift)/h``.

        ``shift_mm`` is how far the balance point of the whole stands off the axis, above or below
        0; the worst side is taken. 0 where it stands beyond the feet, infinite at the ground.
        Source: statics.
        """
        return np.asarray(mass_kg * GRAVITY_M_S2 * self.slides_below(height_mm, shift_mm))

    def slides_below(self, height_mm: ArrayLike, shift_mm: ArrayLike = 0.0) -> Floats:
        """The friction of the ground below which that push slides it: ``(side - shift)/h``."""
        height = np.maximum(np.asarray(height_mm, dtype=float), 0.0)
        room = np.maximum(self.side_mm - np.abs(np.asarray(shift_mm, dtype=float)), 0.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.asarray(np.where(height > 0.0, room / height, np.inf))

    def tipping_weight_n(
        self,
        mass_kg: float,
        ahead_mm: ArrayLike,
        aside_mm: ArrayLike = 0.0,
        shift_mm: ArrayLike = 0.0,
    ) -> Floats:
        """The weight on a hand that tips it over, N, with the feet turned as is worst.

        The hand is ``ahead_mm`` before the upright axis (below 0 behind it) and ``aside_mm``
        beside it, the balance point of the whole ``shift_mm`` before it. It tips where the
        balance point of both, ``(M s + w p)/(M + w)``, comes out farther than the side: ``M g
        (side - s)/(p - side)`` in one line. Infinite where the hand is above the feet, 0 where
        the whole stands beyond them. Source: statics.
        """
        ahead, shift = np.asarray(ahead_mm, dtype=float), np.asarray(shift_mm, dtype=float)
        beyond = ahead**2 + np.asarray(aside_mm, dtype=float) ** 2 - self.side_mm**2
        room = self.side_mm**2 - shift**2
        half = self.side_mm**2 - shift * ahead
        with np.errstate(divide="ignore", invalid="ignore"):
            share = (half + np.sqrt(half**2 + beyond * room)) / beyond
        weight = np.where(beyond > 0.0, mass_kg * GRAVITY_M_S2 * share, np.inf)
        return np.asarray(np.where(room > 0.0, weight, 0.0))
