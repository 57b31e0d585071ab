"""What one eyepiece, with or without a Barlow, does in this telescope for this eye."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.light import sky_dimming_mag, throughput_through_iris, wasted_aperture_mm
from planner.optics.view import drift_s
from planner.verdict.faintest_star import faintest_star_mag, second_faintest_star_mag

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]


class Use(Enum):
    """What a view is commonly used for, by its exit pupil, from the widest to the narrowest."""

    FINDING = auto()
    WIDE_FIELDS = auto()
    DEEP_SKY = auto()
    COMPACT_DEEP_SKY = auto()
    MOON_AND_SMALL_OBJECTS = auto()
    PLANETS_AND_DOUBLES = auto()
    CLOSE_DOUBLES = auto()
    LITTLE = auto()


# Smallest exit pupil in mm and what views from there up are used for. Common practice, no source.
USES = (
    (5.0, Use.FINDING),
    (3.0, Use.WIDE_FIELDS),
    (2.0, Use.DEEP_SKY),
    (1.3, Use.COMPACT_DEEP_SKY),
    (0.9, Use.MOON_AND_SMALL_OBJECTS),
    (0.65, Use.PLANETS_AND_DOUBLES),
    (0.5, Use.CLOSE_DOUBLES),
    (0.0, Use.LITTLE),
)


@dataclass(frozen=True, slots=True)
class ViewSummary:
    """One view in figures.

    ``faintest_mag`` is the faintest star overhead by Crumey's model, ``second_mag`` by
    Schaefer's; both say the catalogue's V. ``drift_s`` is for a star on the celestial equator.
    ``sky_dimming_mag`` is how much darker the sky looks than to the bare eye.
    """

    view: View
    drift_s: float
    faintest_mag: float
    second_mag: float
    sky_dimming_mag: float
    wasted_aperture_mm: float
    below_least_pupil: bool
    good_for: Use


def view_summaries(setup: Setup, views: Sequence[View]) -> tuple[ViewSummary, ...]:
    """A summary of each view, in the order given."""
    telescope, pupil = setup.telescope, setup.observer.dark_pupil_mm
    exit_pupils = np.array([view.exit_pupil_mm for view in views])
    columns = zip(
        views,
        drift_s([view.true_field_deg for view in views]),
        faintest_star_mag(setup, exit_pupils),
        second_faintest_star_mag(setup, exit_pupils),
        darker_sky_mag(setup, exit_pupils),
        wasted_aperture_mm(telescope.clear_aperture_mm, exit_pupils, pupil),
        strict=True,
    )
    return tuple(
        ViewSummary(
            view=view,
            drift_s=float(drift),
            faintest_mag=float(faintest),
            second_mag=float(second),
            sky_dimming_mag=float(darker),
            wasted_aperture_mm=float(wasted),
            below_least_pupil=view.exit_pupil_mm < setup.observer.least_exit_pupil_mm,
            good_for=good_for(view.exit_pupil_mm),
        )
        for view, drift, faintest, second, darker, wasted in columns
    )


def darker_sky_mag(setup: Setup, exit_pupil_mm: ArrayLike) -> Floats:
    """Magnitudes by which the sky is darker than to the bare eye; exit pupils in mm."""
    telescope, pupil = setup.telescope, setup.observer.dark_pupil_mm
    through = throughput_through_iris(
        telescope.transmission, telescope.obstruction_ratio, exit_pupil_mm, pupil
    )
    return sky_dimming_mag(exit_pupil_mm, pupil, through)


def good_for(exit_pupil_mm: float) -> Use:
    """What views of this exit pupil (mm, not below 0) are commonly used for."""
    return next(use for least, use in USES if exit_pupil_mm >= least)
