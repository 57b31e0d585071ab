"""When a target can be used: the stretch of moments around its best one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.intp]
    Floats = NDArray[np.float64]


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
