"""One target of a night, with its course and its place on the night's list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from planner.night.conditions import night_conditions
from planner.night.judging import judged_groups
from planner.night.margin_curve import margin_curve
from planner.night.moon_tonight import feature_moment, moon_at, with_moon
from planner.night.pair_times import tested_seeing
from planner.night.planning import plan_of
from planner.night.ranking import ranked
from planner.night.satellites import with_satellites
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.night.margin_curve import MarginCurve
    from planner.night.moon_tonight import MoonTonight
    from planner.night.plan import Plan, PlannedTarget
    from planner.night.request import Request


def plan_single(request: Request) -> tuple[Plan, tuple[MarginCurve, ...]]:
    """The plan that holds only the targets of ``request.only``, and the course of each.

    Every one of them is in the plan, shown or not, the most worthwhile first.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
    """
    conditions = night_conditions(replace(request, include_all=True, limit=None))
    groups = judged_groups(conditions)
    chosen = ranked(groups, include_all=True)
    leads = [(groups[e.group], int(groups[e.group].systems.lead[e.number])) for e in chosen]
    curves = tuple(margin_curve(conditions, group, row) for group, row in leads)
    plan = plan_of(conditions, groups, chosen)
    targets = tuple(
        with_moon(
            conditions, with_satellites(conditions, _with_mirror_test(conditions, *lead, target))
        )
        for lead, target in zip(leads, plan.targets, strict=True)
    )
    return replace(plan, targets=targets), curves


def _with_mirror_test(
    conditions: Conditions, group: Judged, row: int, target: PlannedTarget
) -> PlannedTarget:
    """The same target, a double with what the mirror test leaves open of its worst seeing."""
    double = target.double
    if double is None or double.limiting_seeing_arcsec is None:
        return target
    tested = tested_seeing(conditions, group, row)
    if tested is None:
        return target
    return replace(target, detail=replace(double, tested_seeing_arcsec=tested))


def plan_lunar_feature(request: Request, row: int) -> tuple[Plan, MoonTonight | None]:
    """The plan that holds the Moon alone, and one feature of hers when it is best looked at.

    ``row`` in the table of features; None for the second where the Moon cannot be used that night.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
    """
    only = replace(
        request, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}), include_all=True
    )
    conditions = night_conditions(only)
    groups = judged_groups(conditions)
    plan = plan_of(conditions, groups, ranked(groups, include_all=True))
    moment = feature_moment(conditions, plan.targets[0], row)
    return plan, None if moment is None else moon_at(conditions, moment, [row])


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

    The whole night is judged for it (0.7 s), but nothing written out. A target that is not a
    line of its own there has no place.
    """
    wanted = {target.id for target in targets if target.shown}
    if not wanted:
        return {}
    whole = replace(request, only=None, include_all=False)
    groups = judged_groups(night_conditions(whole))
    order = ranked(groups, include_all=False)
    usual = len(order) if whole.limit is None else whole.limit
    names = [str(groups[entry.group].ids[entry.number]) for entry in order]
    return {
        name: ListPlace(place, len(order), place <= usual)
        for place, name in enumerate(names, start=1)
        if name in wanted
    }
