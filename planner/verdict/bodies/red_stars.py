"""Does this telescope show a red star, in which eyepiece, and what limits it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.threshold import colour_gain_mag
from planner.verdict.bodies.planets import body_margin_mag
from planner.verdict.causes import AMPLE_MARGIN_MAG, air_now, air_without, costliest
from planner.verdict.faintest_star import star_spread_mag
from planner.verdict.steps import LEAST_STAR_UNCERTAINTY_MAG, steps
from planner.verdict.verdicts import NO_FILTER, Curve, Limit, MarginUnit, Verdicts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.targets.red_stars import RedStars
    from planner.verdict.causes import Air
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]

REDDEST_BV = 2.0  # where the rule for a dark-adapted eye is no longer followed; own judgement
RANGE_SIGMAS = 4.0  # standard errors in the whole range of a variable; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class RedStarJudge:
    """Judges red stars as points of light in the middle of their range, with one setup.

    As seen by rods (``colour_gain_mag``). The view is the lowest power with plenty in hand, in
    which colour shows best beside the field's white stars, else the one that shows most. Limit: a
    Mira star may be magnitudes from the middle, which the uncertainty says.
    """

    setup: Setup
    views: Sequence[View]

    def curve(self, stars: RedStars, lines: Sightlines) -> Curve:
        """Margins, magnitudes, of stars (N,) on sightlines (N,) or (N, T), in the view chosen."""
        light = self._magnitude(stars)
        light = light.reshape(light.shape + (1,) * (lines.sky_mag.ndim - 1))[..., None]
        air = air_now(self.setup, lines)
        powers = np.array([view.magnification for view in self.views])
        pupils = np.array([view.exit_pupil_mm for view in self.views])
        margins = body_margin_mag(
            self.setup, pupils, light, air.dimming_mag[..., None], air.sky_mag[..., None]
        )
        liked = pupils >= self.setup.observer.least_exit_pupil_mm
        if liked.any():
            margins = np.where(liked, margins, -np.inf)
        known = np.nan_to_num(margins, nan=-np.inf)
        ample = known >= AMPLE_MARGIN_MAG
        lowest = np.argmin(np.where(ample, powers, np.inf), axis=-1)
        view = np.where(ample.any(axis=-1), lowest, known.argmax(axis=-1))
        margin = np.take_along_axis(margins, view[..., None], axis=-1)[..., 0]
        return Curve(margin, view, np.full_like(view, NO_FILTER))

    def judge(self, stars: RedStars, lines: Sightlines) -> Verdicts[RedStars]:
        """Stars (N,), each at one moment. The margin is in magnitudes."""
        found = self.curve(stars, lines)
        pupil = np.array([view.exit_pupil_mm for view in self.views])[found.view]
        spread = star_spread_mag(self.setup.eye, pupil, lines.sky_mag)
        spread = np.maximum(spread, LEAST_STAR_UNCERTAINTY_MAG)
        uncertainty = np.hypot(spread, (stars.v_faint_mag - stars.v_bright_mag) / RANGE_SIGMAS)
        light = self._magnitude(stars)

        def margin(air: Air) -> Floats:
            return body_margin_mag(self.setup, pupil, light, air.dimming_mag, air.sky_mag)

        without = {limit: margin(air) for limit, air in air_without(self.setup, lines).items()}
        return Verdicts(
            step=steps(found.margin, uncertainty),
            shown=found.margin > 0.0,
            limit=costliest(found.margin, without, Limit.FAINTNESS),
            margin=found.margin,
            uncertainty=uncertainty,
            unit=MarginUnit.MAGNITUDES,
            view=found.view,
            filter_index=found.filter_index,
            detail=stars,
        )

    @staticmethod
    def _magnitude(stars: RedStars) -> Floats:
        """V in the middle of the range, fainter by what rods miss of red light."""
        colour = np.fmin(stars.colour_bv, REDDEST_BV)  # unknown: as red as the rule goes
        return np.asarray(stars.middle_mag - colour_gain_mag(colour))
