"""How a telescope turns the sky: where north and east point in the eyepiece."""

from __future__ import annotations

from enum import Enum

from planner.optics.telescope import Design


class Orientation(Enum):
    """Where north and east point in the picture, as (right, up).

    Two mirrors turn the sky by 180 degrees; a lens with a star diagonal, or any odd number of
    mirrors, mirrors it.
    """

    INVERTED = ((0.0, -1.0), (1.0, 0.0))
    MIRRORED = ((0.0, 1.0), (1.0, 0.0))

    @property
    def north(self) -> tuple[float, float]:
        """Unit step to the north, (right, up)."""
        return self.value[0]

    @property
    def east(self) -> tuple[float, float]:
        """Unit step to the east, (right, up)."""
        return self.value[1]


def orientation_in(design: Design) -> Orientation:
    """How a telescope turns the sky: a Newtonian by 180 degrees, the others with a diagonal.

    Source: two reflections keep the sense of the sky, one reverses it; that refractors and
    catadioptrics are used with a star diagonal is common practice, no source.
    """
    return Orientation.INVERTED if design is Design.NEWTONIAN else Orientation.MIRRORED
