"""Which of the owner's views suits a purpose, or a wanted exit pupil, and why."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import Profile, view_limit_mag
from planner.eye.surface import surface_brightness_limit
from planner.optics.light import used_aperture_mm
from planner.verdict.powers import SEEING_COMFORT_ARCSEC
from planner.verdict.scope.view_summary import darker_sky_mag

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

GALAXY_MAG, GALAXY_ARCMIN = 11.0, (3.0, 1.5)  # a typical bright catalogue galaxy
NEBULA_SURFACE_MAG, NEBULA_ARCMIN = 22.5, 30.0  # per square arcsec; a large, faint, round patch
EQUAL_MAG, EQUAL_SHARE = 0.2, 0.1  # less is lost in the models' uncertainty
MOST_OF_FIELD = 0.7  # wider, and no dark sky shows beside it: common practice, no source
PLANET_EXIT_PUPILS_MM = (1.2, 0.7)  # common practice, no source
STEADY_MOMENTS = 1.5  # a double shows in the best moments of air: common practice, no source
DOUBLE_EXIT_PUPILS_MM = (1.0, 1.0 / 1.6)  # power D to 1.6 D in mm: common practice, no source


class Purpose(StrEnum):
    """What the observer wants to look at."""

    GALAXIES = "galaxies"
    NEBULAE = "nebulae"
    PLANETS = "planets"
    DOUBLES = "doubles"
    SWEEPING = "sweeping"


@dataclass(frozen=True, slots=True)
class RankedView:
    """A view, its score (more is better) with the unit in words, and the reason in words.

    Scores that differ by less than ``equal_within`` are equals.
    """

    view: View
    score: float
    unit: str
    equal_within: float
    reason: str


def rank_for_purpose(
    setup: Setup, views: Sequence[View], purpose: Purpose
) -> tuple[RankedView, ...]:
    """The views from the best for a purpose to the worst.

    Galaxies and nebulae: magnitudes above the threshold of a typical target (Crumey 2014).
    Planets and doubles: nearness to the customary power, which seeing may lower. Sweeping: true
    field times the share of the aperture that the eye uses. Views below the observer's least
    exit pupil are left out unless there are no others.
    """
    least = setup.observer.least_exit_pupil_mm
    usable = [view for view in views if view.exit_pupil_mm >= least] or list(views)
    return _sorted(_RULES[purpose](setup, usable))


def rank_by_exit_pupil(views: Sequence[View], exit_pupil_mm: float) -> tuple[RankedView, ...]:
    """The views from the nearest to a wanted exit pupil (mm, above 0) to the farthest, by ratio."""
    ranked = []
    for view in views:
        ratio = view.exit_pupil_mm / exit_pupil_mm
        side = "brighter, less power" if ratio > 1.0 else "darker, more power"
        how = "as wanted" if abs(ratio - 1.0) < 0.005 else f"{max(ratio, 1 / ratio):.2f}x {side}"
        reason = f"exit pupil {view.exit_pupil_mm:.2f} mm for {exit_pupil_mm:g} mm: {how}"
        score = min(ratio, 1.0 / ratio)
        ranked.append(RankedView(view, score, "1 is the exit pupil asked for", 0.0, reason))
    return _sorted(ranked)


def _sorted(ranked: Sequence[RankedView]) -> tuple[RankedView, ...]:
    """Best first; equals in the order of power, whatever the order given."""
    return tuple(
        sorted(ranked, key=lambda r: (-round(r.score, 9), r.view.magnification, r.view.name))
    )


def _exit_pupils(views: Sequence[View]) -> Floats:
    """Exit pupils of the views, mm."""
    return np.array([view.exit_pupil_mm for view in views])


def _galaxies(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Magnitudes by which a typical galaxy with a bulge lies above the threshold."""
    length, width = GALAXY_ARCMIN
    axes = (np.array([length]), np.array([width]), np.array([length]))
    eye, sky = setup.eye, np.array([[setup.zenith_sky_mag]])
    limits = [
        view_limit_mag(Profile.BULGE, eye, view.exit_pupil_mm, axes, sky)[0, 0] for view in views
    ]
    margins = np.array(limits) - setup.zenith_loss_mag - GALAXY_MAG
    what = f"a galaxy of mag {GALAXY_MAG:g}, {length:g}' x {width:g}', with a bright middle"
    return _margins(setup, views, margins, np.full(len(views), length), what)


def _nebulae(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Magnitudes by which a large faint patch, or what fits of it, lies above the threshold.

    White light: the line light of emission nebulae and their filters are not in the model.
    """
    fields = np.array([view.true_field_deg for view in views]) * 60.0
    sizes = np.minimum(NEBULA_ARCMIN, MOST_OF_FIELD * fields)
    limits = surface_brightness_limit(
        setup.eye, _exit_pupils(views), setup.zenith_sky_mag, np.pi / 4.0 * sizes**2
    )
    margins = limits - setup.zenith_loss_mag - NEBULA_SURFACE_MAG
    what = f"a white patch of {NEBULA_ARCMIN:g}', {NEBULA_SURFACE_MAG:g} mag per square arcsecond"
    ranked = _margins(setup, views, margins, sizes, what)
    return [
        r if size >= NEBULA_ARCMIN else replace(r, reason=f"too large for the field; {r.reason}")
        for r, size in zip(ranked, sizes, strict=True)
    ]


def _margins(
    setup: Setup, views: Sequence[View], margins: Floats, sizes_arcmin: Floats, what: str
) -> list[RankedView]:
    """Views scored by a margin in magnitudes, with what the eye meets as the reason."""
    darker = darker_sky_mag(setup, _exit_pupils(views))
    return [
        RankedView(
            view,
            float(margin),
            f"mag above the threshold for {what}",
            EQUAL_MAG,
            f"{size:.0f}' look {size * view.magnification / 60.0:.1f} deg across, "
            f"sky {dark:.1f} mag darker",
        )
        for view, margin, size, dark in zip(views, margins, sizes_arcmin, darker, strict=True)
    ]


def _planets(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to an exit pupil of 0.7 to 1.2 mm, as far as seeing bears it."""
    cap = SEEING_COMFORT_ARCSEC / setup.seeing_arcsec
    return _by_power(setup, views, PLANET_EXIT_PUPILS_MM, cap)


def _doubles(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to a power of 1 to 1.6 times the aperture in mm, as far as seeing bears it."""
    cap = STEADY_MOMENTS * SEEING_COMFORT_ARCSEC / setup.seeing_arcsec
    return _by_power(setup, views, DOUBLE_EXIT_PUPILS_MM, cap)


def _by_power(
    setup: Setup, views: Sequence[View], exit_pupils_mm: tuple[float, float], cap: float
) -> list[RankedView]:
    """Views scored by nearness to a span of powers that seeing lowers to ``cap``."""
    least, most = (setup.telescope.clear_aperture_mm / pupil for pupil in exit_pupils_mm)
    low, high = min(least, 0.8 * cap), min(most, cap)
    wanted = f"{low:.0f}x to {high:.0f}x wanted"
    if cap < most:
        wanted += f', no more in seeing of {setup.seeing_arcsec:.1f}"'
    return [_power_score(view, low, high, wanted) for view in views]


def _power_score(view: View, low: float, high: float, wanted: str) -> RankedView:
    """1 in the span of powers, less outside by ratio; within it the middle is a touch better."""
    power = view.magnification
    inside = min(1.0, power / low, high / power)
    off_middle = abs(np.log(power / np.sqrt(low * high)))
    score = float(inside * (1.0 - 0.05 * min(1.0, off_middle)))
    side = "too low" if power < low else "too high" if power > high else "right"
    return RankedView(view, score, "1 is the power wanted", EQUAL_SHARE, f"{side}: {wanted}")


def _sweeping(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """True field times the share of the aperture that enters the eye."""
    aperture = setup.telescope.clear_aperture_mm
    used = used_aperture_mm(aperture, _exit_pupils(views), setup.observer.dark_pupil_mm)
    return [
        RankedView(
            view,
            float(view.true_field_deg * mm / aperture),
            "degrees of field x share of the aperture used",
            EQUAL_SHARE,
            f"{view.true_field_deg:.2f} deg of sky, {mm:.0f} of {aperture:.0f} mm aperture used",
        )
        for view, mm in zip(views, used, strict=True)
    ]


_RULES: dict[Purpose, Callable[[Setup, Sequence[View]], list[RankedView]]] = {
    Purpose.GALAXIES: _galaxies,
    Purpose.NEBULAE: _nebulae,
    Purpose.PLANETS: _planets,
    Purpose.DOUBLES: _doubles,
    Purpose.SWEEPING: _sweeping,
}
