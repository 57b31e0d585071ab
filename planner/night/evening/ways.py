"""The way to each target of a plan at its best time."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from planner.night.conditions import night_conditions
from planner.night.evening.leading import target_hops

if TYPE_CHECKING:
    from planner.night.plan import Plan
    from planner.night.request import Request


def with_ways(request: Request, plan: Plan) -> Plan:
    """The same plan, each target that is usable with the way to it at its best time."""
    led = [target for target in plan.targets if target.best_time is not None]
    if not led:
        return plan
    conditions = night_conditions(request)
    places = {instant: number for number, instant in enumerate(conditions.instants)}
    moments = [places[target.best_time] for target in led if target.best_time]
    ways = {
        target.id: hop
        for target, hop in zip(led, target_hops(conditions, led, moments), strict=True)
    }
    targets = tuple(replace(target, hop=ways.get(target.id)) for target in plan.targets)
    return replace(plan, targets=targets)
