"""Does this telescope split a pair tonight, how, in which eyepiece, and what limits it?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import telescopic_limit_mag
from planner.sky.seeing import line_of_sight_fwhm
from planner.verdict.glass_doubt import doubtful_glass
from planner.verdict.pairs.choice import (
    PowersBorne,
    allowed_views,
    choose_view,
    in_view,
    limiting_factor,
    tonight_class,
)
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.lookup import (
    SplitConditions,
    StarPairs,
    ViewChoice,
    blurs_needed,
    limiting_seeing,
    limiting_seeing_in,
)
from planner.verdict.pairs.profiles import SplitInstrument
from planner.verdict.pairs.spectrum import SiteAir
from planner.verdict.pairs.tables import SplitViews, build_split_tables
from planner.verdict.powers import doubles_most, well_apart_power
from planner.verdict.steps import Step
from planner.verdict.verdicts import NO_FILTER, Curve, Limit, MarginUnit, Verdicts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.targets.pairs import Pairs
    from planner.verdict.pairs.tables import SplitTables
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SHOWN_FROM = SplitClass.NOTCHED  # an elongated star is not yet a double to go out for
SEEING_UNCERTAINTY_SHARE = 0.15  # of the image model; docs/models.md
LEAST_UNCERTAINTY_ARCSEC = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class PairDetail:
    """What only pairs have: class tonight (N,), worst zenith seeing of each class (N, C)."""

    split_class: NDArray[np.int8]
    limiting_seeing_arcsec: NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class PairJudge:
    """Judges pairs in the views that the tables were built for, in the same order."""

    setup: Setup
    views: Sequence[View]
    tables: SplitTables
    air: SiteAir

    def judge(
        self,
        pairs: Pairs,
        lines: Sightlines,
        parallactic_angle_deg: Floats,
        *,
        causes: bool = True,
    ) -> Verdicts[PairDetail]:
        """Pairs (N,), each at one moment; see ``judge_pairs``."""
        sky = self._conditions(pairs, lines, parallactic_angle_deg)
        return judge_pairs(self.setup, self.views, self.tables, pairs, sky, causes=causes)

    def curve(
        self,
        pairs: Pairs,
        lines: Sightlines,
        parallactic_angle_deg: Floats,
        view: Ints | None = None,
    ) -> Curve:
        """The margins of pairs (N,), each at one moment, as ``judge`` has them.

        In the view that is best then, or in those given, (N,).
        """
        sky = self._conditions(pairs, lines, parallactic_angle_deg)
        if view is None:
            worst = limiting_seeing(self.tables, pairs, sky)
            view = _chosen_view(self.setup, self.views, self.tables, worst, pairs, sky)
            there = in_view(worst, view)
        else:
            there = limiting_seeing_in(self.tables, pairs, sky, ViewChoice(view))
        margin = there[:, SHOWN_FROM - 1].astype(float) - self.setup.seeing_arcsec
        return Curve(margin, view, np.full(len(view), NO_FILTER, dtype=np.intp))

    def tested_seeing(
        self, pairs: Pairs, lines: Sightlines, parallactic_angle_deg: Floats, view: int
    ) -> tuple[NDArray[np.float32], NDArray[np.float32]] | None:
        """Worst zenith seeing (N, C) in one view, the glass as poor and as good as its test allows.

        None without a mirror test, and where the difference is not felt. Pairs (N,), each at one
        moment.
        """
        band = doubtful_glass(self.setup.telescope)
        if not band.felt:
            return None
        sky = self._conditions(pairs, lines, parallactic_angle_deg)
        here = replace(sky, limiting_mag=np.asarray(sky.limiting_mag)[:, [view]])
        rows = ViewChoice(np.full(len(pairs.v1), view, dtype=np.intp))

        def worst(telescope: Telescope | None) -> NDArray[np.float32]:
            if telescope is None:
                return limiting_seeing_in(self.tables, pairs, sky, rows)
            return one_view_seeing(
                replace(self.setup, telescope=telescope), self.views[view], pairs, here
            )

        return worst(band.poor), worst(band.good)

    def _conditions(self, pairs: Pairs, lines: Sightlines, angle_deg: Floats) -> SplitConditions:
        path = lines.airmass
        along = self.air.along_arcsec(path, pairs.position_angle_deg, angle_deg)
        return split_conditions(self.setup, self.views, path, lines.sky_mag, along)


def split_instrument(setup: Setup) -> SplitInstrument:
    """What of the setup forms the image of a double star."""
    telescope = setup.telescope
    return SplitInstrument(
        clear_aperture_mm=telescope.clear_aperture_mm,
        obstruction_ratio=telescope.obstruction_ratio,
        figure=telescope.figure,
        age_years=setup.observer.age_years,
        tilt_followed=setup.settings.tilt_followed,
    )


def judge_pairs(
    setup: Setup,
    views: Sequence[View],
    tables: SplitTables,
    pairs: StarPairs,
    conditions: SplitConditions,
    *,
    causes: bool = True,
) -> Verdicts[PairDetail]:
    """Pairs (N,), of a catalog or a study, in the best of the views.

    The margin is the worst seeing in which a pair shows as two (notched), less tonight's.
    Without ``causes`` what limits them is not looked for, which takes the most time.
    """
    worst, seeing = limiting_seeing(tables, pairs, conditions), setup.seeing_arcsec
    chosen = _chosen_view(setup, views, tables, worst, pairs, conditions)
    there = in_view(worst, chosen)
    split_class = tonight_class(there, seeing)
    notched = there[:, SHOWN_FROM - 1].astype(float)
    uncertainty = np.maximum(LEAST_UNCERTAINTY_ARCSEC, SEEING_UNCERTAINTY_SHARE * notched)
    limit = np.full(len(chosen), Limit.NOTHING, dtype=np.int8)
    if causes:
        most = worst.max(axis=1)
        limit = limiting_factor(tables, pairs, conditions, chosen, most, seeing)
    return Verdicts(
        step=_steps(notched - seeing, uncertainty, split_class),
        shown=split_class >= SHOWN_FROM,
        limit=limit,
        margin=notched - seeing,
        uncertainty=uncertainty,
        unit=MarginUnit.SEEING,
        view=chosen,
        filter_index=np.full(len(chosen), NO_FILTER, dtype=np.intp),
        detail=PairDetail(split_class, there),
    )


def one_view_seeing(
    setup: Setup, view: View, pairs: StarPairs, conditions: SplitConditions
) -> NDArray[np.float32]:
    """Worst zenith seeing of each class (P, C) in one view, without any tables kept.

    Some 0.1 s for few pairs in like conditions. The conditions' limits are those of this view.
    """
    instrument = split_instrument(setup)
    power, pupil = [view.magnification], [view.exit_pupil_mm]
    only = SplitViews(instrument, np.array(power), np.array(pupil))
    tables = build_split_tables(instrument, power, pupil, blurs_needed(only, pairs, conditions))
    first = np.zeros(len(pairs.v1), dtype=np.intp)
    return limiting_seeing_in(tables, pairs, conditions, ViewChoice(first))


def _chosen_view(
    setup: Setup,
    views: Sequence[View],
    tables: SplitTables,
    worst: NDArray[np.float32],
    pairs: StarPairs,
    conditions: SplitConditions,
) -> Ints:
    """The view for each pair (N,) from its worst seeing in each of them, (N, V, C)."""
    exit_pupils = np.array([view.exit_pupil_mm for view in views])
    allowed = allowed_views(tables.powers, exit_pupils, setup.observer.least_exit_pupil_mm)
    along = line_of_sight_fwhm(setup.seeing_arcsec, conditions.airmass)
    borne = PowersBorne(doubles_most(setup, along), well_apart_power(pairs.separation_arcsec))
    return choose_view(worst, tables.powers, allowed, borne, setup.seeing_arcsec)


def split_conditions(
    setup: Setup,
    views: Sequence[View],
    airmass: Floats,
    sky_mag: Floats,
    dispersion_along_arcsec: Floats,
) -> SplitConditions:
    """What the setup's sky allows P pairs: their airmass, the sky behind and the air's spectrum.

    All three (P,): ``sky_mag`` per square arcsecond, ``dispersion_along_arcsec`` the spectrum's
    length projected on the line between the stars.
    """
    exit_pupils = np.array([view.exit_pupil_mm for view in views])
    return SplitConditions(
        airmass=airmass,
        extinction_mag=setup.extinction_mag,
        limiting_mag=zenith_limits_mag(setup, exit_pupils, sky_mag),
        dispersion_along_arcsec=dispersion_along_arcsec,
        companion_handicap_mag=setup.settings.companion_handicap_mag,
    )


def zenith_limits_mag(setup: Setup, exit_pupils_mm: Floats, sky_mag: Floats) -> Floats:
    """Catalogue V of the faintest star, as if overhead: (P, V) for skies (P,), views (V,)."""
    limits = telescopic_limit_mag(setup.eye, exit_pupils_mm[None, :], np.asarray(sky_mag)[:, None])
    return np.asarray(limits - setup.zenith_loss_mag)


def _steps(margin: Floats, uncertainty: Floats, split_class: NDArray[np.int8]) -> NDArray[np.int8]:
    """Borderline within the uncertainty; beyond it a clean split is plain."""
    seen = np.where(split_class == SplitClass.CLEAN, Step.PLAIN, Step.SEEN)
    far = np.where(margin > 0.0, seen, Step.NOT_SEEN)
    return np.where(np.abs(margin) <= uncertainty, Step.BORDERLINE, far).astype(np.int8)
