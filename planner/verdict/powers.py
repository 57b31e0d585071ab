"""The powers between which a telescope is of use, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.optics.resolution import dawes_arcsec

if TYPE_CHECKING:
    from planner.verdict.setup import Setup

EYE_COMFORT_ARCSEC = 120.0  # two points 2' apart are easy; acuity 1': common practice, no source
SEEING_COMFORT_ARCSEC = 300.0  # a star blurred to 5' looks plainly soft: common practice, no source


@dataclass(frozen=True, slots=True)
class PowerBound:
    """A magnification and why it is a bound."""

    magnification: float
    reason: str


def lowest_power(setup: Setup) -> PowerBound:
    """The power whose exit pupil just fills the observer's dark pupil."""
    pupil = setup.observer.dark_pupil_mm
    return PowerBound(
        setup.telescope.clear_aperture_mm / pupil,
        f"below it the exit pupil is wider than your own ({pupil:.1f} mm) and aperture is wasted",
    )


def highest_powers(setup: Setup) -> tuple[PowerBound, ...]:
    """The powers beyond which nothing is gained, each for its own reason, lowest first.

    Seeing: a star spread to 5' looks plainly soft. Eye: Dawes's separation spread to 2' is easy
    to see. Light: the observer's own least exit pupil. Source: common practice, no source.
    """
    aperture = setup.telescope.clear_aperture_mm
    dawes = float(dawes_arcsec(aperture))
    least = setup.observer.least_exit_pupil_mm
    bounds = (
        PowerBound(
            SEEING_COMFORT_ARCSEC / setup.seeing_arcsec,
            f"seeing of {setup.seeing_arcsec:.1f}\" blurs a star to 5', which looks plainly soft",
        ),
        PowerBound(
            EYE_COMFORT_ARCSEC / dawes,
            f"Dawes's {dawes:.2f}\" is spread to 2', which the eye splits with ease",
        ),
        PowerBound(aperture / least, f"the exit pupil shrinks to your least, {least:g} mm"),
    )
    return tuple(sorted(bounds, key=lambda bound: bound.magnification))
