"""Which of the owner's views suits a purpose, or a wanted exit pupil, and why."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.margin_table import GLOBULAR_EXIT_PUPIL_MM
from planner.eye.profile import Profile, view_limit_mag
from planner.eye.surface import surface_brightness_limit
from planner.optics.light import used_aperture_mm
from planner.verdict.deepsky.filtering import WORTHWHILE_GAIN_MAG, patch_through
from planner.verdict.powers import (
    DOUBLE_EXIT_PUPILS_MM,
    PLANET_EXIT_PUPILS_MM,
    SEEING_COMFORT_ARCSEC,
    doubles_most,
    planets_most,
)
from planner.verdict.scope.ranked_view import (
    AboveThreshold,
    FaintTarget,
    Fit,
    NearExitPupil,
    NearPower,
    RankedView,
    SkySwept,
    WantedPowers,
)
from planner.verdict.scope.view_summary import darker_sky_mag

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

GALAXY_MAG, GALAXY_ARCMIN = 11.0, (3.0, 1.5)  # a typical bright catalogue galaxy
NEBULA_SURFACE_MAG, NEBULA_ARCMIN = 22.5, 30.0  # per square arcsec; a large, faint, round patch
EQUAL_MAG, EQUAL_SHARE = 0.2, 0.1  # less is lost in the models' uncertainty
MOST_OF_FIELD = 0.7  # wider, and no dark sky shows beside it: common practice, no source
PERFECT_AIR_ARCSEC = 1e-6  # bounds no power
LEAST_SHARE = 0.8  # of the most power wanted, where air or eye lower that; own judgement


class Purpose(StrEnum):
    """What the observer wants to look at."""

    GALAXIES = "galaxies"
    GLOBULARS = "globulars"
    NEBULAE = "nebulae"
    PLANETS = "planets"
    DOUBLES = "doubles"
    SWEEPING = "sweeping"


def rank_for_purpose(
    setup: Setup, views: Sequence[View], purpose: Purpose, filters: Sequence[Filter] = ()
) -> tuple[RankedView, ...]:
    """The views from the best for a purpose to the worst.

    Galaxies and nebulae: magnitudes above the threshold of a typical target (Crumey 2014), a
    nebula with the best of the filters or none. Globular clusters: nearness to the exit pupil
    at which their stars come out, as at night, or to the most power that the seeing bears.
    Planets and doubles: the highest power that aperture, eye and air bear, as at night for a
    planet or a close pair overhead. Sweeping: true field times the share of the aperture that
    the eye uses. Views below the observer's least exit pupil are left out unless there are no
    others.
    """
    least = setup.observer.least_exit_pupil_mm
    usable = [view for view in views if view.exit_pupil_mm >= least] or list(views)
    if purpose is Purpose.NEBULAE:
        return _sorted(_nebulae(setup, usable, filters))
    return _sorted(_RULES[purpose](setup, usable))


def rank_by_exit_pupil(views: Sequence[View], exit_pupil_mm: float) -> tuple[RankedView, ...]:
    """The views from the nearest to a wanted exit pupil (mm, above 0) to the farthest, by ratio."""
    ratios = [view.exit_pupil_mm / exit_pupil_mm for view in views]
    return _sorted(
        [
            RankedView(view, min(ratio, 1.0 / ratio), 0.0, NearExitPupil(exit_pupil_mm, ratio))
            for view, ratio in zip(views, ratios, strict=True)
        ]
    )


def doubles_powers(setup: Setup) -> WantedPowers:
    """From the clear aperture in mm to the most that close doubles bear overhead."""
    return _wanted(setup, DOUBLE_EXIT_PUPILS_MM, doubles_most)


def planets_powers(setup: Setup) -> WantedPowers:
    """From that of an exit pupil of 1.2 mm to the most that planets bear overhead."""
    return _wanted(setup, PLANET_EXIT_PUPILS_MM, planets_most)


def _wanted(
    setup: Setup,
    exit_pupils_mm: tuple[float, float],
    most_power: Callable[[Setup, float], Floats],
) -> WantedPowers:
    """The power of the wider exit pupil, or 0.8 of the most borne in tonight's seeing, to that."""
    most = float(most_power(setup, setup.seeing_arcsec))
    least = min(setup.telescope.clear_aperture_mm / exit_pupils_mm[0], LEAST_SHARE * most)
    return WantedPowers(least, most, most < float(most_power(setup, PERFECT_AIR_ARCSEC)))


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
    return _margins(setup, views, margins, np.full(len(views), length), FaintTarget.GALAXY)


def _globulars(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to the exit pupil that globular clusters want, within what the seeing bears."""
    aperture = setup.telescope.clear_aperture_mm
    steady = aperture * setup.seeing_arcsec / SEEING_COMFORT_ARCSEC
    return list(rank_by_exit_pupil(views, max(GLOBULAR_EXIT_PUPIL_MM, steady)))


def _nebulae(setup: Setup, views: Sequence[View], filters: Sequence[Filter]) -> list[RankedView]:
    """Magnitudes by which a large faint patch, or what fits of it, lies above the threshold.

    Each view with the filter that lets an emission nebula with the usual share of its light in
    the lines show best, or with none.
    """
    fields = np.array([view.true_field_deg for view in views]) * 60.0
    sizes = np.minimum(NEBULA_ARCMIN, MOST_OF_FIELD * fields)
    names: list[str | None] = [None]
    margins = [_patch_margins(setup, views, sizes, 0.0)]
    for used in filters:
        darker, lost = patch_through(used)
        names.append(used.name)
        margins.append(_patch_margins(setup, views, sizes, darker) - lost)
    best = np.argmax(np.stack(margins), axis=0)
    found = np.stack(margins)[best, np.arange(len(views))]
    worth = found >= margins[0] + WORTHWHILE_GAIN_MAG
    ranked = _margins(setup, views, np.where(worth, found, margins[0]), sizes, FaintTarget.PATCH)
    return [
        replace(one, reason=replace(one.reason, filter_name=names[index] if named else None))
        for one, index, named in zip(ranked, best.tolist(), worth.tolist(), strict=True)
        if isinstance(one.reason, AboveThreshold)
    ]


def _patch_margins(
    setup: Setup, views: Sequence[View], sizes_arcmin: Floats, darker_mag: float
) -> Floats:
    """Magnitudes in hand in each view on a sky so much darker."""
    limits = surface_brightness_limit(
        setup.eye,
        _exit_pupils(views),
        setup.zenith_sky_mag + darker_mag,
        np.pi / 4.0 * sizes_arcmin**2,
    )
    return np.asarray(limits - setup.zenith_loss_mag - NEBULA_SURFACE_MAG)


def _margins(
    setup: Setup, views: Sequence[View], margins: Floats, sizes_arcmin: Floats, target: FaintTarget
) -> list[RankedView]:
    """Views scored by a margin in magnitudes, with what the eye meets as the reason."""
    whole = NEBULA_ARCMIN if target is FaintTarget.PATCH else GALAXY_ARCMIN[0]
    darker = darker_sky_mag(setup, _exit_pupils(views))
    return [
        RankedView(
            view,
            float(margin),
            EQUAL_MAG,
            AboveThreshold(
                target=target,
                size_arcmin=float(size),
                looks_deg=float(size * view.magnification / 60.0),
                sky_darker_mag=float(dark),
                overflows=bool(size < whole),
            ),
        )
        for view, margin, size, dark in zip(views, margins, sizes_arcmin, darker, strict=True)
    ]


def _planets(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to the most power that planets bear."""
    return _power_scores(views, planets_powers(setup))


def _doubles(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to the most power that close doubles bear."""
    return _power_scores(views, doubles_powers(setup))


def _power_scores(views: Sequence[View], wanted: WantedPowers) -> list[RankedView]:
    """The share of the most power wanted; past that as far the other way, below the best within."""
    shares = [view.magnification / wanted.most for view in views]
    within = max((share for share in shares if share <= 1.0), default=1.0)
    scores = [share if share <= 1.0 else within / share for share in shares]
    return [
        RankedView(view, score, EQUAL_SHARE, NearPower(wanted, _fit(view, wanted)))
        for view, score in zip(views, scores, strict=True)
    ]


def _fit(view: View, wanted: WantedPowers) -> Fit:
    """Where a view's power lies against those wanted."""
    if view.magnification < wanted.least:
        return Fit.TOO_LOW
    return Fit.TOO_HIGH if view.magnification > wanted.most else Fit.RIGHT


def _sweeping(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """True field times the share of the aperture that enters the eye."""
    aperture = setup.telescope.clear_aperture_mm
    used = used_aperture_mm(aperture, _exit_pupils(views), setup.observer.dark_pupil_mm)
    return [
        RankedView(
            view,
            float(view.true_field_deg * mm / aperture),
            EQUAL_SHARE,
            SkySwept(float(mm), aperture),
        )
        for view, mm in zip(views, used, strict=True)
    ]


_RULES: dict[Purpose, Callable[[Setup, Sequence[View]], list[RankedView]]] = {
    Purpose.GALAXIES: _galaxies,
    Purpose.GLOBULARS: _globulars,
    Purpose.PLANETS: _planets,
    Purpose.DOUBLES: _doubles,
    Purpose.SWEEPING: _sweeping,
}
