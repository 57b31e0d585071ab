"""Directions at the telescope as clock hours, 12 towards the zenith."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

# (right, up): what an image does to what lies right and up in the sky.
# Source: geometry; two mirrors or a lens pair turn, one mirror swaps left and right.
IMAGE_SIGNS = {"upright": (1.0, 1.0), "inverted": (-1.0, -1.0), "mirrored": (-1.0, 1.0)}


def right_and_up(start: Floats, end: Floats, zenith: Floats) -> tuple[float, float]:
    """Where a leg leads at its middle, as the bare eye sees it: shares to the right and up.

    All three are unit vectors (3,) in one frame with a right-handed sky. The eye looks at the
    leg's middle m with up = the zenith across m, right = m x up; good in both hemispheres.
    Undefined at the zenith.
    """
    middle = start + end
    middle = middle / np.linalg.norm(middle)
    up = zenith - (zenith @ middle) * middle
    up = up / np.linalg.norm(up)
    way = end - start
    return float(way @ np.cross(middle, up)), float(way @ up)


def clock_hour(right: float, up: float, signs: tuple[float, float] = (1.0, 1.0)) -> float:
    """Hour 0..12 of a direction (right, up) in an image that multiplies the two by signs."""
    return float(np.degrees(np.arctan2(signs[0] * right, signs[1] * up)) / 30.0) % 12.0
