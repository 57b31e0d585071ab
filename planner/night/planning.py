"""Makes the plan of a night: conditions, candidates, verdicts at the best times, ranks, a cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.night.conditions import STEP_MIN, night_conditions
from planner.night.judging import judged_groups
from planner.night.plan import Assumptions, Plan
from planner.night.planned import planned_targets
from planner.night.ranking import ranked

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.events.event import Event
    from planner.night.judging import Judged
    from planner.night.plan import PlannedTarget
    from planner.night.ranking import Entry
    from planner.night.request import Request

FULL_MOON_DEG = 9.0  # phase angle that a night with an eclipse in it stays below; geometry


def make_plan(request: Request) -> Plan:
    """The plan that answers a request, targets most worth going out for first.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        CatalogError: a catalog is missing or damaged.
    """
    conditions = night_conditions(request)
    groups = judged_groups(conditions)
    order = ranked(groups, request.include_all)
    shown = sum(int(group.shown.sum()) for group in groups)
    chosen = order[:shown][: request.limit] + order[shown:][: request.limit]
    return plan_of(conditions, groups, chosen)


def plan_of(conditions: Conditions, groups: list[Judged], chosen: list[Entry]) -> Plan:
    """The plan that holds the chosen targets."""
    request = conditions.request
    return Plan(
        site=request.site,
        night=conditions.night,
        moon_illuminated_fraction=_moon_fraction(conditions),
        telescope=request.telescope,
        views=request.views,
        assumptions=assumptions(request),
        targets=_planned(conditions, groups, chosen),
        considered=sum(group.considered for group in groups),
        shown_count=sum(int(group.shown.sum()) for group in groups),
        hidden_count=sum(int((~group.shown).sum()) for group in groups),
        start=request.start,
        end=request.end,
        start_usual=request.start_usual,
        end_usual=request.end_usual,
        lowest_sun_deg=_lowest_sun_deg(conditions),
        sun_ever_down=bool(conditions.sun_down.any()),
        twilight_ever_over=bool(conditions.twilight_over.any()),
        events=_eclipse(conditions),
    )


def _planned(
    conditions: Conditions, groups: list[Judged], chosen: list[Entry]
) -> tuple[PlannedTarget, ...]:
    """The chosen targets in their order, each group worked out at once."""
    found: dict[int, PlannedTarget] = {}
    for number, group in enumerate(groups):
        places = [place for place, entry in enumerate(chosen) if entry.group == number]
        planned = planned_targets(conditions, group, [chosen[place] for place in places])
        found.update(zip(places, planned, strict=True))
    return tuple(found[place] for place in range(len(chosen)))


def assumptions(request: Request) -> Assumptions:
    """What the verdicts of a request rest on."""
    return Assumptions(
        seeing_arcsec=request.seeing_arcsec,
        sky_mag_per_arcsec2=request.zenith_sky_mag,
        sky_words=request.sky_words,
        extinction_mag_per_airmass=round(request.extinction_mag, 3),
        air_words=request.air_words,
        eye_pupil_mm=round(request.observer.dark_pupil_mm, 2),
        eye_field_factor=round(request.observer.field_factor, 2),
        least_exit_pupil_mm=request.observer.least_exit_pupil_mm,
        least_altitude_deg=request.least_altitude_deg,
        time_step_min=STEP_MIN,
        own_log_words=request.own_log_words,
    )


def _eclipse(conditions: Conditions) -> tuple[Event, ...]:
    """An eclipse of the Moon that the site sees tonight; only a full Moon is looked at closer."""
    if float(conditions.moon.phase_angle_deg.min(initial=180.0)) > FULL_MOON_DEG:
        return ()
    from planner.night.events.finding import EVENT_LEAST_ALTITUDE_DEG
    from planner.night.events.lunar_eclipses import lunar_eclipses
    from planner.night.events.sky_hours import sky_hours

    site, date = conditions.request.site, conditions.request.date
    least = min(conditions.request.least_altitude_deg, EVENT_LEAST_ALTITUDE_DEG)
    hours = sky_hours(site, date, 1, least)
    return tuple(event for event in lunar_eclipses(hours) if event.seen)


def _lowest_sun_deg(conditions: Conditions) -> float | None:
    """How deep the Sun is at most in the hours asked for."""
    altitude = conditions.sun.altitude_deg[conditions.hours]
    return float(altitude.min()) if altitude.size else None


def _moon_fraction(conditions: Conditions) -> float:
    """The lit share of the Moon in the middle of the night."""
    lit = conditions.moon.illuminated_fraction
    return float(lit[np.asarray(len(lit) // 2)])
