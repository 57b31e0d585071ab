"""Directions at the telescope as clock hours, 12 towards the zenith."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.optics.turn import UPRIGHT

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.optics.turn import Turn

    Floats = NDArray[np.float64]


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
    right = (
        middle[1] * up[2] - middle[2] * up[1],
        middle[2] * up[0] - middle[0] * up[2],
        middle[0] * up[1] - middle[1] * up[0],
    )  # a tenth of the time of numpy's cross
    return float(way @ np.array(right)), float(way @ up)


def clock_hour(right: float, up: float, turn: Turn = UPRIGHT) -> float:
    """Hour 0..12 at which a direction (right, up) of the sky lies in a view."""
    return float(np.degrees(np.arctan2(*turn.seen(right, up))) / 30.0) % 12.0
