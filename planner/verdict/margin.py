"""What a margin in magnitudes means: four steps, their words and their numbers, stated once."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

EXTENDED_UNCERTAINTY_MAG = 0.5  # of Crumey's model on extended objects; own judgement
LOOSE_UNCERTAINTY_MAG = 1.0  # of line light, and of galaxies without a type; own judgement
LEAST_STAR_UNCERTAINTY_MAG = 0.3  # of a star limit where two models agree; own judgement
PLAIN_BEYOND_MAG = 1.0  # so far beyond the uncertainty nobody misses it; own judgement


class Step(StrEnum):
    """How surely a target is seen."""

    NOT_SEEN = "not seen"
    BORDERLINE = "borderline"
    SEEN = "seen with care"
    PLAIN = "plain"


STEPS = (Step.NOT_SEEN, Step.BORDERLINE, Step.SEEN, Step.PLAIN)


def step_word(margin_mag: float, uncertainty_mag: float) -> str:
    """The step of one margin, in words."""
    return str(STEPS[int(step_numbers(margin_mag, uncertainty_mag))])


def step_numbers(
    margin_mag: ArrayLike, uncertainty_mag: ArrayLike = EXTENDED_UNCERTAINTY_MAG
) -> NDArray[np.intp]:
    """Index into ``STEPS`` for margins in magnitudes; any shapes that broadcast.

    With the uncertainty u: below -u not seen, from -u to u borderline, from u to u + 1 seen
    with care, from there on plain. NaN counts as not seen.
    """
    margin = np.nan_to_num(np.asarray(margin_mag, dtype=float), nan=-np.inf)
    u = np.asarray(uncertainty_mag, dtype=float)
    steps = (margin >= -u).astype(np.intp) + (margin >= u) + (margin >= u + PLAIN_BEYOND_MAG)
    return np.asarray(steps, dtype=np.intp)
