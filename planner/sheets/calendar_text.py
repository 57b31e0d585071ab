"""Entries as a calendar file after RFC 5545, by the icalendar library."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

PRODUCT = "-//one-telescope-planner//planner//EN"
DOMAIN = "one-telescope-planner"


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One entry: what, where, from when to when (aware), and ``key``, which names it for ever.

    The key has only letters, digits, hyphens and full stops: a calendar knows by it that an entry
    read again is the same one.
    """

    key: str
    title: str
    begin: dt.datetime
    end: dt.datetime
    place: str
    details: str = ""


def calendar_text(entries: Iterable[CalendarEntry], stamp: dt.datetime) -> str:
    """The calendar, lines ending in CR LF; ``stamp`` (aware) is when it was made.

    Times are in UTC, so that no zone has to be described.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    for entry in entries:
        event = Event()
        event.add("uid", f"{entry.key}@{DOMAIN}")
        event.add("dtstamp", stamp.astimezone(dt.UTC))
        event.add("dtstart", entry.begin.astimezone(dt.UTC))
        event.add("dtend", entry.end.astimezone(dt.UTC))
        event.add("summary", entry.title)
        event.add("location", entry.place)
        if entry.details:
            event.add("description", entry.details)
        calendar.add_component(event)
    return str(calendar.to_ical().decode("utf-8"))


def calendar_key(*parts: str) -> str:
    """A key from words: lower case, other characters than letters and digits as hyphens."""
    joined = "-".join(parts).casefold()
    kept = "".join(c if c.isascii() and c.isalnum() else "-" for c in joined)
    return "-".join(part for part in kept.split("-") if part)
