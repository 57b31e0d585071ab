"""The powers between which a telescope is of use, and why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

from planner.optics.resolution import dawes_arcsec

if TYPE_CHECKING:
    from planner.verdict.setup import Setup

EYE_COMFORT_ARCSEC = 120.0  # two points 2' apart are easy; acuity 1': common practice, no source
SEEING_COMFORT_ARCSEC = 300.0  # a star blurred to 5' looks plainly soft: common practice, no source


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
