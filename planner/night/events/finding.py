"""All events of the coming nights, in order of time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.night.events.event import EventKind
from planner.night.events.lunar_eclipses import lunar_eclipses
from planner.night.events.meetings import meetings
from planner.night.events.occultations import occultations
from planner.night.events.rhythms import algol, double_shadows
from planner.night.events.seasons import seasons
from planner.night.events.sky_hours import sky_hours

if TYPE_CHECKING:
    import datetime as dt

    from planner.ephemeris.site import Site
    from planner.night.events.event import Event
    from planner.optics.view import View

EVENT_LEAST_ALTITUDE_DEG = 5.0  # an event is worth a low look; own judgement


@dataclass(frozen=True, slots=True)
class EventRequest:
    """Which nights, at which site, with which views."""

    site: Site
    views: tuple[View, ...]
    first: dt.date
    days: int
    algol_epoch_hjd: float


def coming_events(request: EventRequest) -> tuple[Event, ...]:
    """The events from noon of the first date on, those the site sees and the planets' seasons.

    An eclipse of the Moon is told also where the site does not see it.

    Raises:
        DateOutsideEphemerisError: some of it is beyond the ephemeris.
    """
    hours = sky_hours(request.site, request.first, request.days, EVENT_LEAST_ALTITUDE_DEG)
    found = meetings(hours, request.views) + seasons(hours) + lunar_eclipses(hours)
    covered = occultations(hours)
    found += covered + double_shadows(hours) + algol(hours, request.algol_epoch_hjd)
    hidden = {event.bodies[0] for event in covered}
    kept = [
        event
        for event in found
        if not (event.kind is EventKind.BY_THE_MOON and event.bodies[0] in hidden)
    ]
    return tuple(sorted(kept, key=lambda event: event.when))
