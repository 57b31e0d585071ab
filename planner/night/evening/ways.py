"""The way to each target of a plan at its best time."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from planner.night.conditions import night_conditions
from planner.night.evening.leading import target_hop

if TYPE_CHECKING:
    from planner.night.plan import Plan
    from planner.night.request import Request


def with_ways(request: Request, plan: Plan) -> Plan:
    """The same plan, each target that is usable with the way to it at its best time."""
    if not any(target.best_time for target in plan.targets):
        return plan
    conditions = night_conditions(request)
    places = {instant: number for number, instant in enumerate(conditions.instants)}
    targets = tuple(
        target
        if target.best_time is None
        else replace(
            target,
            hop=target_hop(conditions, target, places[target.best_time]),
        )
        for target in plan.targets
    )
    return replace(plan, targets=targets)
