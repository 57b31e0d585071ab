"""One target through the night: height, sky and margin at every moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import Track, parallactic_angle_at_deg, track
from planner.night.best_time import as_good, window_around
from planner.night.candidates import PairCandidates
from planner.targets.columns import rows_of
from planner.targets.pairs import take

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.verdict.sightlines import Sightlines
    from planner.verdict.verdicts import Curve, MarginUnit

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]


LONG_STEPS = 24  # of five minutes: two hours, from which no minute is told; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class MarginCurve:
    """One target at T moments; arrays are (T,).

    ``margin`` is in ``unit``, positive where the target is shown; NaN below the horizon, where
    the brightness is unknown, and for the Moon, as is her ``sky_mag``. ``usable`` marks moments
    high and dark enough within the hours asked for, ``usable_any_hour`` those of the whole night.
    """

    instants: tuple[dt.datetime, ...]
    altitude_deg: Floats
    azimuth_deg: Floats
    sky_mag: Floats
    margin: Floats
    unit: MarginUnit
    usable: Bools
    usable_any_hour: Bools


def margin_curve(conditions: Conditions, judged: Judged, row: int) -> MarginCurve:
    """The course of one row, each time in the view that is best then."""
    way, lines, usable = _way(conditions, judged, row)
    margin = _curve(conditions, judged, row, lines).margin[0]
    has_margin = ~np.isinf(margin)
    return MarginCurve(
        instants=conditions.instants,
        altitude_deg=way.altitude_deg[0],
        azimuth_deg=way.azimuth_deg[0],
        sky_mag=np.where(has_margin, lines.sky_mag[0], np.nan),
        margin=np.where(has_margin, margin, np.nan),
        unit=judged.verdicts.unit,
        usable=usable,
        usable_any_hour=_way(conditions.whole_night, judged, row)[2],
    )


def pair_window(conditions: Conditions, judged: Judged, row: int) -> tuple[int, int]:
    """First and last moment at which a shown pair shows in its view, around its best one."""
    _, lines, usable = _way(conditions, judged, row)
    margin = _curve(conditions, judged, row, lines, fixed_view=True).margin
    seen = usable[None] & (margin >= 0.0)
    best = judged.times.best[row : row + 1]
    seen[0, best] = True
    first, last = window_around(seen, best)
    return int(first[0]), int(last[0])


def even_stretch(
    conditions: Conditions, judged: Judged, row: int, window: tuple[int, int]
) -> tuple[int, int] | None:
    """First and last moment at which a row stands as well as at its best, within its window.

    None where that is less than two hours: then the best moment is worth telling.
    """
    way, lines, _ = _way(conditions, judged, row)
    best = int(judged.times.best[row])
    moments = np.arange(len(conditions.instants))
    inside = (moments >= window[0]) & (moments <= window[1])
    even = inside & as_good(way.altitude_deg[0], lines.sky_mag[0], best)
    even[best] = True
    first, last = window_around(even[None], judged.times.best[row : row + 1])
    long = int(last[0]) - int(first[0]) >= LONG_STEPS
    return (int(first[0]), int(last[0])) if long else None


def other_hours(conditions: Conditions, judged: Judged, row: int) -> tuple[int, int] | None:
    """The longest stretch in which a row is usable when all hours are allowed, or None."""
    usable = _way(conditions.whole_night, judged, row)[2]
    bounds = np.flatnonzero(np.diff(np.concatenate(([False], usable, [False]))))
    if not bounds.size:
        return None
    firsts, ends = bounds[::2], bounds[1::2]
    longest = int(np.argmax(ends - firsts))
    return int(firsts[longest]), int(ends[longest]) - 1


def highest_deg(conditions: Conditions, judged: Judged, row: int) -> float:
    """The greatest altitude of one row in the night."""
    return float(_track(conditions, judged, row).altitude_deg.max())


def only_too_high(conditions: Conditions, judged: Judged, row: int) -> bool:
    """Whether one row stands clear of the horizon at some usable hour, but out of the reach."""
    way, targets = _track(conditions, judged, row), judged.targets
    hours = conditions.twilight_over
    if isinstance(targets, Bodies):
        hours = conditions.body_hours(targets.rows([row]))[0]
    clear = conditions.above_horizon(way)[0] & hours
    return bool(clear.any() and not (clear & conditions.within_reach(way)[0]).any())


def _way(conditions: Conditions, judged: Judged, row: int) -> tuple[Track, Sightlines, Bools]:
    """Where one row stands through the night, the sky behind it, and when it is usable."""
    way, targets = _track(conditions, judged, row), judged.targets
    if isinstance(targets, Bodies):
        one = targets.rows([row])
        usable = conditions.within_reach(way) & conditions.body_hours(one)
        return way, conditions.sightlines_to(one), usable[0]
    table = targets.pairs if isinstance(targets, PairCandidates) else targets
    lines = conditions.sightlines(way, table.ra_deg[row : row + 1], table.dec_deg[row : row + 1])
    return way, lines, (conditions.within_reach(way) & conditions.twilight_over)[0]


def _track(conditions: Conditions, judged: Judged, row: int) -> Track:
    targets = judged.targets
    if isinstance(targets, Bodies):
        one = targets.rows([row])
        return Track(one.altitude_deg, one.azimuth_deg)
    table = targets.pairs if isinstance(targets, PairCandidates) else targets
    place = table.ra_deg[row : row + 1], table.dec_deg[row : row + 1]
    return track(conditions.request.site, conditions.grid, *place)


def _curve(
    conditions: Conditions, judged: Judged, row: int, lines: Sightlines, fixed_view: bool = False
) -> Curve:
    targets, curve = judged.targets, judged.judge.curve
    if isinstance(targets, PairCandidates):
        moments = np.arange(len(conditions.instants))
        pairs = take(targets.pairs, np.full(len(moments), row))
        angle = parallactic_angle_at_deg(conditions.grid, pairs.ra_deg, pairs.dec_deg, moments)
        view = np.full(len(moments), judged.verdicts.view[row]) if fixed_view else None
        found: Curve = curve(pairs, lines.moments(0), angle, view)
    elif isinstance(targets, Bodies):
        found = curve(targets.rows([row]), lines)
    else:
        found = curve(rows_of(targets, [row]), lines)
    return found
