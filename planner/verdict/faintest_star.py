"""The faintest star overhead for this eye and telescope, by two models and an old rule."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.second_opinion import NIGHT_EXTINCTION, schaefer_limit_mag
from planner.eye.stars import EyeAtTelescope, telescopic_limit_mag

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FaintestStar:
    """The faintest star overhead at one exit pupil.

    ``by_model`` pairs the name of a model and its V magnitude; their spread is the uncertainty.
    ``handbook_mag`` is an old yardstick beside them, which knows no sky, power or eye.
    """

    exit_pupil_mm: float
    by_model: tuple[tuple[str, float], ...]
    handbook_mag: float

    @property
    def low_mag(self) -> float:
        """The cautious model's limit."""
        return min(mag for _, mag in self.by_model)

    @property
    def high_mag(self) -> float:
        """The hopeful model's limit."""
        return max(mag for _, mag in self.by_model)


def faintest_star(setup: Setup, exit_pupils_mm: ArrayLike) -> FaintestStar:
    """The faintest star at the best of some exit pupils (mm), with the spread of models.

    Exit pupils below the observer's least are passed over unless there are no others.
    """
    pupils = np.atleast_1d(np.asarray(exit_pupils_mm, dtype=float))
    liked = pupils[pupils >= setup.observer.least_exit_pupil_mm]
    pupils = liked if liked.size else pupils
    limits = faintest_star_mag(setup, pupils)
    best = int(np.argmax(limits))
    return FaintestStar(
        exit_pupil_mm=float(pupils[best]),
        by_model=(
            ("Crumey", float(limits[best])),
            ("Schaefer", float(second_faintest_star_mag(setup, pupils[best]))),
        ),
        handbook_mag=handbook_faintest_mag(setup.telescope.clear_aperture_mm),
    )


def faintest_star_mag(setup: Setup, exit_pupil_mm: ArrayLike) -> Floats:
    """Catalogue V of the faintest star at the zenith, for exit pupils in mm (any shape).

    Crumey's telescopic limit, less the air's loss unless the observer's factor contains it.
    Source: Crumey 2014, MNRAS 442, 2600, eq. 68. About +-0.5 mag from person to person.
    """
    limits = telescopic_limit_mag(setup.eye, exit_pupil_mm, setup.zenith_sky_mag)
    return np.asarray(limits - setup.zenith_loss_mag)


def second_faintest_star_mag(setup: Setup, exit_pupil_mm: ArrayLike) -> Floats:
    """The same by an older model of an average eye, which ignores the observer's factor.

    Source: Schaefer 1990, PASP 102, 212; commonly a few tenths more hopeful at high power.
    """
    return schaefer_limit_mag(
        setup.eye,
        exit_pupil_mm,
        setup.zenith_sky_mag,
        setup.extinction_mag / NIGHT_EXTINCTION,  # ours is the night eye's, his the V band's
    )


def star_spread_mag(eye: EyeAtTelescope, exit_pupil_mm: ArrayLike, sky_mag: ArrayLike) -> Floats:
    """By how much the two models of the faintest star differ, magnitudes; broadcast.

    ``sky_mag``: V mag/arcsec^2 behind the star. Taken as the uncertainty of a star limit.
    """
    first = telescopic_limit_mag(eye, exit_pupil_mm, sky_mag)
    return np.asarray(np.abs(schaefer_limit_mag(eye, exit_pupil_mm, sky_mag) - first))


def handbook_faintest_mag(aperture_mm: float) -> float:
    """The old handbook rule ``2.7 + 5 log10 D[mm]``: dark sky, high power, a practised eye.

    Source: common handbook table (150 mm: 13.6).
    """
    return float(2.7 + 5.0 * np.log10(aperture_mm))
