"""What a margin in magnitudes means: four steps, their words and their numbers, stated once."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

EXTENDED_UNCERTAINTY_MAG = 0.5  # of Crumey's model on extended objects; own judgement
PLAIN_MAG = 1.5  # from here on nobody misses it; own judgement


class Step(StrEnum):
    """How surely a target is seen."""

    NOT_SEEN = "not seen"
    BORDERLINE = "borderline"
    SEEN = "seen with care"
    PLAIN = "plain"


STEPS = (Step.NOT_SEEN, Step.BORDERLINE, Step.SEEN, Step.PLAIN)
BOUNDARIES_MAG = (-EXTENDED_UNCERTAINTY_MAG, EXTENDED_UNCERTAINTY_MAG, PLAIN_MAG)


def step_numbers(margin_mag: ArrayLike) -> NDArray[np.intp]:
    """Index into ``STEPS`` for margins in magnitudes (any shape); NaN counts as not seen.

    Below -0.5 not seen, up to +0.5 borderline (inside the model's uncertainty), up to 1.5 seen
    with care, above that plain.
    """
    margin = np.nan_to_num(np.asarray(margin_mag, dtype=float), nan=-np.inf)
    return np.asarray(np.searchsorted(BOUNDARIES_MAG, margin, side="right"))
