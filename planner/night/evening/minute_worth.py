"""What a look is worth by the minute at which it starts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.order.problem import FORBIDDEN, HUNDREDTHS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.evening.pool import Pool
    from planner.night.evening.session import Session

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

STEEP_FROM_DEG, STEEP_TO_DEG = 70.0, 80.0  # a hand-moved tube gets awkward; common practice
STEEP_COST = 3.0  # points at the upper end; own judgement


def look_values(pool: Pool, session: Session, usable: Bools, steep_costs: bool) -> Ints:
    """Hundredths of a point (K, T) for the look at each target that starts at each minute.

    The mean over all minutes of the look of the target's points times its quality then;
    ``FORBIDDEN`` where one of them is not ``usable`` (K, T) or beyond the session's end.
    ``steep_costs``: whether the mount is an alt-azimuth moved by hand.
    """
    worth = pool.points[:, None] * session.of_night(pool.quality)
    if steep_costs:
        altitude = session.of_night(pool.altitude_deg)
        share = (altitude - STEEP_FROM_DEG) / (STEEP_TO_DEG - STEEP_FROM_DEG)
        worth = worth - STEEP_COST * np.clip(share, 0.0, 1.0)
    return _means(worth, usable, pool.minutes)


def _means(worth: Floats, allowed: Bools, minutes: NDArray[np.intp]) -> Ints:
    """Means over the looks (K, T) from the worth of single minutes (K, T)."""
    count, length = worth.shape
    sums = np.concatenate([np.zeros((count, 1)), np.cumsum(worth, axis=1)], axis=1)
    barred = np.concatenate([np.zeros((count, 1)), np.cumsum(~allowed, axis=1)], axis=1)
    starts = np.arange(length)[None, :]
    ends = starts + minutes[:, None]
    inside = ends <= length
    ends = np.minimum(ends, length)
    mean = (np.take_along_axis(sums, ends, 1) - sums[:, :-1]) / minutes[:, None]
    free = np.take_along_axis(barred, ends, 1) == barred[:, :-1]
    value = np.rint(HUNDREDTHS * np.nan_to_num(mean)).astype(np.int64)
    return np.asarray(np.where(inside & free, value, FORBIDDEN))
