"""The closest pairs split overhead, and what a mirror test leaves open of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.verdict.glass_doubt import doubtful_glass
from planner.verdict.pairs.criteria import GOOD_SEEING_ARCSEC, SplitClass
from planner.verdict.pairs.judge import one_view_seeing, split_conditions
from planner.verdict.pairs.lookup import StudyPairs
from planner.verdict.scope.purpose import Purpose, rank_for_purpose

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Ends = tuple[float | None, float | None]
    Floats = NDArray[np.float64]

PRIMARY_MAG = 5.0  # bright enough that no companion of the question is too faint; own judgement
DIFFERENCES_MAG = (0.0, 2.0, 4.0)
SEPARATIONS_ARCSEC = np.geomspace(0.2, 40.0, 531)  # 1 % apart


@dataclass(frozen=True, slots=True)
class ClosestPairs:
    """The closest separation, arcsec, that is just split (or the companion held) in one seeing.

    One for each of ``DIFFERENCES_MAG``, overhead, None where no separation will do.
    ``by_test`` has the same for the glass as good and as poor as a mirror test allows; None
    without one, and where the difference is not felt.
    """

    view: View
    seeing_arcsec: float
    separations_arcsec: tuple[float | None, ...]
    by_test: tuple[Ends, ...] | None


def closest_pairs(setup: Setup, views: Sequence[View]) -> tuple[ClosestPairs, ...]:
    """The closest pairs in the site's seeing, then on a good night where that is better.

    In the view that suits doubles best. Uncertain by some 15 %, as every verdict on pairs.
    """
    view = rank_for_purpose(setup, views, Purpose.DOUBLES)[0].view
    worst = _worst_seeing(setup, view)
    tested = [
        _worst_seeing(replace(setup, telescope=each), view)
        for each in doubtful_glass(setup.telescope).felt
    ]
    seeings = [setup.seeing_arcsec]
    if setup.seeing_arcsec > GOOD_SEEING_ARCSEC:
        seeings.append(GOOD_SEEING_ARCSEC)
    found = []
    for seeing in seeings:
        here, *ends = (_closest(each, seeing) for each in (worst, *tested))
        found.append(ClosestPairs(view, seeing, here, _ends([here, *ends]) if ends else None))
    return tuple(found)


def _worst_seeing(setup: Setup, view: View) -> Floats:
    """Worst seeing (differences, separations) in which each pair is just split, overhead."""
    difference, separation = (
        grid.ravel() for grid in np.meshgrid(DIFFERENCES_MAG, SEPARATIONS_ARCSEC, indexing="ij")
    )
    ones = np.ones_like(separation)
    pairs = StudyPairs(separation, PRIMARY_MAG * ones, PRIMARY_MAG + difference)
    sky = split_conditions(setup, [view], ones, setup.zenith_sky_mag * ones, 0.0 * ones)
    worst = one_view_seeing(setup, view, pairs, sky)[:, SplitClass.JUST - 1]
    return np.asarray(worst.reshape(len(DIFFERENCES_MAG), -1), dtype=float)


def _closest(worst: Floats, seeing_arcsec: float) -> tuple[float | None, ...]:
    splits = worst >= seeing_arcsec
    return tuple(float(SEPARATIONS_ARCSEC[row.argmax()]) if row.any() else None for row in splits)


def _ends(columns: Sequence[tuple[float | None, ...]]) -> tuple[Ends, ...]:
    """Least and most of each column; what no separation will do is more than any."""
    ranked = [sorted(each, key=lambda one: one or np.inf) for each in zip(*columns, strict=True)]
    return tuple((column[0], column[-1]) for column in ranked)
