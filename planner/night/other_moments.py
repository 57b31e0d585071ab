"""Targets judged at other moments than their best ones."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import Track, parallactic_angle_at_deg, track
from planner.night.body_features import with_features
from planner.targets.columns import rows_of, with_rows
from planner.verdict.deepsky.judge import DeepSkyJudge
from planner.verdict.pairs.judge import PairJudge

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.verdict.verdicts import Verdicts

    Ints = NDArray[np.intp]


def at_moments(
    conditions: Conditions, judged: Judged, numbers: Sequence[int], moments: Sequence[int]
) -> Judged:
    """The same group with some of its list's targets judged at other moments, one each."""
    rows, when = judged.systems.lead[list(numbers)], np.asarray(moments, dtype=np.intp)
    way = where_then(conditions, judged, rows, when)
    verdicts = verdicts_then(conditions, judged, rows, when, way)
    times = judged.times
    moved = replace(
        rows_of(times, rows), best=when, altitude_deg=way.altitude_deg,
        azimuth_deg=way.azimuth_deg, usable=np.ones(len(rows), dtype=bool),
    )  # fmt: skip
    return replace(
        judged,
        times=with_rows(times, rows, moved),
        verdicts=judged.verdicts.with_rows(rows, verdicts),
    )


def where_then(conditions: Conditions, judged: Judged, rows: Ints, moments: Ints) -> Track:
    """Where K rows stand, each at a moment of its own; arrays (K,). A row may come again."""
    targets = judged.targets
    if isinstance(targets, Bodies):
        there = targets.at(moments, rows)
        return Track(there.altitude_deg, there.azimuth_deg)
    known, place = np.unique(rows, return_inverse=True)
    some = rows_of(targets, known)
    way = track(conditions.request.site, conditions.grid, some.ra_deg, some.dec_deg)
    return Track(way.altitude_deg[place, moments], way.azimuth_deg[place, moments])


def verdicts_then(
    conditions: Conditions,
    judged: Judged,
    rows: Ints,
    moments: Ints,
    way: Track,
    *,
    causes: bool = True,
) -> Verdicts[Any]:
    """The verdicts on K rows, each at a moment of its own where ``way`` has it.

    Without ``causes`` neither what limits targets nor the markings of planets are worked out, which
    take the most time.
    """
    targets = judged.targets
    if isinstance(targets, Bodies):
        there = targets.at(moments, rows)
        lines = conditions.sightlines_at(there.altitude_deg, there.ra_deg, there.dec_deg, moments)
        verdicts = cast("Verdicts[Any]", judged.judge.judge(there, lines))
        if not causes:
            return verdicts
        return with_features(conditions, there, moments, verdicts)
    some = rows_of(targets, rows)
    lines = conditions.sightlines_at(way.altitude_deg, some.ra_deg, some.dec_deg, moments)
    if isinstance(judged.judge, DeepSkyJudge):
        return judged.judge.judge(some, lines, causes=causes)
    if isinstance(judged.judge, PairJudge):
        angle = parallactic_angle_at_deg(conditions.grid, some.ra_deg, some.dec_deg, moments)
        return judged.judge.judge(some, lines, angle, causes=causes)
    return cast("Verdicts[Any]", judged.judge.judge(some, lines))
