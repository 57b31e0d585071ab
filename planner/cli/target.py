"""`planner target`: everything about one target tonight."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.lunar_target import feature_page, lunar_feature
from planner.cli.named_targets import ids_judged
from planner.cli.night_request import ChoiceOptions, NightOptions, library_folder, request_for
from planner.cli.options import night_options
from planner.cli.picture import png_path

if TYPE_CHECKING:
    from pathlib import Path

    from click.shell_completion import CompletionItem

    from planner.night.plan import Plan, PlannedTarget
    from planner.night.request import Request
    from planner.verdict.pairs.picture import PairSight


def _complete(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    from click.shell_completion import CompletionItem

    from planner.importers.completion import own_names
    from planner.targets.lunar_names import lunar_names
    from planner.targets.names import complete

    own = (*own_names(library_folder()), *lunar_names())
    return [CompletionItem(name) for name in complete(incomplete, own=own)]


@click.command()
@click.argument("name", nargs=-1, required=True, shell_complete=_complete)
@night_options
@click.option(
    "--course", is_flag=True, help="Also its height, sky and margin every half hour of the night."
)
@click.option(
    "--optics", is_flag=True, help="Also exit pupil, field, drift and each class's worst seeing."
)
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="How to print the result.",
)
@click.option(
    "--image",
    metavar="FILE.png",
    type=FilePath(dir_okay=False),
    help="Draw a double star as it should look, in good moments, tonight's and poor ones.",
)
def target(
    name: tuple[str, ...],
    course: bool,
    optics: bool,
    output_format: str,
    image: str | None,
    **night: Any,
) -> None:
    """Tell whether one target is shown tonight, when, where, with which eyepiece, and how.

    In JSON every field is there, whatever --course and --optics say.

    NAME forgives case and spaces: "m 13", NGC6205, "eps boo", Izar, "STF 1877", "16 Cyg",
    Jupiter. A feature of the Moon too: "rupes recta", Plato, "crater Atlas".
    """
    from planner.errors import UsageError
    from planner.importers.library import load_all_names
    from planner.targets.names import find

    path = png_path(image) if image else None
    text = " ".join(name)
    row = lunar_feature(text)
    if row is not None:
        if path is not None:
            raise UsageError("--image draws double stars; planner moon -o FILE.png draws the Moon")
        request = request_for(NightOptions(**night), ChoiceOptions())
        click.echo(feature_page(request, row, output_format))
        return
    matches = find(load_all_names(library_folder()), text)
    request = request_for(NightOptions(**night), ChoiceOptions())
    from planner.night.evening.ways import with_ways
    from planner.night.single_target import list_places, plan_single

    plan, courses = plan_single(replace(request, only=ids_judged(matches)))
    plan = with_ways(request, plan)
    if path is not None:
        _draw(request, plan, path)
    if output_format == "json":
        from planner.sheets.json_text import json_text
        from planner.sheets.night_document import night_document

        click.echo(json_text(night_document(plan)))
        return
    from planner.sheets.target_text import target_text

    places = list_places(request, plan.targets)
    click.echo(target_text(plan, courses, places, course=course, optics=optics))


def _draw(request: Request, plan: Plan, path: Path) -> None:
    """Draw the best double of the plan to a file, and say which on stderr."""
    from planner.errors import PlannerError, UsageError
    from planner.optics.orientation import orientation_in
    from planner.sheets.pair_image import PairSheet, pair_figure
    from planner.sheets.png_file import write_png
    from planner.sheets.verdict_words import reason_words
    from planner.verdict.pairs.picture import pair_picture

    doubles = [planned for planned in plan.targets if planned.double is not None]
    if not doubles:
        first = plan.targets[0]
        raise UsageError(f"--image draws double stars only; {first.name} is a {first.kind.label}")
    chosen = doubles[0]
    if chosen.view is None:
        reason = reason_words(chosen)
        raise PlannerError(f"{chosen.name}: {reason}; there is nothing to draw, try another --date")
    picture = pair_picture(_sight(request, chosen), orientation_in(request.telescope.design))
    write_png(pair_figure(PairSheet(plan, chosen, chosen.view, picture)), path)
    click.echo(f"wrote {path}: {chosen.name}{_which_pair(doubles)}", err=True)


def _which_pair(doubles: list[PlannedTarget]) -> str:
    """Which pair was drawn, where the name means several."""
    details = [planned.double for planned in doubles if planned.double is not None]
    count = sum(1 + len(double.others) for double in details)
    if count == 1:
        return ""
    return f", pair {details[0].components}, the first of the {count} that this name means"


def _sight(request: Request, planned: PlannedTarget) -> PairSight:
    """The double at its best time in the view chosen for it."""
    from planner.verdict.pairs.judge import split_instrument
    from planner.verdict.pairs.picture import PairSight
    from planner.verdict.pairs.spectrum import SiteAir

    double, view = planned.double, planned.view
    assert double is not None and view is not None and planned.airmass is not None
    return PairSight(
        instrument=split_instrument(request.setup),
        magnification=view.magnification,
        exit_pupil_mm=view.exit_pupil_mm,
        separation_arcsec=double.separation_arcsec,
        position_angle_deg=double.position_angle_deg,
        v1=double.magnitudes[0],
        v2=double.magnitudes[1],
        airmass=planned.airmass,
        extinction_mag=request.extinction_mag,
        zenith_seeing_arcsec=request.seeing_arcsec,
        air=SiteAir(request.site.pressure_hpa, request.site.temperature_c),
    )
