"""The model's limit for doubles: the closest separation at each difference of magnitude."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.night.conditions import liked_views
from planner.verdict.pairs.cache import cached_split_tables
from planner.verdict.pairs.judge import SHOWN_FROM, split_conditions, split_instrument
from planner.verdict.pairs.lookup import StudyPairs, limiting_seeing

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.request import Request

    Floats = NDArray[np.float64]

STUDY_AIRMASS = 1.2  # 56 degrees up, where most pairs are looked at; own judgement
SEPARATIONS_ARCSEC = np.geomspace(0.4, 60.0, 240)
DIFFERENCES_MAG = np.arange(0.0, 7.01, 0.25)


@dataclass(frozen=True, slots=True, eq=False)
class SplitLimit:
    """From which separation (D,), arcsec, a pair shows as two at each difference (D,), mag.

    NaN where no separation looked at will do. For a first star of ``v1``, in zenith seeing
    ``seeing_arcsec``, in the best view.
    """

    seeing_arcsec: float
    v1: float
    difference_mag: Floats
    separation_arcsec: Floats


def split_limit(request: Request, v1: float, seeing_arcsec: float) -> SplitLimit:
    """The limit of the request's telescope, eye and sky for a first star of magnitude ``v1``."""
    setup, views = request.setup, liked_views(request)
    tables = cached_split_tables(
        request.cache_folder,
        split_instrument(setup),
        [view.magnification for view in views],
        [view.exit_pupil_mm for view in views],
    )
    difference, separation = (
        grid.ravel() for grid in np.meshgrid(DIFFERENCES_MAG, SEPARATIONS_ARCSEC, indexing="ij")
    )
    count = np.ones(len(difference))
    conditions = split_conditions(
        setup, views, STUDY_AIRMASS * count, setup.zenith_sky_mag * count, 0.0 * count
    )
    pairs = StudyPairs(separation, v1 * count, v1 + difference)
    worst = limiting_seeing(tables, pairs, conditions)[:, :, SHOWN_FROM - 1].max(axis=1)
    parts = worst.reshape(len(DIFFERENCES_MAG), -1) >= seeing_arcsec
    closest = np.where(parts.any(axis=1), SEPARATIONS_ARCSEC[parts.argmax(axis=1)], np.nan)
    return SplitLimit(seeing_arcsec, v1, DIFFERENCES_MAG, closest)
