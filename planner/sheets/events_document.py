"""The coming events as one JSON object, format ``planner-events/1``, and as a calendar."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

from planner.night.events.event import EventKind
from planner.sheets.calendar_text import CalendarEntry, calendar_key, calendar_text
from planner.sheets.event_words import event_details, event_title
from planner.sheets.json_text import iso_time, rounded

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.ephemeris.site import Site
    from planner.night.events.event import Event

FORMAT = "planner-events/1"
SHORT_ENTRY = dt.timedelta(minutes=30)  # of an event that has no length of its own


def events_document(
    site: Site, first: dt.date, days: int, events: Sequence[Event]
) -> dict[str, Any]:
    """Everything as plain dicts, lists, numbers, texts and None."""
    return {
        "format": FORMAT,
        "site": {"name": site.name, "timezone": site.timezone},
        "first_date": first.isoformat(),
        "days": days,
        "events": [event_row(event) for event in events],
    }


def event_row(event: Event) -> dict[str, Any]:
    """One event as a flat dict."""
    return {
        "kind": event.kind.value,
        "title": event_title(event),
        "bodies": list(event.bodies),
        "time": iso_time(event.time),
        "best_time": iso_time(event.best_time),
        "start": iso_time(event.start),
        "end": iso_time(event.end),
        "seen": event.seen,
        "separation_deg": rounded(event.separation_deg, 3),
        "altitude_deg": rounded(event.altitude_deg, 1),
        "azimuth_deg": rounded(event.azimuth_deg, 1),
        "umbral_magnitude": rounded(event.magnitude, 3),
        "eyepiece": None if event.view is None else event.view.name,
        "good_to_min": event.good_to_min,
        "contacts": [
            {
                "name": contact.name,
                "time": iso_time(contact.time),
                "altitude_deg": round(contact.altitude_deg, 1),
                "seen": contact.seen,
            }
            for contact in event.contacts
        ],
        "details": event_details(event),
    }


def events_calendar(site: Site, events: Sequence[Event], stamp: dt.datetime) -> str:
    """A calendar after RFC 5545, one entry an event; ``stamp`` is when it was made (aware)."""
    return calendar_text((_entry(site, event) for event in events), stamp)


def _entry(site: Site, event: Event) -> CalendarEntry:
    begin = event.when if event.kind is EventKind.ALGOL else event.start or event.when
    end = event.end if event.end and event.kind is not EventKind.ALGOL else None
    told = begin.astimezone(dt.UTC)
    return CalendarEntry(
        key=calendar_key(event.kind.name, f"{told:%Y%m%dT%H%M}", *event.bodies),
        title=event_title(event),
        begin=begin,
        end=end or told + SHORT_ENTRY,
        place=site.name,
        details=event_details(event),
    )
