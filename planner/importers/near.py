"""Which places of one list lie close to which of another."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

_SIDE = 1 << 20  # cells along one axis at the most, so that three numbers fit into one key
_NEIGHBOURS = tuple(product((-1, 0, 1), repeat=3))


def near_places(first: Floats, second: Floats, radius_rad: float) -> tuple[Integers, Integers]:
    """Rows of all pairs of places that may lie within a small radius of one another.

    ``first`` (N, 3) and ``second`` (M, 3) are unit vectors, ``radius_rad`` is over 4e-6 (0.9").
    Every pair within the radius is found, and some up to 3.5 times as far: check the distance.
    Space is cut into cubes as wide as the radius and each cube compared with its 27 neighbours,
    so the cost follows the lists and neither the poles nor 0 h are special.
    """
    if len(first) == 0 or len(second) == 0:
        return np.empty(0, np.int64), np.empty(0, np.int64)
    own, other = _cubes(first, radius_rad), _cubes(second, radius_rad)
    sorted_own = np.argsort(_key(own), kind="stable")  # searching in order is much faster
    own = own[sorted_own]
    keys = _key(other)
    order = np.argsort(keys, kind="stable")
    keys = keys[order]
    found_own, found_other = [], []
    for step in _NEIGHBOURS:
        wanted = _key(own + np.array(step))
        low = np.searchsorted(keys, wanted, side="left")
        count = np.searchsorted(keys, wanted, side="right") - low
        rows = np.flatnonzero(count)
        times = count[rows]
        within = np.arange(times.sum()) - np.repeat(np.cumsum(times) - times, times)
        found_own.append(np.repeat(sorted_own[rows], times))
        found_other.append(order[np.repeat(low[rows], times) + within])
    return np.concatenate(found_own), np.concatenate(found_other)


def _cubes(places: Floats, edge: float) -> Integers:
    return np.floor((places + 1.0) / edge).astype(np.int64) + 1


def _key(cubes: Integers) -> Integers:
    x, y, z = cubes.T
    return np.asarray((x * _SIDE + y) * _SIDE + z)
