"""Which night, as one JSON object, format ``planner-nights/1``, and as a calendar file."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

from planner.sheets.calendar_text import CalendarEntry, calendar_key, calendar_text
from planner.sheets.nights_words import chance_verdict, chance_words, moon_words

if TYPE_CHECKING:
    from planner.night.chances import Chance, TargetNights
    from planner.night.nights import Nights

FORMAT = "planner-nights/1"
LOOK = dt.timedelta(minutes=30)  # length of a calendar's entry
ENTRIES = 10  # the best nights only


def nights_document(nights: Nights) -> dict[str, Any]:
    """Every night in order of time with its rank, every target with its chance in each."""
    places = {number: place for place, number in enumerate(nights.ranked, start=1)}
    return {
        "format": FORMAT,
        "site": {"name": nights.site.name, "timezone": nights.site.timezone},
        "hours_from": None if nights.start is None else f"{nights.start:%H:%M}",
        "hours_until": None if nights.end is None else f"{nights.end:%H:%M}",
        "nights": [
            {
                "date": night.date.isoformat(),
                "rank": places.get(number),
                "hours_minutes": night.minutes,
                "dark_minutes": night.dark_minutes,
                "moon_illuminated_fraction": round(night.moon_fraction, 3),
                "moon_minutes": night.moon_minutes,
                "worth": round(night.worth, 2),
            }
            for number, night in enumerate(nights.nights)
        ],
        "targets": [_target(target) for target in nights.targets],
    }


def nights_calendar(nights: Nights, stamp: dt.datetime) -> str:
    """The best nights as entries at the first target's best moment; ``stamp`` is aware.

    Without named targets an entry begins with the first moment of any that is shown.
    """
    entries = []
    for number in nights.ranked[:ENTRIES]:
        night = nights.nights[number]
        chances = [(t.target.name, t.chances[number]) for t in nights.targets]
        shown = [(name, c) for name, c in chances if c is not None and c.shown]
        if not shown:
            continue
        begin = min(chance.moment for _, chance in shown)
        names = ", ".join(name for name, _ in shown[:3])
        title = names if nights.named else f"{len(shown)} showpieces"
        details = [f"Moon {moon_words(night.moon_fraction, night.moon_minutes)}"]
        details += [f"{name}: {chance_words(chance)}" for name, chance in shown[:20]]
        date = night.date.isoformat()
        what = [t.target.id for t in nights.targets[:3]] if nights.named else ["showpieces"]
        entries.append(
            CalendarEntry(
                key=calendar_key("night", date, nights.site.name, *what),
                title=f"Telescope: {title}",
                begin=begin,
                end=begin + LOOK,
                place=nights.site.name,
                details="\n".join(details),
            )
        )
    return calendar_text(entries, stamp)


def _target(target: TargetNights) -> dict[str, Any]:
    return {
        "id": target.target.id,
        "name": target.target.name,
        "kind": target.target.kind.value,
        "margin_unit": target.unit.value,
        "nights": [_chance(chance) for chance in target.chances],
    }


def _chance(chance: Chance | None) -> dict[str, Any] | None:
    if chance is None:
        return None
    return {
        "best_time": chance.moment.isoformat(timespec="minutes"),
        "altitude_deg": round(chance.altitude_deg, 1),
        "azimuth_deg": round(chance.azimuth_deg, 1),
        "shown": chance.shown,
        "verdict": chance_verdict(chance),
        "margin": None if chance.margin is None else round(chance.margin, 2),
        "view": None if chance.view is None else chance.view.name,
        "moon_up": chance.moon_up,
    }
