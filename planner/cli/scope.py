"""`planner scope`: what the telescope and each eyepiece do for this eye."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from planner.cli.file_path import FilePath
from planner.cli.limits_use import with_limits_told
from planner.cli.masks import masks_answer
from planner.cli.options import (
    Number,
    air_option,
    chosen_site,
    extinction,
    format_option,
    kit_option,
    limits_option,
    open_kit,
    site_option,
    telescope_option,
)
from planner.cli.picture import png_path

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.verdict.scope.purpose import RankedView
    from planner.verdict.setup import Setup

PURPOSES = (
    "galaxies", "nebulae", "globulars", "clusters", "planets", "doubles", "sweeping",
)  # fmt: skip


@click.command()
@kit_option
@telescope_option
@site_option
@air_option
@click.option(
    "--exit-pupil",
    "exit_pupil_mm",
    metavar="MM",
    type=Number(0.1, 20.0),
    help="Order the eyepieces by nearness to this exit pupil.",
)
@click.option(
    "--for",
    "purpose",
    type=click.Choice(PURPOSES),
    help="Order the eyepieces by how well they suit this purpose.",
)
@click.option(
    "--mask-study",
    is_flag=True,
    help="Tell whether a mask over the mirror's edge pays, for pairs equal and unequal.",
)
@click.option(
    "--turned-edge",
    metavar="WIDTH,WAVES",
    help='With --mask-study: the turned zone and the error of the wave at the rim, "6 mm,1"; '
    "from the kit if left out.",
)
@click.option(
    "-o",
    "--output",
    metavar="FILE.png",
    type=FilePath(dir_okay=False),
    help="With --mask-study: also draw the study.",
)
@limits_option
@format_option
def scope(
    kit_path: str | None,
    telescope_name: str | None,
    site_name: str | None,
    air: str | None,
    exit_pupil_mm: float | None,
    purpose: str | None,
    mask_study: bool,
    turned_edge: str | None,
    output: str | None,
    own_limits: bool,
    output_format: str,
) -> None:
    """Tell what the telescope and each eyepiece do for your eye under your sky.

    Without a question: resolution, light, useful powers, and every eyepiece with and without
    each Barlow. With --for or --exit-pupil: the eyepieces in order, each with its reason. With
    --mask-study: the worst seeing in which pairs split, over masks of the aperture.
    """
    if exit_pupil_mm is not None and purpose is not None:
        raise click.UsageError("give either --exit-pupil or --for, not both")
    if mask_study and (exit_pupil_mm is not None or purpose is not None):
        raise click.UsageError("--mask-study goes with neither --exit-pupil nor --for")
    if not mask_study and (turned_edge is not None or output is not None):
        raise click.UsageError("--turned-edge and --output need --mask-study")
    chart = png_path(output) if output else None
    kit = open_kit(kit_path)
    from planner.verdict.setup import Setup

    place = chosen_site(kit, site_name)
    setup = Setup(
        telescope=kit.telescope(telescope_name),
        observer=kit.observer,
        zenith_sky_mag=place.zenith_sky_mag,
        seeing_arcsec=place.seeing_arcsec,
        extinction_mag=extinction(air, place)[0],
    )
    views = kit.views(setup.telescope)
    setup = with_limits_told(setup, kit, place, asked=own_limits)
    if mask_study:
        click.echo(masks_answer(setup, views, turned_edge, chart, output_format), nl=False)
        return
    ranked = _ranked(setup, views, kit.filters, exit_pupil_mm, purpose)
    question = f"Best for {purpose}"
    if exit_pupil_mm is not None:
        question = f"Nearest to an exit pupil of {exit_pupil_mm:g} mm"
    click.echo(_rendered(setup, views, ranked, question, output_format), nl=output_format != "csv")


def _ranked(
    setup: Setup,
    views: Sequence[View],
    filters: Sequence[Filter],
    exit_pupil_mm: float | None,
    purpose: str | None,
) -> tuple[RankedView, ...] | None:
    """The views in order for the question asked, or None when none was."""
    from planner.verdict.scope.purpose import Purpose, rank_by_exit_pupil, rank_for_purpose

    if exit_pupil_mm is not None:
        return rank_by_exit_pupil(views, exit_pupil_mm)
    if purpose is not None:
        return rank_for_purpose(setup, views, Purpose(purpose), filters)
    return None


def _rendered(
    setup: Setup,
    views: Sequence[View],
    ranked: Sequence[RankedView] | None,
    question: str,
    output_format: str,
) -> str:
    """The answer in the format asked for."""
    from planner.sheets import scope_document, scope_text
    from planner.sheets.rows import csv_text
    from planner.verdict.faintest_star import faintest_star
    from planner.verdict.scope.closest_pairs import closest_pairs
    from planner.verdict.scope.instrument import instrument_summary
    from planner.verdict.scope.limit_reasons import limit_reasons
    from planner.verdict.scope.view_summary import view_summaries

    if output_format == "text" and ranked is not None:
        return scope_text.ranking_text(setup, ranked, question)
    if output_format == "csv" and ranked is not None:
        return csv_text(scope_document.ranking_rows(setup, ranked))
    rows = view_summaries(setup, views)
    if output_format == "csv":
        return csv_text(scope_document.view_rows(rows))
    summary = instrument_summary(setup)
    faintest = faintest_star(setup, [view.exit_pupil_mm for view in views])
    reasons = limit_reasons(setup, faintest.exit_pupil_mm)
    closest = closest_pairs(setup, views)
    if output_format == "json":
        document = scope_document.scope_document(summary, rows, faintest, reasons, closest, ranked)
        from planner.sheets.json_text import json_text

        return json_text(document)
    return scope_text.scope_text(summary, rows, faintest, reasons, closest)
