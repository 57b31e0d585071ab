"""The eye's pupil: how wide it opens in the dark, by age, and before a bright picture."""

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


_WIDE_FIELD_DEG2 = 2827.0  # a field 60 degrees across, as in the laboratories the law rests on
_LOG_STEPS = np.linspace(-4.0, 5.0, 361)


def laboratory_pupil_mm(luminance_cd_m2: ArrayLike) -> Floats:
    """Pupil of two eyes of 28.58 years before a field 60 degrees across, mm; any shape.

    ``7.75 - 5.75 F / (F + 2)``, ``F = (2827 L / 846)^0.41``, L in cd/m^2.
    Source: Watson & Yellott 2012, Journal of Vision 12(10):12, eqs 1 and 21.
    """
    flux = (_WIDE_FIELD_DEG2 * np.asarray(luminance_cd_m2, dtype=float) / 846.0) ** 0.41
    return np.asarray(7.75 - 5.75 * flux / (flux + 2.0))


def acting_luminance_cd_m2(retinal_td: ArrayLike) -> Floats:
    """Luminance that a laboratory eye would need for the same light on its retina, cd/m^2.

    ``retinal_td`` is luminance times the square of the pupil's diameter in mm, above 0, any shape:
    L with ``L p(L)^2`` equal to it. Through a small exit pupil bright things act dimmer.
    Source: Watson & Yellott 2012 for p; the light on the retina from geometry.
    """
    luminance = 10.0**_LOG_STEPS
    light = np.log10(luminance * laboratory_pupil_mm(luminance) ** 2)
    wanted = np.log10(np.maximum(np.asarray(retinal_td, dtype=float), 1e-6))
    return np.asarray(10.0 ** np.interp(wanted, light, _LOG_STEPS))
