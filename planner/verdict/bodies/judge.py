"""Does this telescope show the Moon or a planet, in which eyepiece, and what limits it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.seeing import line_of_sight_fwhm
from planner.verdict.bodies.planets import (
    body_limits,
    body_margin_mag,
    planet_views,
    whole_moon_view,
)
from planner.verdict.faintest_star import star_spread_mag
from planner.verdict.steps import LEAST_STAR_UNCERTAINTY_MAG, steps
from planner.verdict.verdicts import NO_FILTER, Curve, Limit, MarginUnit, Verdicts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.ephemeris.bodies import Bodies
    from planner.optics.view import View
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class BodyDetail:
    """What only the Moon and planets have, at the moment judged; arrays are (N,).

    ``features`` holds a tuple of ``Feature`` for each, empty until they are judged.
    """

    diameter_arcsec: Floats
    illuminated_fraction: Floats
    elongation_deg: Floats
    features: NDArray[np.object_]


def no_features(count: int) -> NDArray[np.object_]:
    """A column (count,) of empty tuples."""
    column = np.empty(count, dtype=object)
    column[:] = [()] * count
    return column


@dataclass(frozen=True, slots=True, eq=False)
class BodyJudge:
    """Judges the Moon and planets with one setup; a planet is taken as a star in its sky."""

    setup: Setup
    views: Sequence[View]

    def curve(self, bodies: Bodies, lines: Sightlines) -> Curve:
        """Margins, magnitudes: any shape that bodies and sightlines share; the Moon's infinite."""
        moon = bodies.is_moon
        path = lines.airmass
        view = self._views(path, moon)
        pupil = np.array([v.exit_pupil_mm for v in self.views])[view]
        dimming = self.setup.dimming_mag(path)
        margin = body_margin_mag(self.setup, pupil, bodies.magnitude, dimming, lines.sky_mag)
        return Curve(np.where(moon, np.inf, margin), view, np.full_like(view, NO_FILTER))

    def judge(self, bodies: Bodies, lines: Sightlines) -> Verdicts[BodyDetail]:
        """Bodies (N,), each at one moment. The margin is in magnitudes."""
        found = self.curve(bodies, lines)
        pupil = np.array([v.exit_pupil_mm for v in self.views])[found.view]
        spread = star_spread_mag(self.setup.eye, pupil, lines.sky_mag)
        uncertainty = np.maximum(spread, LEAST_STAR_UNCERTAINTY_MAG)
        limits = body_limits(self.setup, pupil, bodies.magnitude, lines)
        return Verdicts(
            step=steps(found.margin, uncertainty),
            shown=found.margin > 0.0,
            limit=np.where(bodies.is_moon, Limit.SEEING, limits).astype(np.int8),
            margin=found.margin,
            uncertainty=uncertainty,
            unit=MarginUnit.MAGNITUDES,
            view=found.view,
            filter_index=found.filter_index,
            detail=BodyDetail(
                bodies.diameter_arcsec,
                bodies.illuminated_fraction,
                bodies.elongation_deg,
                no_features(len(bodies)),
            ),
        )

    def _views(self, airmass: Floats, moon: NDArray[np.bool_]) -> Ints:
        """The view for each body and moment, by the seeing through that much air."""
        path = np.where(np.isfinite(airmass), airmass, 1.0)
        seeing = line_of_sight_fwhm(self.setup.seeing_arcsec, path)
        planets = planet_views(self.setup, self.views, seeing)
        return np.where(moon, whole_moon_view(self.views), planets)
