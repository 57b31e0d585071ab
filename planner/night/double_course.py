"""One double star through the night: its course, and the window in which it shows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import track
from planner.night.course import Course
from planner.night.double_list import SHOWN_FROM, JudgedPairs, pair_moments
from planner.night.standing import Standing, standing_at
from planner.night.window import window_around
from planner.targets.pairs import take
from planner.verdict.doubles import judge_pairs, worst_in_view

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.pairs import Pairs

    Bools = NDArray[np.bool_]

MARGIN_UNIT = "arcsec of seeing"


def double_course(judged: JudgedPairs, row: int) -> Course:
    """The pair at every moment of the night, each time in the view that is best then."""
    found = judged.found
    pairs, where, usable = _through_the_night(judged, row)
    moments = pair_moments(found, pairs, where)
    verdicts = judge_pairs(found.setup, found.views, judged.tables, moments)
    notched = verdicts.worst_seeing_arcsec[:, SHOWN_FROM - 1].astype(float)
    return Course(
        instants=found.instants,
        altitude_deg=where.altitude_deg,
        azimuth_deg=where.azimuth_deg,
        sky_mu=moments.sky_mu,
        margin=notched - found.request.seeing_arcsec,
        margin_unit=MARGIN_UNIT,
        usable=usable,
    )


def shown_standing(judged: JudgedPairs, row: int) -> Standing:
    """The standing, with the window of one shown pair cut to when it shows in its view."""
    found = judged.found
    pairs, where, usable = _through_the_night(judged, row)
    worst = worst_in_view(
        found.setup,
        found.views,
        judged.tables,
        pair_moments(found, pairs, where),
        np.full(len(pairs), judged.verdicts.view[row]),
    )
    seen = (usable & (worst[:, SHOWN_FROM - 1] >= found.request.seeing_arcsec))[None, :]
    best = judged.where.best[row : row + 1]
    seen[0, best] = True
    narrow_first, narrow_last = window_around(seen, best)
    first, last = judged.where.first.copy(), judged.where.last.copy()
    first[row], last[row] = narrow_first[0], narrow_last[0]
    return replace(judged.where, first=first, last=last)


def _through_the_night(judged: JudgedPairs, row: int) -> tuple[Pairs, Standing, Bools]:
    """One pair repeated for each moment, where it stands then, and whether that is usable."""
    found = judged.found
    moments = np.arange(len(found.instants))
    pairs = take(judged.pairs, np.full(len(moments), row))
    course = track(found.request.site, found.grid, pairs.ra_deg[:1], pairs.dec_deg[:1])
    usable = (found.above_horizon(course) & found.twilight_over)[0]
    return pairs, standing_at(course, moments), usable
