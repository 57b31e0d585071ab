"""One target of a night, with its course."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from planner.night.circumstances import circumstances
from planner.night.making import judged_groups, plan_of

if TYPE_CHECKING:
    from planner.night.course import Course
    from planner.night.plan import Plan
    from planner.night.request import Request


def plan_one(request: Request) -> tuple[Plan, tuple[Course, ...]]:
    """The plan that holds only the targets of ``request.only``, and the course of each.

    Every one of them is in the plan, shown or not, the most worthwhile first.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
    """
    whole = replace(request, include_all=True, limit=None)
    found = circumstances(whole)
    groups = judged_groups(whole, found)
    plan, chosen = plan_of(whole, found, groups)
    return plan, tuple(groups[group].course(row) for group, row in chosen)
