"""Which night, as text for a terminal or a pipe, at most 100 columns."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.night_words import cut
from planner.sheets.nights_words import chance_words, date_words, moon_words
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from planner.night.chances import TargetNights
    from planner.night.nights import Nights

NAMED_IN_COLUMNS = 2  # so many targets have a column each; more are counted
LONGEST_CHANCE = 24
SHOWN = 10
MONTHS_FROM_NIGHTS = 100  # from so many nights on each target's months are told


def nights_text(nights: Nights) -> str:
    """The best nights in order, and of a long span each target's months."""
    parts = [wrapped(_header(nights), 0), _ranking(nights)]
    if nights.named and len(nights.nights) >= MONTHS_FROM_NIGHTS:
        parts += [_year(nights, target) for target in nights.targets]
    parts.append(
        wrapped(
            "dark = hours with the Sun 18° down and the Moon below the horizon, within your hours; "
            "a double is judged in the seeing you named, whatever the night brings.",
            0,
        )
    )
    return "\n\n".join(parts)


def _header(nights: Nights) -> str:
    first, last = nights.nights[0].date, nights.nights[-1].date
    what = "the showpieces"
    if nights.named:
        what = ", ".join(target.target.name for target in nights.targets[:4])
        more = len(nights.targets) - 4
        what += f" and {more} more" if more > 0 else ""
    begin = "dusk" if nights.start is None else f"{nights.start:%H:%M}"
    end = "dawn" if nights.end is None else f"{nights.end:%H:%M}"
    return (
        f"Nights for {what} at {nights.site.name} ({nights.site.timezone}), {date_words(first)} to "
        f"{date_words(last)}, {begin} to {end}:"
    )


def _ranking(nights: Nights) -> str:
    ranked = nights.ranked[:SHOWN]
    if not ranked:
        return "In none of these nights is the Sun down in the hours asked for."
    columns = nights.named and len(nights.targets) <= NAMED_IN_COLUMNS
    heads = ["", "evening of", "dark", "Moon"]
    heads += [cut(t.target.name, LONGEST_CHANCE) for t in nights.targets] if columns else ["shown"]
    rows = []
    for place, number in enumerate(ranked, start=1):
        night = nights.nights[number]
        told = [str(place), date_words(night.date), f"{night.dark_minutes / 60.0:.1f} h",
                moon_words(night.moon_fraction, night.moon_minutes)]  # fmt: skip
        if columns:
            told += [chance_words(target.chances[number]) for target in nights.targets]
        else:
            told.append(_count(nights, number))
        rows.append(told)
    return str(tabulate(rows, heads, tablefmt="plain", disable_numparse=True))


def _count(nights: Nights, number: int) -> str:
    chances = [target.chances[number] for target in nights.targets]
    shown = sum(chance is not None and chance.shown for chance in chances)
    return f"{shown} of {len(chances)}"


def _year(nights: Nights, target: TargetNights) -> str:
    """The best chance of each month, and the best time of all."""
    months = nights.months(target)
    rows = [
        [dt.date(year, month, 1).strftime("%b %Y"),
         chance_words(None if number is None else target.chances[number]),
         "" if number is None else f"evening of the {nights.nights[number].date.day}."]
        for (year, month), number in months.items()
    ]  # fmt: skip
    table = str(tabulate(rows, ["month", "best", ""], tablefmt="plain", disable_numparse=True))
    head = wrapped(_season_words(nights, target), 0)
    return f"{head}\n{table}"


def _season_words(nights: Nights, target: TargetNights) -> str:
    """When in the year the target stands best in these hours."""
    season, name = nights.season(target), target.target.name
    if season is None:
        return f"{name} is not shown in these hours on any night. Each month's best:"
    first, last = (nights.nights[number].date for number in season)
    highest = max(c.altitude_deg for c in target.chances if c is not None and c.shown)
    return (
        f"{name} through the year: best from {date_words(first)} to {date_words(last)}, up to "
        f"{highest:.0f}° high in these hours. Each month's best:"
    )
