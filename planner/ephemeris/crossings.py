"""Crossings: when a sampled curve passes through zero, such as an altitude a horizon."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_FINE = 10  # points between two samples


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Crossings in order of time: ``at`` in units of the samples' time, ``rising`` upward."""

    at: Floats
    rising: NDArray[np.bool_]


def cubic_values(values: ArrayLike, index: ArrayLike) -> Floats:
    """Values of an evenly sampled curve between its samples, by the cubic through four of them.

    ``values`` (T,), T >= 4; ``index`` in 0..T-1, fractions allowed, any shape. For an
    altitude near the horizon, sampled every 10 minutes, the error is under 0.1".
    Raises ModelRangeError for fewer than four samples.
    """
    y, x = np.asarray(values, dtype=float), np.asarray(index, dtype=float)
    if y.size < 4:
        raise ModelRangeError(f"a cubic needs four samples, not {y.size}")
    first = np.clip(np.floor(x).astype(np.intp) - 1, 0, y.size - 4)
    u = x - first
    a, b, c, d = (y[first + k] for k in range(4))
    return np.asarray(
        -a * (u - 1) * (u - 2) * (u - 3) / 6
        + b * u * (u - 2) * (u - 3) / 2
        - c * u * (u - 1) * (u - 3) / 2
        + d * u * (u - 1) * (u - 2) / 6
    )


def crossings(seconds: ArrayLike, values: ArrayLike) -> Crossings:
    """All passages of an evenly sampled curve through zero.

    ``seconds`` and ``values`` (T,), T >= 4, evenly spaced. The curve is laid out ten times finer
    by cubics and then cut by straight lines: for a body's altitude every 10 minutes
    the time is good to 0.1 s unless it only grazes the horizon. A dip shorter than a tenth
    of a sample step may be missed. The curve must be smooth: for a rising take the altitude
    without air against -34', since the apparent altitude has a step at -1 degree.
    """
    s = np.asarray(seconds, dtype=float)
    index = np.arange((s.size - 1) * _FINE + 1) / _FINE
    y = cubic_values(values, index)
    above = y >= 0.0
    i = np.flatnonzero(above[1:] != above[:-1])
    part = index[i] + (index[i + 1] - index[i]) * y[i] / (y[i] - y[i + 1])
    return Crossings(at=s[0] + part * (s[-1] - s[0]) / (s.size - 1), rising=above[i + 1])
