"""Does this telescope split a pair tonight, how, in which eyepiece, and what limits it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import telescopic_limit_mag
from planner.verdict.faintest_star import eye_at_telescope
from planner.verdict.split_choice import (
    LimitingFactor,
    choose_view_tonight,
    in_view,
    limiting_factor,
    tonight_class,
)
from planner.verdict.split_lookup import (
    PairInput,
    SplitConditions,
    ViewChoice,
    worst_seeing,
    worst_seeing_in,
)
from planner.verdict.split_profiles import SplitInstrument

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.verdict.instrument import Setup
    from planner.verdict.split_tables import SplitTables

    Floats = NDArray[np.float64]

LIMIT_WORDS = {
    LimitingFactor.NOTHING: "",
    LimitingFactor.COMPANION_TOO_FAINT: "companion too faint",
    LimitingFactor.POWER_TOO_LOW: "power too low",
    LimitingFactor.ALTITUDE: "altitude",
    LimitingFactor.SEEING: "seeing",
    LimitingFactor.GLARE: "glare",
    LimitingFactor.RESOLUTION: "resolution",
}


@dataclass(frozen=True, slots=True, eq=False)
class PairMoments:
    """P pairs, each at its own moment: airmass, sky behind it and the air's spectrum along it.

    ``sky_mu`` in mag per square arcsecond, ``dispersion_along_arcsec`` the length of the
    spectrum projected on the line between the stars.
    """

    pairs: PairInput
    airmass: Floats
    sky_mu: Floats
    dispersion_along_arcsec: Floats


@dataclass(frozen=True, slots=True, eq=False)
class PairVerdicts:
    """For P pairs: the view chosen, the worst zenith seeing there (P, C), class and limit."""

    view: NDArray[np.intp]
    worst_seeing_arcsec: NDArray[np.float32]
    split_class: NDArray[np.int8]
    limit: NDArray[np.int8]


def split_instrument(setup: Setup) -> SplitInstrument:
    """What of the setup forms the image of a double star."""
    telescope = setup.telescope
    return SplitInstrument(
        clear_aperture_mm=telescope.clear_aperture_mm,
        obstruction_ratio=telescope.obstruction_ratio,
        figure=telescope.figure,
        age_years=setup.observer.age_years,
    )


def judge_pairs(
    setup: Setup, views: Sequence[View], tables: SplitTables, moments: PairMoments
) -> PairVerdicts:
    """Judge pairs in the views that the tables were built for, in the same order."""
    exit_pupils = np.array([view.exit_pupil_mm for view in views])
    conditions = _conditions(setup, views, moments)
    worst = worst_seeing(tables, moments.pairs, conditions)
    least, seeing = setup.observer.least_exit_pupil_mm, setup.seeing_arcsec
    chosen = choose_view_tonight(worst, tables.powers, exit_pupils, least, seeing)
    there = in_view(worst, chosen)
    return PairVerdicts(
        view=chosen,
        worst_seeing_arcsec=there,
        split_class=tonight_class(there, seeing),
        limit=limiting_factor(tables, moments.pairs, conditions, chosen, worst.max(axis=1), seeing),
    )


def worst_in_view(
    setup: Setup,
    views: Sequence[View],
    tables: SplitTables,
    moments: PairMoments,
    view: NDArray[np.intp],
) -> NDArray[np.float32]:
    """Worst zenith seeing (P, C) of pairs, each in a view already chosen, (P,)."""
    conditions = _conditions(setup, views, moments)
    return worst_seeing_in(tables, moments.pairs, conditions, ViewChoice(view))


def _conditions(setup: Setup, views: Sequence[View], moments: PairMoments) -> SplitConditions:
    exit_pupils = np.array([view.exit_pupil_mm for view in views])
    return SplitConditions(
        airmass=moments.airmass,
        extinction_mag=setup.extinction_mag,
        limiting_mag=zenith_limits_mag(setup, exit_pupils, moments.sky_mu),
        dispersion_along_arcsec=moments.dispersion_along_arcsec,
    )


def zenith_limits_mag(setup: Setup, exit_pupils_mm: Floats, sky_mu: Floats) -> Floats:
    """Catalogue V of the faintest star, as if overhead: (P, V) for skies (P,), views (V,)."""
    limits = telescopic_limit_mag(
        eye_at_telescope(setup), exit_pupils_mm[None, :], np.asarray(sky_mu)[:, None]
    )
    return np.asarray(limits - setup.zenith_loss_mag)
