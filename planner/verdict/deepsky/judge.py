"""Does this telescope show a cluster, nebula or galaxy, how surely, and what limits it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.kind import Kind
from planner.verdict.deepsky.glow import glow_of, has_bright_part
from planner.verdict.deepsky.limits import limiting_conditions
from planner.verdict.deepsky.margins import (
    deepsky_margins,
    deepsky_tables,
    hopeless_from_mag,
    margin_uncertainty_mag,
)
from planner.verdict.deepsky.open_clusters import member_mag
from planner.verdict.deepsky.profiles import seen_by_stars
from planner.verdict.steps import Step, steps
from planner.verdict.verdicts import Curve, Limit, MarginUnit, Verdicts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky.margins import DeepSkyTables
    from planner.verdict.deepsky.small_views import SmallView
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyDetail:
    """What only deep-sky objects have; arrays are (N,).

    ``by_stars`` marks what is judged by its stars, ``nebula_unknown`` nebulae among them, of
    whose own light nothing is known; ``overflows`` objects larger than every field.
    ``star_limit_mag`` and ``best_star_limit_mag`` are the catalogue's V of the faintest star
    there, in the view chosen and in the best for stars.
    """

    by_stars: Bools
    nebula_unknown: Bools
    overflows: Bools
    star_limit_mag: Floats
    best_star_limit_mag: Floats


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyJudge:
    """Judges deep-sky objects with one setup, in the best of its views and filters.

    Views beyond those of the telescope are the finders and the bare eye, ``small``.
    """

    setup: Setup
    tables: DeepSkyTables

    @classmethod
    def of(
        cls,
        setup: Setup,
        views: Sequence[View],
        filters: Sequence[Filter],
        small: Sequence[SmallView] = (),
    ) -> DeepSkyJudge:
        """Work out the tables; about a tenth of a second."""
        return cls(setup, deepsky_tables(setup, views, filters, small))

    def bright_enough(self, objects: DeepSky) -> Bools:
        """Which objects (N,) could show at all, overhead, were their light that of a star."""
        light = np.where(seen_by_stars(objects), member_mag(objects), glow_of(objects).mag)
        overhead = light + self.setup.zenith_loss_mag
        return np.asarray(overhead < hopeless_from_mag(self.tables, self.setup.zenith_sky_mag))

    def curve(self, objects: DeepSky, lines: Sightlines) -> Curve:
        """Margins of N objects at T moments."""
        dimming = self.setup.dimming_mag(lines.airmass)
        found = deepsky_margins(self.tables, objects, dimming, lines.sky_mag)
        return Curve(found.margin_mag, found.view, found.filter_index)

    def judge(
        self, objects: DeepSky, lines: Sightlines, *, causes: bool = True
    ) -> Verdicts[DeepSkyDetail]:
        """Objects (N,), each at one moment. The margin is in magnitudes.

        Without ``causes`` what limits them is not looked for, which takes the most time.
        """
        dimming = self.setup.dimming_mag(lines.airmass)
        found = deepsky_margins(self.tables, objects, dimming[:, None], lines.sky_mag[:, None])
        margin, view = found.margin_mag[:, 0], found.view[:, 0]
        by_stars = seen_by_stars(objects)
        known = ~np.isnan(np.where(by_stars, objects.member_v_mag, np.nan))
        known |= ~np.isnan(objects.v_mag) | has_bright_part(objects)
        uncertainty = margin_uncertainty_mag(self.tables, objects, view, lines.sky_mag)
        limits = np.full(len(objects), Limit.NOTHING, dtype=np.int8)
        if causes:
            limits = limiting_conditions(self.setup, self.tables, objects, lines)
        stars = self.tables.stars
        return Verdicts(
            step=np.where(known, steps(margin, uncertainty), Step.UNKNOWN).astype(np.int8),
            shown=margin >= 0.0,
            limit=np.where(known, limits, Limit.UNKNOWN_BRIGHTNESS).astype(np.int8),
            margin=margin,
            uncertainty=uncertainty,
            unit=MarginUnit.MAGNITUDES,
            view=view,
            filter_index=found.filter_index[:, 0],
            detail=DeepSkyDetail(
                by_stars=by_stars,
                nebula_unknown=by_stars & (objects.kind == Kind.NEBULA),
                overflows=found.overflows,
                star_limit_mag=self.tables.star_limit_mag(view, lines.sky_mag) - dimming,
                best_star_limit_mag=stars.best_mag(lines.sky_mag) - dimming,
            ),
        )
