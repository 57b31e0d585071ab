"""`planner moon`: what the Moon shows tonight, feature by feature."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import night_options
from planner.cli.picture import png_path

if TYPE_CHECKING:
    from pathlib import Path

    from planner.night.lunar_nights import LunarNight
    from planner.night.plan import Plan
    from planner.night.request import Request


@click.command()
@night_options
@click.option("--all", "every", is_flag=True, help="Every feature in good light, shown or not.")
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="How to print the result.",
)
@click.option(
    "-o",
    "image",
    metavar="FILE.png",
    type=FilePath(dir_okay=False),
    help="Also draw the Moon, lit as tonight and turned as in the telescope, to this file.",
)
def moon(every: bool, output_format: str, image: str | None, **night: Any) -> None:
    """Tell which features of the Moon this telescope shows tonight, near the terminator.

    Each with its kind, the Sun's height there, its size, and what to look for; how surely it shows
    at the planned minute, and the worst seeing in which it still does. On a night without the Moon
    one line tells the next one.
    """
    path = png_path(image) if image else None
    request = request_for(NightOptions(**night), ChoiceOptions())
    from planner.night.single_target import plan_single
    from planner.targets.kind import Kind

    moon_alone = replace(request, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}))
    plan, _ = plan_single(moon_alone)
    following = _following(request, plan)
    if path is not None:
        _draw(plan, path)
    if output_format == "json":
        from planner.sheets.json_text import json_text
        from planner.sheets.moon_document import moon_document

        click.echo(json_text(moon_document(plan, following)))
        return
    from planner.sheets.moon_text import moon_text

    click.echo(moon_text(plan, following, every=every))


def _draw(plan: Plan, path: Path) -> None:
    from planner.sheets.moon_image import moon_figure
    from planner.sheets.png_file import write_png

    write_png(moon_figure(plan), path)
    click.echo(f"wrote {path}: the Moon", err=True)


def _following(request: Request, plan: Plan) -> LunarNight | None:
    """The next night with the Moon where this one has none."""
    from planner.night.lunar_nights import next_moon

    if plan.targets[0].best_time is not None:
        return None
    return next_moon(request.site, request.date, request.least_altitude_deg)
