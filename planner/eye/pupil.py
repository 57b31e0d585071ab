"""The eye's pupil: how wide it opens in the dark, by age."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

AGE_RANGE_YEARS = (10.0, 95.0)  # for the dark pupil; common practice, no source


def dark_pupil_mm(age_years: ArrayLike) -> Floats:
    """Diameter of the fully dark-adapted pupil, mm: ``7 exp(-0.5 (age / 100)^2)``.

    ``age_years``: 10..95, scalar or array. Raises: ModelRangeError outside.
    Source: Schaefer 1990, PASP 102, 212, eq 5.
    Limits: people of one age differ by 1 mm either way; a measured value is better.
    """
    ages = np.asarray(age_years, dtype=float)
    youngest, oldest = AGE_RANGE_YEARS
    if np.any((ages < youngest) | (ages > oldest)):
        raise ModelRangeError(
            f"age outside {youngest:g}..{oldest:g} years: give a measured pupil instead"
        )
    return np.asarray(7.0 * np.exp(-0.5 * (ages / 100.0) ** 2))
