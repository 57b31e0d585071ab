"""When each target stands best: one moment of its own, and the stretch of time around it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from planner.sky.airmass import airmass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.ephemeris.track import Track

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.intp]
    Floats = NDArray[np.float64]

EVEN_AIR = 1.15  # times the air of the best moment that is as good; own judgement
EVEN_SKY_MAG = 0.2  # brighter sky than at the best moment that is as good; own judgement

_S = TypeVar("_S", bound="np.generic")


@dataclass(frozen=True, slots=True, eq=False)
class BestTime:
    """For N targets the index of the best moment and of the window's first and last: (N,).

    ``usable`` tells whether there is a usable moment at all; where there is none the best
    moment is the one of the greatest score all the same. ``altitude_deg`` and ``azimuth_deg``
    are those of the best moment.
    """

    usable: Bools
    best: Ints
    first: Ints
    last: Ints
    altitude_deg: Floats
    azimuth_deg: Floats


def best_time(usable: Bools, score: Floats, track: Track) -> BestTime:
    """The best usable moment of each target by a score; all arguments are (N, T)."""
    best, ever = best_moments(usable, score)
    first, last = window_around(usable, best)
    return BestTime(
        usable=ever,
        best=best,
        first=first,
        last=last,
        altitude_deg=at_best(track.altitude_deg, best),
        azimuth_deg=at_best(track.azimuth_deg, best),
    )


def narrowed(times: BestTime, seen: Bools) -> BestTime:
    """The same moments, each in the unbroken stretch of ``seen`` (N, T) around it."""
    first, last = window_around(seen, times.best)
    return replace(times, first=first, last=last)


def as_good(altitude_deg: Floats, sky_mag: Floats, best: ArrayLike) -> Bools:
    """When targets stand as well as at their best moment, an index along the last axis.

    Arrays (T,) for one target, (K, T) with ``best`` (K,) for more.

    So it does through at most 1.15 times the air, before a sky at most 0.2 mag brighter: the
    seeing is then 9 % worse at most (Kolmogorov: as the air to the power 0.6). Altitudes in
    degrees, sky in mag per square arcsecond; where that is NaN it does not count.
    """
    air, then = airmass(np.maximum(altitude_deg, 0.0)), np.asarray(best, dtype=np.intp)[..., None]
    brighter = np.nan_to_num(np.take_along_axis(sky_mag, then, axis=-1) - sky_mag)
    even = air <= EVEN_AIR * np.take_along_axis(air, then, axis=-1)
    return np.asarray(even & (brighter <= EVEN_SKY_MAG))


def best_moments(usable: Bools, worth: Floats) -> tuple[Ints, Bools]:
    """Index of the best usable moment of each target, and whether there is one.

    Both arguments have shape (N, T); the first of equal moments wins. Where nothing is usable
    the index is the moment of greatest worth all the same, and the flag is False.
    """
    any_usable = np.asarray(usable.any(axis=1))
    masked = np.where(usable | ~any_usable[:, None], worth, -np.inf)
    return np.nan_to_num(masked, nan=-np.inf).argmax(axis=1), any_usable


def window_around(usable: Bools, best: Ints) -> tuple[Ints, Ints]:
    """First and last index of the unbroken usable stretch around each best moment.

    ``usable`` has shape (N, T), ``best`` (N,). Where the best moment is not usable, both are
    the best moment itself.
    """
    moments = np.arange(usable.shape[1])
    before = ~usable & (moments[None, :] < best[:, None])
    after = ~usable & (moments[None, :] > best[:, None])
    first = np.where(before, moments, -1).max(axis=1) + 1
    last = np.where(after, moments, usable.shape[1]).min(axis=1) - 1
    stands = np.take_along_axis(usable, best[:, None], axis=1)[:, 0]
    return np.where(stands, first, best), np.where(stands, last, best)


def at_best(values: NDArray[_S], best: Ints) -> NDArray[_S]:
    """The value of each target at its own moment: (N,) from (N, T)."""
    return np.take_along_axis(values, best[:, None], axis=1)[:, 0]
