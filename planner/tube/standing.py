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

        ``shift_mm`` is how far the balance point of the whole stands off the axis towards that
        side; the worst side is taken. 0 where it stands beyond the feet. Source: statics.
        """
        return np.asarray(mass_kg * GRAVITY_M_S2 * self.slides_below(height_mm, shift_mm))

    def slides_below(self, height_mm: ArrayLike, shift_mm: ArrayLike = 0.0) -> Floats:
        """The friction of the ground below which that push slides it: ``(side - shift)/h``."""
        return np.asarray(self._room_mm(shift_mm) / np.asarray(height_mm, dtype=float))

    def tipping_weight_n(
        self, mass_kg: float, out_mm: ArrayLike, shift_mm: ArrayLike = 0.0
    ) -> Floats:
        """The weight on a hand ``out_mm`` from the axis that tips it over, N.

        ``M g (side - shift)/(out - side)``; infinite where the hand is above the feet.
        """
        beyond = np.maximum(np.asarray(out_mm, dtype=float) - self.side_mm, 0.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            weight = mass_kg * GRAVITY_M_S2 * self._room_mm(shift_mm) / beyond
        return np.asarray(np.where(beyond > 0.0, weight, np.inf))

    def _room_mm(self, shift_mm: ArrayLike) -> Floats:
        return np.asarray(np.maximum(self.side_mm - np.asarray(shift_mm, dtype=float), 0.0))
