"""What goes outside: targets with their starts and the ways to them, and the night's curves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.moments import seconds_between
from planner.ephemeris.track import track
from planner.errors import UsageError
from planner.night.conditions import night_conditions
from planner.night.evening.leading import target_hops
from planner.night.judging import judged_groups
from planner.night.other_moments import at_moments
from planner.night.planned import planned_targets
from planner.night.planning import plan_of
from planner.night.ranking import ranked

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.hops.hop import Hop
    from planner.night.conditions import Conditions
    from planner.night.evening.order_file import FiledOrder
    from planner.night.plan import Plan, PlannedTarget
    from planner.night.request import Request

    Floats = NDArray[np.float64]

USUAL_LOOK_MIN = 15.0  # the slot drawn where no order tells it; own judgement


@dataclass(frozen=True, slots=True)
class Call:
    """One target of an outing, judged at its start; ``number`` is what the sheet calls it."""

    number: int
    start: dt.datetime
    end: dt.datetime | None
    target: PlannedTarget
    hop: Hop


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """Altitudes through a night, degrees: moments (T,), Sun and Moon (T,), targets (N, T)."""

    instants: tuple[dt.datetime, ...]
    sun_deg: Floats
    moon_deg: Floats
    target_deg: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Outing:
    """A night as it is carried outside; ``from_order`` tells an order from a plain list."""

    request: Request
    plan: Plan
    calls: tuple[Call, ...]
    curves: Curves
    from_order: bool = False


def listed_outing(request: Request) -> Outing:
    """The night's list, each target at its best time; numbers are ranks by worth.

    Raises DateOutsideEphemerisError.
    """
    conditions = night_conditions(request)
    groups = judged_groups(conditions)
    chosen = ranked(groups, include_all=False)[: request.limit]
    plan = plan_of(conditions, groups, chosen)
    shown = [
        (number, target, target.best_time)
        for number, target in enumerate(plan.targets, start=1)
        if target.shown and target.best_time
    ]
    moments = [_moment(conditions, start) for _, _, start in shown]
    hops = target_hops(conditions, [target for _, target, _ in shown], moments)
    calls = [
        Call(number, start, None, target, hop)
        for (number, target, start), hop in zip(shown, hops, strict=True)
    ]
    return _outing(conditions, plan, calls)


def ordered_outing(request: Request, filed: FiledOrder) -> Outing:
    """The entries of an order, in its order, each judged at its own start.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        UsageError: a target of the order is not known or not up that night.
    """
    wanted = [look for look in filed.looks if look.target_id]
    only = frozenset(look.target_id for look in wanted)
    conditions = night_conditions(
        replace(request, only=only, include_all=True, limit=None, start=None, end=None)
    )
    groups = judged_groups(conditions)
    places = {str(groups[entry.group].ids[entry.number]): entry for entry in ranked(groups, True)}
    targets, moments = [], []
    for look in wanted:
        entry = places.get(look.target_id)
        if entry is None:
            raise UsageError(
                f"{look.name}: no target {look.target_id!r} in the catalogs; make the order anew"
            )
        moment = _moment(conditions, look.start)
        then = at_moments(conditions, groups[entry.group], [entry.number], [moment])
        (target,) = planned_targets(conditions, then, [entry])
        targets.append(replace(target, best_time=look.start, even_start=None, even_end=None))
        moments.append(moment)
    hops = target_hops(conditions, targets, moments)
    calls = [
        Call(number, look.start, look.end, target, hop)
        for number, (look, target, hop) in enumerate(zip(wanted, targets, hops, strict=True), 1)
    ]
    plan = replace(plan_of(conditions, groups, []), targets=tuple(targets))
    return replace(_outing(conditions, plan, calls), from_order=True)


def _outing(conditions: Conditions, plan: Plan, calls: list[Call]) -> Outing:
    targets = [call.target for call in calls]
    altitude = np.empty((0, len(conditions.instants)))
    if targets:
        altitude = track(
            conditions.request.site, conditions.grid,
            np.array([t.ra_deg for t in targets]), np.array([t.dec_deg for t in targets]),
        ).altitude_deg  # fmt: skip
    curves = Curves(
        conditions.instants, conditions.sun.altitude_deg, conditions.moon.altitude_deg, altitude
    )
    return Outing(conditions.request, plan, tuple(calls), curves)


def _moment(conditions: Conditions, when: dt.datetime) -> int:
    """The moment of the night's grid nearest to a time.

    Raises UsageError for a time of another night.
    """
    seconds = seconds_between(conditions.instants[0], when)
    known = conditions.grid.seconds
    if not known[0] - 1800.0 <= seconds <= known[-1] + 1800.0:
        raise UsageError(
            f"{when:%Y-%m-%d %H:%M} is not in the night of {conditions.night.date}; give the "
            "order's own --date"
        )
    return int(np.argmin(np.abs(known - seconds)))
