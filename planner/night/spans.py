"""From when to when targets show, when they stand equally well, and why others cannot be used."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.night.best_time import as_good, window_around
from planner.night.margin_curve import margins, target_hours, ways
from planner.night.plan import Absence, Unusable
from planner.targets.pairs import Pairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.intp]

LONG_STEPS = 24  # of five minutes: two hours, from which no minute is told; own judgement


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers of moments: the first and last at which a row shows in its view.

    ``even`` are those between which it stands as well as at its best, None for less than two
    hours. ``unusable`` says why there is no usable moment, None where there is one.
    """

    first: int
    last: int
    even: tuple[int, int] | None = None
    unusable: Unusable | None = None


def spans_of(conditions: Conditions, judged: Judged, rows: Ints, shown: Bools) -> dict[int, Span]:
    """The span of each of K rows, by row; ``shown`` (K,) marks the targets shown."""
    times = judged.times
    usable = times.usable[rows]
    found = {int(r): Span(int(times.first[r]), int(times.last[r])) for r in rows[usable & ~shown]}
    found.update(_shown_spans(conditions, judged, rows[usable & shown]))
    found.update(_unusable_spans(conditions, judged, rows[~usable]))
    return found


def _shown_spans(conditions: Conditions, judged: Judged, rows: Ints) -> dict[int, Span]:
    if not rows.size:
        return {}
    way, best = ways(conditions, judged, rows), judged.times.best[rows]
    first, last = judged.times.first[rows], judged.times.last[rows]
    place = np.arange(len(rows))
    if isinstance(judged.targets, Pairs):
        margin = margins(conditions, judged, rows, way.lines, fixed_view=True)
        seen = way.usable & (margin >= 0.0)
        seen[place, best] = True
        first, last = window_around(seen, best)
    else:  # a moment chosen by an order may lie in another stretch than the best one
        usable = way.usable.copy()
        usable[place, best] = True
        away = (best < first) | (best > last)
        around = window_around(usable, best)
        first, last = np.where(away, around[0], first), np.where(away, around[1], last)
    moments = np.arange(len(conditions.instants))
    even = (moments >= first[:, None]) & (moments <= last[:, None])
    even &= as_good(way.track.altitude_deg, way.lines.sky_mag, best)
    even[place, best] = True
    even_first, even_last = window_around(even, best)
    long = even_last - even_first >= LONG_STEPS
    return {
        int(row): Span(
            int(first[k]),
            int(last[k]),
            (int(even_first[k]), int(even_last[k])) if long[k] else None,
        )
        for k, row in enumerate(rows)
    }


def _unusable_spans(conditions: Conditions, judged: Judged, rows: Ints) -> dict[int, Span]:
    if not rows.size:
        return {}
    whole = ways(conditions.whole_night, judged, rows)
    highest = whole.track.altitude_deg.max(axis=1)
    least = conditions.request.least_altitude_deg
    other = whole.usable if not conditions.hours.all() else np.zeros_like(whole.usable)
    other = other & (highest >= least)[:, None]
    hours = target_hours(conditions, judged, rows)
    clear = conditions.above_horizon(whole.track) & hours
    high = clear.any(axis=1) & ~(clear & conditions.within_reach(whole.track)).any(axis=1)
    bodies = isinstance(judged.targets, Bodies)
    dark = bool((conditions.sun_down if bodies else conditions.twilight_over).any())
    told_first = (Absence.TOO_BRIGHT, Absence.NEVER_UP, Absence.LOW, Absence.HIGH)
    holds = [np.full(len(rows), not dark), highest < 0.0, highest < least, high]
    reason = np.select(holds, range(len(told_first)), len(told_first))
    ever = other.any(axis=1)
    found = {}
    for k, row in enumerate(rows):
        why = (*told_first, Absence.HIDDEN)[int(reason[k])]
        told = Unusable(why, float(highest[k]), least)
        if ever[k]:
            first, last = _longest(other[k])
            span = conditions.instants[first], conditions.instants[last]
            told = Unusable(Absence.OTHER_HOURS, float(highest[k]), least, span)
        best = int(judged.times.best[row])
        found[int(row)] = Span(best, best, unusable=told)
    return found


def _longest(usable: Bools) -> tuple[int, int]:
    """First and last moment of the longest unbroken stretch; there is one."""
    bounds = np.flatnonzero(np.diff(np.concatenate(([False], usable, [False]))))
    firsts, ends = bounds[::2], bounds[1::2]
    longest = int(np.argmax(ends - firsts))
    return int(firsts[longest]), int(ends[longest]) - 1
