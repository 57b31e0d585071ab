"""The evening's order as a calendar file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.sheets.calendar_text import CalendarEntry, calendar_key, calendar_text
from planner.sheets.evening_text import below
from planner.sheets.night_words import eyepiece_words
from planner.sheets.verdict_words import verdict_words

if TYPE_CHECKING:
    import datetime as dt

    from planner.night.evening.evening import Evening, Look


def evening_calendar(evening: Evening, stamp: dt.datetime) -> str:
    """One entry a look, a break too; ``stamp`` (aware) is when it was made."""
    return calendar_text((_entry(evening, look) for look in evening.looks), stamp)


def _entry(evening: Evening, look: Look) -> CalendarEntry:
    target, date = look.target, evening.plan.night.date.isoformat()
    name = "break" if target is None else target.id
    details = "" if target is None else "\n".join([_what_to_expect(look), *below(look)])
    return CalendarEntry(
        key=calendar_key("plan", date, evening.plan.site.name, name, f"{look.start:%H%M}"),
        title="break" if target is None else target.name,
        begin=look.start,
        end=look.end,
        place=evening.plan.site.name,
        details=details,
    )


def _what_to_expect(look: Look) -> str:
    target = look.target
    assert target is not None and target.altitude_deg is not None and target.azimuth_deg is not None
    where = f"{target.altitude_deg:.0f}° high in the {compass_point(target.azimuth_deg)}"
    return f"{where}; {eyepiece_words(target)}; {verdict_words(target)}"
