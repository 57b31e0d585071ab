"""`planner tonight`: the list of what this telescope shows or splits."""

from __future__ import annotations

import json
from typing import Any

import click

from planner.cli.asking import ChoiceOptions, NightOptions, request_for
from planner.cli.options import choice_options, format_option, night_options


@click.command()
@night_options
@choice_options
@click.option("--all", "include_all", is_flag=True, help="Also what is not shown, and why.")
@format_option
def tonight(
    kinds: str | None,
    constellation: str | None,
    faintest: float | None,
    limit: int | None,
    include_all: bool,
    output_format: str,
    **night: Any,
) -> None:
    """List what this telescope shows or splits tonight, the most worthwhile first.

    In the table a double's margin is the worst zenith seeing, in arcseconds, in which it still
    goes; for everything else it is magnitudes in hand.
    """
    request = request_for(
        NightOptions(**night),
        ChoiceOptions(kinds, constellation, faintest, limit, include_all),
    )
    from planner.night.making import make_plan

    plan = make_plan(request)
    click.echo(_rendered(plan, output_format), nl=output_format != "csv")


def _rendered(plan: Any, output_format: str) -> str:
    if output_format == "text":
        from planner.sheets.night_text import night_text

        return night_text(plan)
    from planner.night.document import COLUMNS, night_document, target_row

    if output_format == "json":
        return json.dumps(night_document(plan), indent=1, ensure_ascii=False, allow_nan=False)
    from planner.sheets.rows import csv_text

    return csv_text([target_row(target) for target in plan.targets], COLUMNS)
