"""The coming events as a list to read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.event_words import event_details, event_title
from planner.sheets.page_text import wrapped
from planner.sheets.sun_words import EYES

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from planner.ephemeris.site import Site
    from planner.night.events.event import Event

_INDENT = 18


def events_text(site: Site, first: dt.date, days: int, events: Sequence[Event]) -> str:
    """Header, a paragraph for each event, and the caution."""
    until = first.toordinal() + days
    last = first.fromordinal(until)
    head = f"Events at {site.name} ({site.timezone}), {first:%d %B %Y} to {last:%d %B %Y}"
    if not events:
        return "\n\n".join([head, "Nothing in these nights.", wrapped(EYES, 0)])
    lines = []
    for event in events:
        details = event_details(event)
        text = event_title(event) + (f": {details}" if details else "")
        lines.append(wrapped(f"{event.when:%a %d %b %H:%M}  {text}", _INDENT))
    note = (
        "Times are the site's clock, of the moment to look. Listed is what stands above 5° and the "
        "local horizon with the Sun safely down; oppositions and elongations always."
    )
    return "\n\n".join([head, "\n".join(lines), wrapped(note, 0), wrapped(EYES, 0)])
