"""Targets through the night: height, sky and margin at every moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import Track, parallactic_angle_at_deg, track
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


def ways(conditions: Conditions, judged: Judged, rows: Rows) -> Ways:
    """Where K rows stand through the night, the sky behind them, and when they are usable."""
    way, targets = _tracks(conditions, judged, rows), judged.targets
    if isinstance(targets, Bodies):
        lines = conditions.sightlines_to(targets.rows(rows))
    else:
        lines = conditions.sightlines(way, targets.ra_deg[rows], targets.dec_deg[rows])
    usable = conditions.within_reach(way) & target_hours(conditions, judged, rows)
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


def target_hours(conditions: Conditions, judged: Judged, rows: Rows) -> Bools:
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
