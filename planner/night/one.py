"""One target of a night, with its course and its place on the night's list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.night.circumstances import circumstances
from planner.night.making import judged_groups, plan_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.night.circumstances import Circumstances
    from planner.night.course import Course
    from planner.night.judged import Judged
    from planner.night.plan import Plan, PlannedTarget
    from planner.night.request import Request

WORTH_SLACK = 9.1  # the further pairs of a multiple star add up to 9 to its worth on the list


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


@dataclass(frozen=True, slots=True)
class ListPlace:
    """Where a target stands on the whole night's list by worth, from 1, and how long that is.

    ``listed`` tells whether the list, cut to its usual length, still has it.
    """

    place: int
    shown_count: int
    listed: bool


def list_places(request: Request, targets: Sequence[PlannedTarget]) -> dict[str, ListPlace]:
    """The place of each target shown, by id; the request is the one that the targets answer.

    The whole night is judged for it (0.7 s), but only targets of about the same worth are written
    out. A target that is not a line of its own there has no place.
    """
    whole = replace(request, only=None, include_all=False)
    shown = [target for target in targets if target.shown]
    if not shown:
        return {}
    found = circumstances(whole)
    groups = judged_groups(whole, found)
    order = _order(whole, found, groups, shown[0])
    worths = np.array([groups[group].worth[row] for group, row in order])
    places = {}
    for target in shown:
        apart = np.abs(worths - target.worth)
        for index in np.argsort(apart, kind="stable")[: np.count_nonzero(apart < WORTH_SLACK)]:
            group, row = order[index]
            if groups[group].write(row).id == target.id:
                listed = whole.limit is None or index < whole.limit
                places[target.id] = ListPlace(int(index) + 1, len(order), bool(listed))
                break
    return places


def _order(
    whole: Request, found: Circumstances, groups: list[Judged], any_target: PlannedTarget
) -> list[tuple[int, int]]:
    """Group and row of everything shown, in the order of the list, nothing written out."""
    unwritten = [replace(group, write=lambda row: any_target) for group in groups]
    return plan_of(replace(whole, limit=None), found, unwritten)[1]
