"""`planner tonight`: the list of what this telescope shows or splits."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import NOW, choice_options, format_option, night_options, order_option
from planner.errors import UsageError

if TYPE_CHECKING:
    import datetime as dt

    from planner.night.plan import Plan
    from planner.sheets.listing import Order


@click.command()
@night_options
@choice_options
@click.option("--all", "include_all", is_flag=True, help="Also what is not shown, and why.")
@click.option(
    "--now", is_flag=True, help="Only what is still to come: neither done tonight nor past."
)
@order_option("worth")
@format_option
def tonight(
    kinds: str | None,
    constellation: str | None,
    faintest: float | None,
    limit: int | None,
    wanted_list: str | None,
    only_new: bool,
    only_again: bool,
    include_all: bool,
    now: bool,
    order: str,
    output_format: str,
    **night: Any,
) -> None:
    """List what this telescope shows or splits tonight, the most worthwhile first.

    In the table a double's margin is the worst zenith seeing, in arcseconds, in which it looks
    as told; for everything else it is magnitudes in hand. The numbers are ranks by worth, in either
    order.
    """
    if now:
        night["start"] = _from_now(night["start"])
    request = request_for(
        NightOptions(**night),
        ChoiceOptions(
            kinds, constellation, faintest, limit, include_all, output_format == "text",
            wanted_list, only_new, only_again,
        ),
    )  # fmt: skip
    from planner.night.planning import make_plan
    from planner.sheets.listing import Order

    plan = make_plan(request)
    click.echo(_rendered(plan, Order(order), output_format), nl=output_format != "csv")


def _from_now(start: dt.datetime | str | None) -> str:
    """The word for now. Raises UsageError where another time is asked for too."""
    if start not in (None, NOW):
        raise UsageError("--now leaves no room for another --from; give one or the other")
    return NOW


def _rendered(plan: Plan, order: Order, output_format: str) -> str:
    from planner.sheets.listing import listing

    if output_format == "text":
        from planner.sheets.night_text import night_text

        return night_text(plan, order)
    plan = replace(plan, targets=tuple(target for _, target in listing(plan, order)))
    from planner.sheets.json_text import json_text
    from planner.sheets.night_document import COLUMNS, night_document, target_rows

    if output_format == "json":
        return json_text(night_document(plan))
    from planner.sheets.rows import csv_text

    return csv_text(target_rows(plan), COLUMNS)
