"""When a pair with an orbit opens for this telescope, or closes, within the next years."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.columns import rows_of
from planner.targets.orbit import apparent_places
from planner.verdict.pairs.criteria import GOOD_SEEING_ARCSEC, SplitClass
from planner.verdict.pairs.judge import judge_pairs, split_conditions
from planner.verdict.pairs.lookup import StudyPairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.orbit import Orbits
    from planner.verdict.pairs.judge import PairJudge

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

YEARS_AHEAD = 20
ROUGH_GRADE = 4  # "preliminary" or worse in the Sixth Orbit Catalog's scale of 1 to 5
OPEN_FROM = SplitClass.JUST


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a pair does from ``first_year`` on, once a year for twenty years.

    ``opens_year`` is the first year in which a pair that is now closed to this telescope is
    just split (or its companion held), ``closes_year`` the first in which one that is open no
    longer is; None where that does not happen. ``rough`` marks an orbit of grade 4 or 5.
    """

    first_year: float
    separations_arcsec: tuple[float, ...]
    open_now: bool
    opens_year: float | None
    closes_year: float | None
    rough: bool


@dataclass(frozen=True, slots=True, eq=False)
class OutlookPairs:
    """N pairs high in the sky, arrays (N,): magnitudes, airmass, sky and the air's spectrum there.

    ``sky_mag`` is one for all.
    """

    v1: Floats
    v2: Floats
    airmass: Floats
    dispersion_along_arcsec: Floats
    sky_mag: float


def outlooks(
    judge: PairJudge, orbits: Orbits, pairs: OutlookPairs, first_year: float
) -> tuple[Outlook, ...]:
    """The outlook of N pairs, each with its row of ``orbits``, at one height and in one seeing.

    Every year is judged in good seeing of 1", at the same airmass, in the best view then.
    Limits: as good as the orbit; one of grade 4 or 5 can be a tenth of the separation out.
    """
    years = np.asarray(first_year + np.arange(YEARS_AHEAD + 1), dtype=np.float64)
    count = len(years)
    every = np.repeat(np.arange(len(pairs.v1)), count)
    separation, _ = apparent_places(rows_of(orbits, every), np.tile(years, len(pairs.v1)))
    setup = replace(judge.setup, seeing_arcsec=GOOD_SEEING_ARCSEC)
    sky = np.full(len(every), pairs.sky_mag)
    place = (pairs.airmass[every], sky, pairs.dispersion_along_arcsec[every])
    verdicts = judge_pairs(
        setup,
        judge.views,
        judge.tables,
        StudyPairs(separation, pairs.v1[every], pairs.v2[every]),
        split_conditions(setup, judge.views, *place),
    )
    is_open = (verdicts.detail.split_class >= OPEN_FROM).reshape(-1, count)
    rough = orbits.grade >= ROUGH_GRADE
    rows = zip(separation.reshape(-1, count), is_open, rough, strict=True)
    return tuple(_outlook(years, *row) for row in rows)


def _outlook(years: Floats, separation: Floats, is_open: Bools, rough: bool) -> Outlook:
    changed = np.flatnonzero(is_open != is_open[0])
    year = float(years[changed[0]]) if changed.size else None
    return Outlook(
        first_year=float(years[0]),
        separations_arcsec=tuple(float(s) for s in separation),
        open_now=bool(is_open[0]),
        opens_year=None if is_open[0] else year,
        closes_year=year if is_open[0] else None,
        rough=bool(rough),
    )
