"""`planner nights`: which of the coming nights is worth it, for given targets or for all."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.lists import list_option
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import night_options

if TYPE_CHECKING:
    from planner.night.nights import Nights

MONTH_NIGHTS, YEAR_NIGHTS, MOST_NIGHTS = 30, 365, 1100


@click.command()
@click.argument("names", nargs=-1)
@night_options
@click.option(
    "--nights", "count", type=click.IntRange(1, MOST_NIGHTS), default=None,
    help=f"How many nights from the date on.  [default: {MONTH_NIGHTS}]",
)  # fmt: skip
@list_option
@click.option("--year", is_flag=True, help="A whole year, with the best of each month.")
@click.option(
    "--format", "output_format", type=click.Choice(["text", "json", "ics"]), default="text",
    show_default=True, help="How to print the nights.",
)  # fmt: skip
def nights(
    names: tuple[str, ...],
    count: int | None,
    wanted_list: str | None,
    year: bool,
    output_format: str,
    **night: Any,
) -> None:
    """Rank the coming nights by what each would show, within your usual hours.

    For the targets named (a name of several words in quotes) or a list, else for the showpieces.
    With --year also when in the year each target stands best.
    """
    if year and count is not None:
        raise click.UsageError("give either --nights or --year, not both")
    if names and wanted_list is not None:
        raise click.UsageError("give either names or --list, not both")
    request = request_for(NightOptions(**night), ChoiceOptions(wanted_list=wanted_list))
    if names:
        from planner.cli.named_targets import judged_ids

        request = replace(request, only=judged_ids(names))
    from planner.night.nights import rank_nights

    found = rank_nights(request, YEAR_NIGHTS if year else count or MONTH_NIGHTS)
    click.echo(_rendered(found, output_format), nl=output_format != "ics")


def _rendered(found: Nights, output_format: str) -> str:
    if output_format == "text":
        from planner.sheets.nights_text import nights_text

        return nights_text(found)
    from planner.sheets.nights_document import nights_calendar, nights_document

    if output_format == "ics":
        return nights_calendar(found, dt.datetime.now(dt.UTC))
    from planner.sheets.json_text import json_text

    return json_text(nights_document(found))
