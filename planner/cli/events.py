"""`planner events`: what happens in the coming nights that is worth the alarm clock."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import click

from planner.cli.options import (
    Moment,
    chosen_site,
    kit_option,
    open_kit,
    site_option,
    telescope_option,
)

if TYPE_CHECKING:
    from planner.ephemeris.site import Site

MOST_DAYS = 400


@click.command()
@kit_option
@site_option
@telescope_option
@click.option(
    "--date",
    "date",
    metavar="YYYY-MM-DD",
    type=Moment("date", "%Y-%m-%d", "2026-12-08"),
    help="The first evening's date at the site; the coming night if left out.",
)
@click.option(
    "--days",
    metavar="N",
    type=click.IntRange(1, MOST_DAYS),
    default=30,
    show_default=True,
    help=f"How many nights, 1 to {MOST_DAYS}.",
)
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json", "ics"]),
    default="text",
    show_default=True,
    help="How to print the result; ics is a calendar after RFC 5545.",
)
def events(
    kit_path: str | None,
    site_name: str | None,
    telescope_name: str | None,
    date: dt.datetime | None,
    days: int,
    output_format: str,
) -> None:
    """List the coming events that this site sees and this telescope shows.

    Eclipses and occultations by the Moon, planets close together and by the Moon, two shadows at
    once on Jupiter, minima of Algol, oppositions and greatest elongations.
    """
    from planner.night.events.finding import EventRequest, coming_events

    kit = open_kit(kit_path)
    place = chosen_site(kit, site_name)
    site, views = place.site, kit.views(kit.telescope(telescope_name))
    first = date.date() if date else _coming(site)
    found = coming_events(EventRequest(site, views, first, days, kit.algol_epoch))
    if output_format == "text":
        from planner.sheets.events_text import events_text

        click.echo(events_text(site, first, days, found))
        return
    from planner.sheets.events_document import events_calendar, events_document

    if output_format == "ics":
        click.echo(events_calendar(site, found, dt.datetime.now(dt.UTC)), nl=False)
        return
    document = events_document(site, first, days, found)
    from planner.sheets.json_text import json_text

    click.echo(json_text(document))


def _coming(site: Site) -> dt.date:
    from planner.ephemeris.civil_night import coming_night_date

    return coming_night_date(site, dt.datetime.now(dt.UTC))
