"""The faintest star of every view over all skies, worked out once by two models."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import telescopic_limit_mag
from planner.verdict.faintest_star import star_spread_mag

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.eye.profile import Views
    from planner.eye.stars import EyeAtTelescope

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SKY_STEP_MAG = 0.1
SKY_GRID_MAG = np.arange(2.0, 26.05, SKY_STEP_MAG)


@dataclass(frozen=True, slots=True, eq=False)
class StarTable:
    """Faintest stars of V views, V as it reaches the ground, over ``SKY_GRID_MAG``: (V, M).

    ``limits_mag`` by Crumey's model, ``spread_mag`` by how much Schaefer's differs.
    """

    limits_mag: Floats
    spread_mag: Floats

    def limit_mag(self, view: Ints, sky_mag: Floats) -> Floats:
        """Faintest star in the view (N,) against the sky (N,)."""
        sky = np.nan_to_num(sky_mag, nan=SKY_GRID_MAG[0])
        low = np.clip(((sky - SKY_GRID_MAG[0]) / SKY_STEP_MAG).astype(np.intp), 0, None)
        low = np.minimum(low, SKY_GRID_MAG.size - 2)
        share = np.clip((sky - SKY_GRID_MAG[low]) / SKY_STEP_MAG, 0.0, 1.0)
        first, second = self.limits_mag[view, low], self.limits_mag[view, low + 1]
        return np.asarray(first + share * (second - first))

    def best_mag(self, sky_mag: ArrayLike) -> Floats:
        """Faintest star in the best of all views; NaN where the sky is NaN."""
        sky = np.asarray(sky_mag, dtype=float)
        best = np.interp(sky, SKY_GRID_MAG, self.limits_mag.max(axis=0))
        return np.where(np.isnan(sky), np.nan, best)

    def each_mag(self, sky_mag: Floats) -> Floats:
        """Faintest star in every view, (V, ...), at the nearest sky of the grid."""
        return np.asarray(self.limits_mag[:, _column(sky_mag)])

    def spread_at_mag(self, view: Ints, sky_mag: Floats) -> Floats:
        """By how much the models differ in the view (N,) against the sky (N,)."""
        return np.asarray(self.spread_mag[view, _column(sky_mag)])


def star_table(eye: EyeAtTelescope, views: Views) -> StarTable:
    """Work out the table of one eye and its views."""
    pupils = views.exit_pupil_mm[:, None]
    return StarTable(
        limits_mag=telescopic_limit_mag(eye, pupils, SKY_GRID_MAG),
        spread_mag=star_spread_mag(eye, pupils, SKY_GRID_MAG),
    )


def _column(sky_mag: Floats) -> Ints:
    """The nearest entry of the sky grid; the first where there is no sky."""
    column = np.rint(np.nan_to_num((sky_mag - SKY_GRID_MAG[0]) / SKY_STEP_MAG))
    return np.asarray(np.clip(column, 0, SKY_GRID_MAG.size - 1), dtype=np.intp)
