"""The eye's pupil: how wide it opens, by age and by light."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

AGE_RANGE_YEARS = (10.0, 95.0)  # for the dark pupil; common practice, no source
UNIFIED_AGE_RANGE_YEARS = (20.0, 83.0)  # Watson & Yellott 2012
_REFERENCE_AGE_YEARS = 28.58  # Watson & Yellott 2012


def _ages(age_years: ArrayLike, allowed: tuple[float, float]) -> Floats:
    ages = np.asarray(age_years, dtype=float)
    if np.any((ages < allowed[0]) | (ages > allowed[1])):
        raise ModelRangeError(
            f"age outside {allowed[0]:g}..{allowed[1]:g} years: give a measured pupil instead"
        )
    return ages


def dark_pupil_mm(age_years: ArrayLike) -> Floats:
    """Diameter of the fully dark-adapted pupil, mm: ``7 exp(-0.5 (age / 100)^2)``.

    ``age_years``: 10..95, scalar or array. Raises: ModelRangeError outside.
    Source: Schaefer 1990, PASP 102, 212, eq 5.
    Limits: people of one age differ by 1 mm either way; a measured value is better.
    """
    return np.asarray(7.0 * np.exp(-0.5 * (_ages(age_years, AGE_RANGE_YEARS) / 100.0) ** 2))


def lit_pupil_mm(
    luminance: ArrayLike, field_deg: ArrayLike, age_years: ArrayLike, eyes: int = 1
) -> Floats:
    """Diameter of the pupil of an eye that looks at a lit field, mm.

    ``F = L a e``; ``s = (F / 846)^0.41``; ``D0 = 7.75 - 5.75 s / (s + 2)``;
    ``D = D0 + (age - 28.58) (0.02132 - 0.009562 D0)``.

    ``luminance``: L in cd/m^2, from 0; ``field_deg``: diameter of the round field, so a is its
    area in square degrees; ``age_years``: 20..83; ``eyes``: 1 (e = 0.1) or 2 (e = 1).
    Scalars or arrays, broadcast. Raises: ModelRangeError for ages outside, or other eyes.
    Source: Watson & Yellott 2012, Journal of Vision 12(10), 12, unified formula.
    Limits: a mean over people. In the dark it gives 1.3 mm more than Schaefer's
    formula at 20 years and 0.2 mm more at 60.
    """
    if eyes not in (1, 2):
        raise ModelRangeError(f"an observer looks with 1 or 2 eyes, not {eyes}")
    ages = _ages(age_years, UNIFIED_AGE_RANGE_YEARS)
    area_deg2 = 0.25 * np.pi * np.asarray(field_deg, dtype=float) ** 2
    flux = np.asarray(luminance, dtype=float) * area_deg2 * (0.1 if eyes == 1 else 1.0)
    closing = (flux / 846.0) ** 0.41
    young = 7.75 - 5.75 * closing / (closing + 2.0)
    return np.asarray(young + (ages - _REFERENCE_AGE_YEARS) * (0.02132 - 0.009562 * young))
