"""How the observer sits or stands at the eyepiece."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Ints = NDArray[np.int64]

KNEELING_BELOW = 0.45  # of the height of a standing observer's eye; own judgement
SITTING_BELOW = 0.78  # of it: the eye of somebody on a chair; own judgement
CLASS_COST = 150  # hundredths of a point for each class of change; own judgement


class Posture(IntEnum):
    """How the eyepiece is reached."""

    LOW = 0
    SITTING = 1
    STANDING = 2
    STEP = 3


POSTURE_COST = CLASS_COST * np.abs(np.subtract.outer(np.arange(4), np.arange(4)))


def postures(height_mm: ArrayLike, eye_height_mm: float) -> Ints:
    """Numbers of ``Posture`` for heights of the eyepiece (any shape) and a standing eye."""
    share = np.asarray(height_mm, dtype=float) / eye_height_mm
    low = (share >= KNEELING_BELOW).astype(np.int64)
    return np.asarray(low + (share >= SITTING_BELOW) + (share > 1.0), dtype=np.int64)
