"""Makes the plan of a night: gathers, judges, ranks and cuts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.night.circumstances import STEP_MIN, circumstances, night_notes
from planner.night.deepsky_target import judge_deepsky
from planner.night.double_target import judge_doubles
from planner.night.plan import Assumptions, Plan
from planner.night.solar_list import judge_solar_system
from planner.targets.kind import DEEP_SKY_KINDS, Kind

if TYPE_CHECKING:
    from planner.night.circumstances import Circumstances
    from planner.night.judged import Judged
    from planner.night.request import Request


def make_plan(request: Request) -> Plan:
    """The plan that answers a request, targets most worth going out for first.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        CatalogError: a catalog is missing or damaged.
    """
    found = circumstances(request)
    return plan_of(request, found, judged_groups(request, found))[0]


def plan_of(
    request: Request, found: Circumstances, groups: list[Judged]
) -> tuple[Plan, list[tuple[int, int]]]:
    """The plan of judged groups, and the group and row of each target in it."""
    order = ranked(groups, request.include_all)
    chosen = order if request.limit is None else order[: request.limit]
    plan = Plan(
        site=request.site,
        night=found.night,
        moon_illuminated_fraction=_moon_fraction(found),
        telescope=request.telescope,
        views=request.views,
        assumptions=assumptions(request),
        targets=tuple(groups[group].write(row) for group, row in chosen),
        considered=sum(group.considered for group in groups),
        shown_count=sum(int(group.shown.sum()) for group in groups),
        notes=night_notes(found),
    )
    return plan, chosen


def assumptions(request: Request) -> Assumptions:
    """What the verdicts of a request rest on."""
    return Assumptions(
        seeing_arcsec=request.seeing_arcsec,
        sky_mag_per_arcsec2=request.sky_mag,
        sky_words=request.sky_words,
        extinction_mag_per_airmass=round(request.extinction_mag, 3),
        air_words=request.air_words,
        eye_pupil_mm=round(request.observer.dark_pupil_mm, 2),
        eye_field_factor=round(request.observer.field_factor, 2),
        least_exit_pupil_mm=request.observer.least_exit_pupil_mm,
        least_altitude_deg=request.least_altitude_deg,
        time_step_min=STEP_MIN,
    )


def judged_groups(request: Request, found: Circumstances) -> list[Judged]:
    """The groups of targets that the request asks for, judged."""
    groups = []
    if request.kinds & {Kind.PLANET, Kind.MOON}:
        groups.append(judge_solar_system(found))
    if Kind.DOUBLE in request.kinds:
        groups.append(judge_doubles(found))
    if request.kinds & set(DEEP_SKY_KINDS):
        groups.append(judge_deepsky(found))
    return groups


def ranked(groups: list[Judged], include_all: bool) -> list[tuple[int, int]]:
    """Group and row of every target listed: shown ones by worth, then the rest by worth."""
    entries = [
        (not group.shown[row], -group.worth[row], number, row)
        for number, group in enumerate(groups)
        for row in range(len(group))
        if include_all or group.shown[row]
    ]
    return [(number, int(row)) for _, _, number, row in sorted(entries)]


def _moon_fraction(found: Circumstances) -> float:
    """The lit share of the Moon in the middle of the night."""
    lit = found.moon.illuminated_fraction
    return float(lit[np.asarray(len(lit) // 2)])
