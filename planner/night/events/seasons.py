"""Oppositions of the outer planets and greatest elongations of the inner ones."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.night.events.event import Event, EventKind
from planner.night.events.sky_hours import lowest_points

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.events.sky_hours import SkyHours

    Floats = NDArray[np.float64]

_OUTER = ("Mars", "Jupiter", "Saturn", "Uranus", "Neptune")
_INNER = ("Mercury", "Venus")
_OBLIQUITY = np.radians(23.43928)  # J2000; IAU 2006


def seasons(hours: SkyHours) -> list[Event]:
    """Oppositions (ecliptic longitudes 180 degrees apart) and greatest elongations."""
    found = []
    sun = _longitude_deg(hours.vector[hours.row("Sun")])
    for name in _OUTER:
        apart = (_longitude_deg(hours.vector[hours.row(name)]) - sun) % 360.0 - 180.0
        for low in np.flatnonzero((apart[:-1] > 0.0) & (apart[1:] <= 0.0) & (apart[:-1] < 90.0)):
            place = low + apart[low] / (apart[low] - apart[low + 1])
            time = hours.instant(float(place))
            found.append(Event(EventKind.OPPOSITION, (name,), time, seen=True))
    for name in _INNER:
        away = hours.separation_deg(name, "Sun")
        for low, place in zip(*lowest_points(-_smooth(away)), strict=True):
            found.append(
                Event(
                    EventKind.ELONGATION,
                    (name,),
                    hours.instant(float(place)),
                    seen=True,
                    separation_deg=float(away[low]),
                )
            )
    return found


def _longitude_deg(vector: Floats) -> Floats:
    x, y, z = vector
    across = np.cos(_OBLIQUITY) * y + np.sin(_OBLIQUITY) * z
    return np.asarray(np.degrees(np.arctan2(across, x)))


def _smooth(values: Floats) -> Floats:
    """A day's mean: a site's own turning makes ripples of some arcseconds."""
    if len(values) < 25:
        return values
    padded = np.pad(values, 12, mode="reflect", reflect_type="odd")
    return np.convolve(padded, np.full(24, 1.0 / 24.0), mode="same")[12:-12]
