"""`planner sheet`: the night on paper, or as a page for a phone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from planner.cli.file_path import FilePath
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import choice_options, night_options, open_kit, order_option


@click.command()
@night_options
@choice_options
@order_option("time")
@click.option(
    "-o",
    "--output",
    metavar="FILE.pdf|html",
    required=True,
    type=FilePath(dir_okay=False),
    help="The file to write: PDF for paper, HTML for a phone.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="The size of the PDF's pages.",
)
@click.option(
    "--pages",
    type=click.Choice(["list", "charts", "all"]),
    default="all",
    show_default=True,
    help="Of the PDF: the list, two targets a page with their charts, or both.",
)
@click.option(
    "--plan",
    "plan_path",
    metavar="FILE",
    type=FilePath(dir_okay=False),
    help="An order printed by plan --format json; without it, the night's list.",
)
def sheet(
    kinds: str | None,
    constellation: str | None,
    faintest: float | None,
    limit: int | None,
    order: str,
    output: str,
    paper: str,
    pages: str,
    plan_path: str | None,
    **night: Any,
) -> None:
    """Print the night: a list with boxes to tick, and charts that lead to each target.

    The first page shows the night at a glance. Each target then has the sky by eye, the finder's
    view with the way star by star, and the field of the lowest power, turned as the telescope
    turns it, with room for a drawing. Without a plan the targets are chosen by worth and stand in
    the order of their best time; the numbers are still the ranks by worth. A plan brings its own
    date.

    As HTML it is one page for a phone, red on black, that needs no network: it keeps what you tick
    and note in the browser, and saves it as a file for planner log import.
    """
    from planner.errors import UsageError

    path = Path(output)
    kind = path.suffix.lower()
    if kind not in (".pdf", ".html"):
        raise UsageError(
            f"{output}: the sheet is a PDF for paper or an HTML page for a phone; give a file name "
            "ending in .pdf or .html"
        )
    if not path.parent.is_dir():
        raise UsageError(f"{output}: there is no folder {path.parent}; make it first")
    from planner.night.evening.order_file import read_order

    options = NightOptions(**night)
    filed = None if plan_path is None else read_order(Path(plan_path))
    if filed is not None:
        options = options.usually_on(filed.date)
    kit = open_kit(options.kit_path)
    request = request_for(options, ChoiceOptions(kinds, constellation, faintest, limit), kit)
    from planner.night.evening.outing import listed_outing, ordered_outing
    from planner.sheets.listing import Order
    from planner.sheets.paper import Part, listed_in, write_paper

    outing = listed_outing(request) if filed is None else ordered_outing(request, filed)
    if kind == ".html":
        from planner.sheets.phone.writing import write_phone_page

        count = write_phone_page(listed_in(outing, Order(order)), path)
        click.echo(f"wrote {path}: {count} targets on one page")
        return
    count = write_paper(outing, path, paper, Part(pages), Order(order))
    click.echo(f"wrote {path}: {len(outing.calls)} targets on {count} page{'s' * (count > 1)}")
