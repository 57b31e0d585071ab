"""Puts an evening in order: which targets, when, and why each stands where it does."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.night.evening.leading import target_hops
from planner.night.evening.preparing import Omitted, prepared
from planner.night.evening.reasons import MOST_REASONS, LeftOut, Reason, Why, reasons_for
from planner.night.other_moments import at_moments
from planner.night.planned import identity, planned_targets
from planner.night.planning import plan_of
from planner.order.problem import FORBIDDEN, HUNDREDTHS
from planner.order.solve import Order, Unmet, resolve, solve

if TYPE_CHECKING:
    import datetime as dt

    from planner.hops.hop import Hop
    from planner.night.evening.order_file import FiledOrder
    from planner.night.evening.preparing import Prepared
    from planner.night.evening.request import EveningRequest
    from planner.night.evening.session import Session
    from planner.night.plan import Plan, PlannedTarget


@dataclass(frozen=True, slots=True)
class Look:
    """One entry of an order: a target as it stands then, or a break with none.

    Times are aware; ``eyepiece_height_m`` is None where the kit does not tell the mount's axis.
    """

    start: dt.datetime
    end: dt.datetime
    target: PlannedTarget | None = None
    why: tuple[Reason, ...] = ()
    eyepiece_height_m: float | None = None
    hop: Hop | None = None


@dataclass(frozen=True, slots=True)
class Evening:
    """A finished order. ``score`` and ``bound`` are in points; no order can exceed the bound.

    ``plan`` is that of the night, its targets those of the order, in its order. ``left_out`` has
    what the observer left out first, then the worthiest; ``unmet`` what he wants and
    cannot have, breaks too. ``prices`` are the solver's, in
    hundredths of a point by target: what an order made anew starts from.
    """

    plan: Plan
    looks: tuple[Look, ...]
    score: float
    bound: float
    idle_minutes: int
    left_out: tuple[Omitted, ...]
    prices: dict[str, int]
    unmet: tuple[Omitted, ...] = ()


def order_evening(asked: EveningRequest) -> Evening:
    """The order of an evening; of an earlier one as much is kept as costs nothing.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        UsageError: the hours asked for hold no night.
    """
    parts = prepared(asked)
    problem = parts.problem
    if len(problem) == 0:
        plan = plan_of(parts.conditions, parts.groups, [])
        unmet = _unmet(parts, {})
        return Evening(plan, (), 0.0, 0.0, len(parts.session), parts.omitted, {}, unmet)
    old = parts.asked.before
    order = solve(problem) if old is None else resolve(problem, _earlier(old, parts.session))
    looks = _looks(parts, order)
    targets = tuple(look.target for look in looks if look.target is not None)
    return Evening(
        plan=replace(plan_of(parts.conditions, parts.groups, []), targets=targets),
        looks=looks,
        score=order.score / HUNDREDTHS,
        bound=order.bound / HUNDREDTHS,
        idle_minutes=order.idle_minutes,
        left_out=parts.omitted + _left_out(parts, order),
        prices=order.prices,
        unmet=_unmet(parts, order.unmet),
    )


def _unmet(parts: Prepared, unmet: dict[str, Unmet]) -> tuple[Omitted, ...]:
    """The must-sees and breaks that are not in the order."""
    found = [i for i in parts.omitted if i.id in parts.asked.must and i.why is LeftOut.NOT_SHOWN]
    for name, why in unmet.items():
        row = parts.problem.ids.index(name)
        if row >= len(parts.pool):
            found.append(Omitted("", name, LeftOut.NO_TIME))
            continue
        entry = parts.pool.entries[row]
        told = identity(parts.groups[entry.group], entry.number).name
        reason = LeftOut.CROSSED if why is Unmet.CONFLICT else _why(parts, row)
        found.append(Omitted(name, told, reason))
    return tuple(found)


def _earlier(filed: FiledOrder, session: Session) -> Order:
    """An order of a file as the solver keeps one."""
    looks = [look for look in filed.looks if look.target_id]
    return Order(
        ids=tuple(look.target_id for look in looks),
        starts=tuple(session.minute(look.start) for look in looks),
        ends=tuple(session.minute(look.end) for look in looks),
        score=round(HUNDREDTHS * filed.score),
        bound=0,
        idle_minutes=0,
        unmet={},
        prices=filed.prices,
    )


def _looks(parts: Prepared, order: Order) -> tuple[Look, ...]:
    """The entries of an order with their targets as they stand then, and the reasons."""
    session, pool, problem = parts.session, parts.pool, parts.problem
    rows = [(problem.ids.index(name), start) for name, start in order.entries]
    seen = [(row, start) for row, start in rows if row < len(pool)]
    targets = _targets(parts, seen)
    moments = [session.moment(start) for _, start in seen]
    hops = target_hops(parts.conditions, [targets[row] for row, _ in seen], moments)
    ways = {row: hop for (row, _), hop in zip(seen, hops, strict=True)}
    looks: list[Look] = []
    last: int | None = None
    for row, start in rows:
        begin, end = session.clock(start), session.clock(start + int(problem.minutes[row]))
        if row >= len(pool):
            looks.append(Look(begin, end))
            last = None
            continue
        wanted = (Reason(Why.WANTED),) if pool.ids[row] in parts.asked.must else ()
        why = wanted + reasons_for(parts, (row, start), last)
        height = float(parts.reach.height_mm[row, start]) / 1000.0
        there = targets[row]
        looks.append(
            Look(
                start=begin,
                end=end,
                target=replace(there, best_time=begin, even_start=None, even_end=None),
                why=why[:MOST_REASONS],
                eyepiece_height_m=None if np.isnan(height) else height,
                hop=ways[row],
            )
        )
        last = row
    return tuple(looks)


def _targets(parts: Prepared, rows: list[tuple[int, int]]) -> dict[int, PlannedTarget]:
    """The targets of some rows of the pool as they stand at the start of their look."""
    found: dict[int, PlannedTarget] = {}
    for number, group in enumerate(parts.groups):
        own = [(row, start) for row, start in rows if parts.pool.entries[row].group == number]
        entries = [parts.pool.entries[row] for row, _ in own]
        moments = [parts.session.moment(start) for _, start in own]
        then = at_moments(parts.conditions, group, [e.number for e in entries], moments)
        planned = planned_targets(parts.conditions, then, entries)
        found.update((row, target) for (row, _), target in zip(own, planned, strict=True))
    return found


def _left_out(parts: Prepared, order: Order) -> tuple[Omitted, ...]:
    """What of the pool is not in the order, the worthiest first."""
    taken = {name for name, _ in order.entries} | {item.id for item in parts.omitted}
    return tuple(
        Omitted(name, identity(parts.groups[entry.group], entry.number).name, _why(parts, row))
        for row, (name, entry) in enumerate(zip(parts.pool.ids, parts.pool.entries, strict=True))
        if name not in taken
    )


def _why(parts: Prepared, row: int) -> LeftOut:
    """Why a target of the pool is not in the order."""
    if (parts.problem.value[row] > FORBIDDEN).any():
        return LeftOut.NO_ROOM
    usable = parts.session.flags_of_night(parts.pool.usable[row])
    if usable.any() and not (usable & parts.reach.reached[row]).any():
        return LeftOut.OUT_OF_REACH
    if usable.any() and not (usable & parts.session.clear).any():
        return LeftOut.CLOUDED
    return LeftOut.TOO_SHORT
