"""Where and when each target stands best: one moment of its own for every target."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, TypedDict, TypeVar

import numpy as np

from planner.night.window import best_moments, window_around
from planner.sky.airmass import airmass

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.ephemeris.track import Track
    from planner.night.circumstances import Circumstances

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.intp]
    Floats = NDArray[np.float64]

_S = TypeVar("_S", bound="np.generic")


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """For N targets: the index of the best moment, its window, and the place in the sky then.

    ``usable`` tells whether there is a usable moment at all; where there is none the best
    moment is the one of the greatest score all the same. ``airmass`` is NaN below the horizon.
    """

    usable: Bools
    best: Ints
    first: Ints
    last: Ints
    altitude_deg: Floats
    azimuth_deg: Floats
    airmass: Floats


class Placed(TypedDict):
    """The fields of a planned target that say when and where it is."""

    window_start: dt.datetime | None
    window_end: dt.datetime | None
    best_time: dt.datetime | None
    altitude_deg: float | None
    azimuth_deg: float | None
    airmass: float | None


def standing(usable: Bools, score: Floats, track: Track) -> Standing:
    """The best usable moment of each target by a score; all arguments are (N, T)."""
    best, ever = best_moments(usable, score)
    first, last = window_around(usable, best)
    altitude = at_best(track.altitude_deg, best)
    return Standing(
        usable=ever,
        best=best,
        first=first,
        last=last,
        altitude_deg=altitude,
        azimuth_deg=at_best(track.azimuth_deg, best),
        airmass=airmass(altitude),
    )


def standing_at(track: Track, moments: Ints) -> Standing:
    """One target at several moments, each taken for its best: (N,) from a track (1, T)."""
    altitude = track.altitude_deg[0, moments]
    return Standing(
        usable=np.ones(len(moments), dtype=bool),
        best=moments,
        first=moments,
        last=moments,
        altitude_deg=altitude,
        azimuth_deg=track.azimuth_deg[0, moments],
        airmass=airmass(altitude),
    )


def joined(parts: Sequence[Standing]) -> Standing:
    """Several groups of targets as one."""
    return Standing(
        *(
            np.concatenate([getattr(part, field.name) for part in parts])
            for field in fields(Standing)
        )
    )


def at_best(values: NDArray[_S], best: Ints) -> NDArray[_S]:
    """The value of each target at its own moment: (N,) from (N, T)."""
    return np.take_along_axis(values, best[:, None], axis=1)[:, 0]


def placed(found: Circumstances, where: Standing, row: int) -> Placed:
    """When and where one target stands best; all None when it cannot be used tonight."""
    if not where.usable[row]:
        return Placed(
            window_start=None, window_end=None, best_time=None,
            altitude_deg=None, azimuth_deg=None, airmass=None,
        )  # fmt: skip
    return Placed(
        window_start=found.instants[where.first[row]],
        window_end=found.instants[where.last[row]],
        best_time=found.instants[where.best[row]],
        altitude_deg=float(where.altitude_deg[row]),
        azimuth_deg=float(where.azimuth_deg[row]),
        airmass=float(where.airmass[row]),
    )


def unusable_reason(found: Circumstances, where: Standing, row: int, highest_deg: float) -> str:
    """Why a target has no usable moment tonight."""
    if not found.twilight_over.any():
        return "it does not get dark enough in the hours asked for"
    least = found.request.least_altitude_deg
    if highest_deg < 0.0:
        return "below the horizon all night"
    if highest_deg < least:
        return f"never above {least:.0f}°: at most {highest_deg:.0f}° tonight"
    return "behind the local horizon, or up only in twilight"
