"""Gauss-Legendre quadrature of high order, quickly."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_NEWTON_STEPS = 6  # from Tricomi's estimate rounding error is reached in three or four


@lru_cache(maxsize=8)
def gauss_legendre(count: int) -> tuple[Floats, Floats]:
    """Nodes and weights (count,) on -1..1, exact for polynomials up to degree 2 count - 1.

    Newton's method on the three-term recurrence, from Tricomi's estimate of the roots:
    milliseconds where numpy's ``leggauss`` solves for eigenvalues and takes a second.
    Source: Abramowitz & Stegun 1964, 22.7.10, 22.8.5 and 25.4.29.
    """
    k = np.arange(count, 0, -1)
    x = (1.0 - (count - 1.0) / (8.0 * count**3)) * np.cos(np.pi * (4 * k - 1) / (4 * count + 2))
    for _ in range(_NEWTON_STEPS):
        value, slope = _legendre(count, x)
        x = x - value / slope
    _, slope = _legendre(count, x)
    weights = 2.0 / ((1.0 - x**2) * slope**2)
    for array in (x, weights):
        array.setflags(write=False)
    return x, weights


def _legendre(degree: int, x: Floats) -> tuple[Floats, Floats]:
    """The Legendre polynomial and its derivative at points inside -1..1."""
    before, value = np.ones_like(x), x.copy()
    for n in range(1, degree):
        before, value = value, ((2 * n + 1) * x * value - n * before) / (n + 1)
    return value, degree * (x * value - before) / (x**2 - 1.0)
