"""The best time of pairs, found without judging each of 160,000 at every moment."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import parallactic_angle_at_deg, track
from planner.night.best_time import BestTime, best_time
from planner.targets.columns import rows_of, with_rows
from planner.targets.pairs import take

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.targets.pairs import Pairs
    from planner.verdict.pairs.judge import PairDetail, PairJudge
    from planner.verdict.sightlines import Sightlines
    from planner.verdict.verdicts import Verdicts

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

DEEP_TWILIGHT_DEG = -12.0
# Degrees of height worth a degree of brighter twilight: so much for each magnitude of the
# companion beyond 5, within bounds; own judgement.
TWILIGHT_COST_PER_MAG = 2.0
TWILIGHT_COST_BOUNDS = (2.0, 12.0)
BRIGHT_COMPANION_MAG = 5.0
TWILIGHT_SHARES = (1.0, 0.3, 0.0)  # of that cost: three candidates for the best moment
PAIRS_AT_ONCE = 8192  # keeps the (pairs, moments) arrays small


def judged_at_best(
    conditions: Conditions, judge: PairJudge, pairs: Pairs
) -> tuple[BestTime, Verdicts[PairDetail]]:
    """Best time and verdict of each pair: the moment at which it is split best.

    The first candidate is high and dark; the others weigh height more, and are taken where
    they reach a better class.
    """
    times, *others = pair_times(conditions, pairs)
    verdicts = judged_at(conditions, judge, pairs, times)
    for other in others:
        rows = np.flatnonzero(other.usable & (other.best != times.best))
        there = rows_of(other, rows)
        again = judged_at(conditions, judge, take(pairs, rows), there)
        better = again.detail.split_class > verdicts.detail.split_class[rows]
        times = with_rows(times, rows[better], rows_of(there, better))
        verdicts = verdicts.with_rows(rows[better], again.rows(better))
    return times, verdicts


def judged_at(
    conditions: Conditions, judge: PairJudge, pairs: Pairs, times: BestTime
) -> Verdicts[PairDetail]:
    """Pairs judged, each at its best moment."""
    return judge.judge(pairs, *_sights(conditions, pairs, times))


def _sights(conditions: Conditions, pairs: Pairs, times: BestTime) -> tuple[Sightlines, Floats]:
    """The lines of sight to pairs at their best moments, and the parallactic angle there."""
    place = pairs.ra_deg, pairs.dec_deg, times.best
    lines = conditions.sightlines_at(times.altitude_deg, *place)
    return lines, parallactic_angle_at_deg(conditions.grid, *place)


def tested_seeing(
    conditions: Conditions, judged: Judged, row: int
) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    """Worst seeing of each class of one judged pair, its glass as poor and as good as tested.

    At its best moment and in its view; None without a mirror test.
    """
    pair, times = take(judged.targets, [row]), rows_of(judged.times, [row])
    sights = _sights(conditions, pair, times)
    band = judged.judge.tested_seeing(pair, *sights, int(judged.verdicts.view[row]))
    if band is None:
        return None
    poor, good = (tuple(map(float, worst[0])) for worst in band)
    return poor, good


def pair_times(conditions: Conditions, pairs: Pairs) -> list[BestTime]:
    """Candidates for the best moment of each pair: high, and more or less out of twilight.

    One for each of ``TWILIGHT_SHARES`` of the full cost of twilight.
    """
    glow = np.clip(conditions.sun.altitude_deg - DEEP_TWILIGHT_DEG, 0.0, None)
    beyond = pairs.v2 - BRIGHT_COMPANION_MAG
    cost = np.clip(TWILIGHT_COST_PER_MAG * beyond, *TWILIGHT_COST_BOUNDS)
    parts: list[list[BestTime]] = [[] for _ in TWILIGHT_SHARES]
    for start in range(0, max(len(pairs), 1), PAIRS_AT_ONCE):
        rows = slice(start, start + PAIRS_AT_ONCE)
        site = conditions.request.site
        way = track(site, conditions.grid, pairs.ra_deg[rows], pairs.dec_deg[rows])
        usable = conditions.within_reach(way) & conditions.twilight_over
        for part, share in zip(parts, TWILIGHT_SHARES, strict=True):
            part.append(best_time(usable, way.altitude_deg - share * cost[rows, None] * glow, way))
    return [_joined(part) for part in parts]


def _joined(parts: Sequence[BestTime]) -> BestTime:
    """Several groups of targets as one."""
    columns: list[NDArray[Any]] = [
        np.concatenate([getattr(part, field.name) for part in parts]) for field in fields(BestTime)
    ]
    return BestTime(*columns)
