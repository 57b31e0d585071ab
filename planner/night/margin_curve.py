"""Targets through the night: height, sky and margin at every moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import Track, parallactic_angle_at_deg, track
from planner.night.best_time import as_good, window_around
from planner.targets.columns import rows_of
from planner.targets.pairs import Pairs, take

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.verdict.sightlines import Sightlines
    from planner.verdict.verdicts import Curve, MarginUnit

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Rows = list[int] | NDArray[np.intp]


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


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """K targets at T moments: where they stand, the sky behind them, and when they are usable."""

    track: Track
    lines: Sightlines
    usable: Bools


def margin_curve(conditions: Conditions, judged: Judged, row: int) -> MarginCurve:
    """The course of one row, each time in the view that is best then."""
    way = ways(conditions, judged, [row])
    margin = margins(conditions, judged, [row], way.lines)[0]
    has_margin = ~np.isinf(margin)
    return MarginCurve(
        instants=conditions.instants,
        altitude_deg=way.track.altitude_deg[0],
        azimuth_deg=way.track.azimuth_deg[0],
        sky_mag=np.where(has_margin, way.lines.sky_mag[0], np.nan),
        margin=np.where(has_margin, margin, np.nan),
        unit=judged.verdicts.unit,
        usable=way.usable[0],
        usable_any_hour=ways(conditions.whole_night, judged, [row]).usable[0],
    )


def pair_window(conditions: Conditions, judged: Judged, row: int) -> tuple[int, int]:
    """First and last moment at which a shown pair shows in its view, around its best one."""
    way = ways(conditions, judged, [row])
    margin = margins(conditions, judged, [row], way.lines, fixed_view=True)
    seen = way.usable & (margin >= 0.0)
    best = judged.times.best[[row]]
    seen[0, best] = True
    first, last = window_around(seen, best)
    return int(first[0]), int(last[0])


def even_stretch(
    conditions: Conditions, judged: Judged, row: int, window: tuple[int, int]
) -> tuple[int, int] | None:
    """First and last moment at which a row stands as well as at its best, within its window.

    None where that is less than two hours: then the best moment is worth telling.
    """
    way = ways(conditions, judged, [row])
    best = int(judged.times.best[row])
    moments = np.arange(len(conditions.instants))
    inside = (moments >= window[0]) & (moments <= window[1])
    even = inside & as_good(way.track.altitude_deg[0], way.lines.sky_mag[0], best)
    even[best] = True
    first, last = window_around(even[None], judged.times.best[row : row + 1])
    long = int(last[0]) - int(first[0]) >= LONG_STEPS
    return (int(first[0]), int(last[0])) if long else None


def other_hours(conditions: Conditions, judged: Judged, row: int) -> tuple[int, int] | None:
    """The longest stretch in which a row is usable when all hours are allowed, or None."""
    usable = ways(conditions.whole_night, judged, [row]).usable[0]
    bounds = np.flatnonzero(np.diff(np.concatenate(([False], usable, [False]))))
    if not bounds.size:
        return None
    firsts, ends = bounds[::2], bounds[1::2]
    longest = int(np.argmax(ends - firsts))
    return int(firsts[longest]), int(ends[longest]) - 1


def highest_deg(conditions: Conditions, judged: Judged, row: int) -> float:
    """The greatest altitude of one row in the night."""
    return float(_tracks(conditions, judged, [row]).altitude_deg.max())


def only_too_high(conditions: Conditions, judged: Judged, row: int) -> bool:
    """Whether one row stands clear of the horizon at some usable hour, but out of the reach."""
    way = _tracks(conditions, judged, [row])
    clear = conditions.above_horizon(way) & _hours(conditions, judged, [row])
    return bool(clear.any() and not (clear & conditions.within_reach(way)).any())


def ways(conditions: Conditions, judged: Judged, rows: Rows) -> Ways:
    """Where K rows stand through the night, the sky behind them, and when they are usable."""
    way, targets = _tracks(conditions, judged, rows), judged.targets
    if isinstance(targets, Bodies):
        lines = conditions.sightlines_to(targets.rows(rows))
    else:
        lines = conditions.sightlines(way, targets.ra_deg[rows], targets.dec_deg[rows])
    usable = conditions.within_reach(way) & _hours(conditions, judged, rows)
    return Ways(way, lines, usable)


def margins(
    conditions: Conditions,
    judged: Judged,
    rows: Rows,
    lines: Sightlines,
    fixed_view: bool = False,
) -> Floats:
    """Margins of K rows at T moments, (K, T), in the view that is best then.

    With ``fixed_view`` pairs keep the view of their best moment.
    """
    targets, curve = judged.targets, judged.judge.curve
    if isinstance(targets, Pairs):
        count = len(conditions.instants)
        every, moments = np.repeat(rows, count), np.tile(np.arange(count), len(rows))
        pairs = take(targets, every)
        angle = parallactic_angle_at_deg(conditions.grid, pairs.ra_deg, pairs.dec_deg, moments)
        view = judged.verdicts.view[every] if fixed_view else None
        found: Curve = curve(pairs, lines.flat, angle, view)
        return found.margin.reshape(len(rows), count)
    some = targets.rows(rows) if isinstance(targets, Bodies) else rows_of(targets, rows)
    return np.asarray(curve(some, lines).margin)


def _hours(conditions: Conditions, judged: Judged, rows: Rows) -> Bools:
    """When K rows may be looked at, (K, T) or (T,)."""
    if isinstance(judged.targets, Bodies):
        return conditions.body_hours(judged.targets.rows(rows))
    return conditions.twilight_over


def _tracks(conditions: Conditions, judged: Judged, rows: Rows) -> Track:
    targets = judged.targets
    if isinstance(targets, Bodies):
        some = targets.rows(rows)
        return Track(some.altitude_deg, some.azimuth_deg)
    place = targets.ra_deg[rows], targets.dec_deg[rows]
    return track(conditions.request.site, conditions.grid, *place)
