"""Which eyepiece for the Moon and planets, and whether a planet stands out of its sky."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import telescopic_limit_mag
from planner.verdict.faintest_star import eye_at_telescope
from planner.verdict.instrument import SEEING_COMFORT_ARCSEC

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from planner.optics.view import View
    from planner.verdict.instrument import Setup

    Floats = NDArray[np.float64]

LEAST_PLANET_PUPIL_MM = 0.6  # floaters and dimness below it; common practice, no source
MOON_FIELD_DEG = 0.6  # holds the whole Moon (at most 0.56 deg) with a little room


def planet_view(setup: Setup, views: Sequence[View], line_of_sight_seeing_arcsec: float) -> int:
    """Index of the highest power at which a star blurred by the seeing does not look soft.

    Exit pupils under 0.6 mm (or the observer's least) are left out where there is a choice.
    """
    least = max(LEAST_PLANET_PUPIL_MM, setup.observer.least_exit_pupil_mm)
    most = SEEING_COMFORT_ARCSEC / line_of_sight_seeing_arcsec
    fit = [
        index
        for index, view in enumerate(views)
        if view.exit_pupil_mm >= least and view.magnification <= most
    ]
    if fit:
        return max(fit, key=lambda index: views[index].magnification)
    return min(range(len(views)), key=lambda index: views[index].magnification)


def whole_moon_view(views: Sequence[View]) -> int:
    """Index of the highest power whose field holds the whole Moon, else of the widest field."""
    fit = [index for index, view in enumerate(views) if view.true_field_deg >= MOON_FIELD_DEG]
    if fit:
        return max(fit, key=lambda index: views[index].magnification)
    return max(range(len(views)), key=lambda index: views[index].true_field_deg)


def body_margin_mag(
    setup: Setup, view: View, magnitude: ArrayLike, airmass: ArrayLike, sky_mu: ArrayLike
) -> Floats:
    """Magnitudes by which a body, taken as a star, outshines the limit of its sky; broadcast.

    Limits: a planet's disc is no point; in bright twilight expect about 0.5 mag either way.
    """
    limit = telescopic_limit_mag(eye_at_telescope(setup), view.exit_pupil_mm, sky_mu)
    return np.asarray(limit - np.asarray(magnitude, float) - setup.dimming_mag(airmass))
