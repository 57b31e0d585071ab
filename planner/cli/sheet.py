"""`planner sheet`: the night's list on paper."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from planner.cli.file_path import FilePath
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import choice_options, night_options, order_option


@click.command()
@night_options
@choice_options
@order_option("time")
@click.option(
    "-o",
    "--output",
    metavar="FILE.pdf",
    required=True,
    type=FilePath(dir_okay=False),
    help="The PDF file to write.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="The size of the pages.",
)
def sheet(
    kinds: str | None,
    constellation: str | None,
    faintest: float | None,
    limit: int | None,
    order: str,
    output: str,
    paper: str,
    **night: Any,
) -> None:
    """Print the night's list to a PDF: a box to tick and room for a note at each target.

    The targets are chosen by worth and stand in the order of their best time, so that you work
    down the page as the night goes on; the numbers are still the ranks by worth.
    """
    from planner.errors import UsageError

    path = Path(output)
    if path.suffix.lower() != ".pdf":
        raise UsageError(f"{output}: the sheet is a PDF; give a file name ending in .pdf")
    if not path.parent.is_dir():
        raise UsageError(f"{output}: there is no folder {path.parent}; make it first")
    request = request_for(
        NightOptions(**night), ChoiceOptions(kinds, constellation, faintest, limit)
    )
    from planner.night.planning import make_plan
    from planner.sheets.listing import Order
    from planner.sheets.paper import write_paper

    plan = make_plan(request)
    pages = write_paper(plan, path, paper, Order(order))
    click.echo(f"wrote {path}: {len(plan.targets)} targets on {pages} page{'s' * (pages > 1)}")
