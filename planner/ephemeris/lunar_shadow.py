"""Eclipses of the Moon: when it is deepest in the Earth's shadow, and how large that is there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.body_position import MOON, SUN
from planner.ephemeris.kernel import kernel

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.moments import TimeGrid

    Floats = NDArray[np.float64]

_EARTH = 399


@dataclass(frozen=True, slots=True)
class ShadowPassage:
    """One passage: seconds after the grid's start, angles in radians from the Earth's centre.

    Magnitudes are shares of the Moon's diameter in the umbra and in the penumbra.
    """

    seconds: float
    moon_radius: float
    umbra_radius: float
    penumbra_radius: float
    umbral_magnitude: float
    penumbral_magnitude: float


def shadow_passages(grid: TimeGrid) -> tuple[ShadowPassage, ...]:
    """The passages between the first and last moment of a grid.

    Source: skyfield, which widens the shadow for the Earth's air after Danjon as the Five
    Millennium Canon of Espenak & Meeus does.
    """
    from skyfield import eclipselib  # here: only events want it

    times, _, details = eclipselib.lunar_eclipses(grid.times[0], grid.times[-1], kernel())
    seconds = (np.asarray(times.tt) - grid.times.tt[0]) * 86400.0 + grid.seconds[0]
    return tuple(
        ShadowPassage(
            seconds=float(seconds[n]),
            moon_radius=float(details["moon_radius_radians"][n]),
            umbra_radius=float(details["umbra_radius_radians"][n]),
            penumbra_radius=float(details["penumbra_radius_radians"][n]),
            umbral_magnitude=float(details["umbral_magnitude"][n]),
            penumbral_magnitude=float(details["penumbral_magnitude"][n]),
        )
        for n in range(len(seconds))
    )


def moon_from_shadow(grid: TimeGrid) -> Floats:
    """Angle of the Moon from the shadow's middle as from the Earth's centre, radians (T,)."""
    earth = kernel()[_EARTH].at(grid.times)
    moon, sun = (np.asarray(earth.observe(kernel()[n]).xyz.au) for n in (MOON, SUN))
    moon, sun = (v / np.linalg.norm(v, axis=0) for v in (moon, sun))
    return np.asarray(2.0 * np.arcsin(np.linalg.norm(moon + sun, axis=0) / 2.0))
