"""What a margin means: how surely a target is seen, and how far its margin may be out."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

EXTENDED_UNCERTAINTY_MAG = 0.5  # of Crumey's model on extended objects; own judgement
LOOSE_UNCERTAINTY_MAG = 1.0  # of line light, and of galaxies without a type; own judgement
LEAST_STAR_UNCERTAINTY_MAG = 0.3  # of a star limit where two models agree; own judgement
PLAIN_BEYOND_MAG = 1.0  # so far beyond the uncertainty nobody misses it; own judgement


class Step(IntEnum):
    """How surely a target is seen."""

    UNKNOWN = -1
    NOT_SEEN = 0
    BORDERLINE = 1
    SEEN = 2
    PLAIN = 3


def steps(
    margin_mag: ArrayLike, uncertainty_mag: ArrayLike = EXTENDED_UNCERTAINTY_MAG
) -> NDArray[np.int8]:
    """Numbers of ``Step`` for margins in magnitudes; any shapes that broadcast.

    With the uncertainty u: below -u not seen, from -u to u borderline, from u to u + 1 seen
    with care, from there on plain. NaN counts as not seen.
    """
    margin = np.nan_to_num(np.asarray(margin_mag, dtype=float), nan=-np.inf)
    u = np.asarray(uncertainty_mag, dtype=float)
    found = (margin >= -u).astype(np.int8) + (margin >= u) + (margin >= u + PLAIN_BEYOND_MAG)
    return np.asarray(found, dtype=np.int8)
