"""The powers between which a telescope is of use, and why; what planets and doubles want.

One rule for all who name an eyepiece: the highest power that the air, the image and the eye
bear, else the lowest there is. A wide pair wants no more than sets its stars well apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.resolution import dawes_arcsec

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

EYE_COMFORT_ARCSEC = 120.0  # two points 2' apart are easy; acuity 1': common practice, no source
SEEING_COMFORT_ARCSEC = 300.0  # a star blurred to 5' looks plainly soft: common practice, no source
STEADY_MOMENTS = 1.5  # a double shows in the best moments of air: common practice, no source
PLANET_EXIT_PUPILS_MM = (1.2, 0.7)  # common practice, no source
DOUBLE_EXIT_PUPILS_MM = (1.0, 1.0 / 1.6)  # power D to 1.6 D in mm: common practice, no source
WELL_APART_ARCMIN = 10.0  # two stars so far apart at the eye want no more; own judgement


class Bound(Enum):
    """Why less power, or more, is of no use.

    The exit pupil fills the eye's; seeing blurs a star; Dawes's separation is split with ease;
    the exit pupil shrinks to the observer's least.
    """

    EYE_PUPIL = auto()
    SEEING = auto()
    RESOLUTION = auto()
    LEAST_EXIT_PUPIL = auto()


@dataclass(frozen=True, slots=True)
class PowerBound:
    """A magnification and why it is a bound."""

    magnification: float
    bound: Bound


def lowest_power(setup: Setup) -> PowerBound:
    """The power whose exit pupil just fills the observer's dark pupil."""
    power = setup.telescope.clear_aperture_mm / setup.observer.dark_pupil_mm
    return PowerBound(power, Bound.EYE_PUPIL)


def highest_powers(setup: Setup) -> tuple[PowerBound, ...]:
    """The powers beyond which nothing is gained, each for its own reason, lowest first.

    Seeing: a star spread to 5' looks plainly soft. Eye: Dawes's separation spread to 2' is easy
    to see. Light: the observer's own least exit pupil. Source: common practice, no source.
    """
    aperture = setup.telescope.clear_aperture_mm
    bounds = (
        PowerBound(SEEING_COMFORT_ARCSEC / setup.seeing_arcsec, Bound.SEEING),
        PowerBound(EYE_COMFORT_ARCSEC / float(dawes_arcsec(aperture)), Bound.RESOLUTION),
        PowerBound(aperture / setup.observer.least_exit_pupil_mm, Bound.LEAST_EXIT_PUPIL),
    )
    return tuple(sorted(bounds, key=lambda bound: bound.magnification))


def planets_most(setup: Setup, seeing_arcsec: ArrayLike) -> Floats:
    """The most power that planets bear in seeing along the line of sight (above 0), any shape.

    The least of three: 0.7 mm of exit pupil, the observer's own least, and a star spread to 5'.
    Source: common practice, no source.
    """
    return _most(setup, PLANET_EXIT_PUPILS_MM[-1], 1.0, seeing_arcsec)


def doubles_most(setup: Setup, seeing_arcsec: ArrayLike) -> Floats:
    """The most power that close doubles bear in seeing along the line of sight, any shape.

    The least of three: 1.6 times the clear aperture in mm, where the diffraction image is large
    enough for any eye; the observer's least exit pupil; and a star spread to 5' in moments 1.5
    times as steady as the seeing. Source: common practice, no source.
    """
    return _most(setup, DOUBLE_EXIT_PUPILS_MM[-1], STEADY_MOMENTS, seeing_arcsec)


def well_apart_power(separation_arcsec: ArrayLike) -> Floats:
    """The power that sets two stars (arcsec, above 0, any shape) 10' apart at the eye."""
    return np.asarray(WELL_APART_ARCMIN * 60.0 / np.asarray(separation_arcsec, dtype=float))


def highest_up_to(powers: Floats, most: ArrayLike) -> Ints:
    """Index of the highest of the powers (V,) that is not above ``most``, else of the lowest.

    ``most`` has any shape, and so has the answer; NaN gives the lowest.
    """
    fit = powers <= np.asarray(most, dtype=float)[..., None]
    highest = np.argmax(np.where(fit, powers, 0.0), axis=-1)
    return np.asarray(np.where(fit.any(axis=-1), highest, np.argmin(powers)), dtype=np.intp)


def _most(setup: Setup, pupil_mm: float, steadier: float, seeing_arcsec: ArrayLike) -> Floats:
    """The least of what exit pupil, observer and air, so many times steadier, bear."""
    pupil = max(pupil_mm, setup.observer.least_exit_pupil_mm)
    air = steadier * SEEING_COMFORT_ARCSEC / np.asarray(seeing_arcsec, dtype=float)
    return np.minimum(setup.telescope.clear_aperture_mm / pupil, air)
