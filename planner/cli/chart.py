"""`planner chart`: one finder chart, of a target or of a bare place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.night_request import ChoiceOptions, NightOptions, library_folder, request_for
from planner.cli.options import Moment, Number, night_options, open_kit

if TYPE_CHECKING:
    import datetime as dt

    from planner.charts.panels import Looks
    from planner.charts.sought import Found
    from planner.charts.subject import Subject
    from planner.charts.window import Window
    from planner.kit.kit import Kit
    from planner.night.request import Request
    from planner.targets.names import Match


@dataclass(frozen=True, slots=True)
class _Through:
    """What one looks through, as asked for."""

    eye: bool
    finder: str | None
    eyepiece: str | None
    field_deg: float | None
    orientation: str


@click.command()
@click.argument("name", nargs=-1, required=True)
@night_options
@click.option("-o", "--output", metavar="FILE.pdf|png|svg", required=True,
              type=FilePath(dir_okay=False), help="The file to write.")  # fmt: skip
@click.option("--eye", is_flag=True, help="As the bare eye sees it, 40 degrees wide.")
@click.option("--finder", metavar="NAME", help="As this finder of the kit shows it; the widest "
              "with power, where neither this, --eye nor --eyepiece is given.")  # fmt: skip
@click.option("--eyepiece", metavar="NAME", help="As this eyepiece of the kit shows it, or one "
              'with a Barlow ("10 mm + 1.5x Barlow").')  # fmt: skip
@click.option("--field", "field_deg", metavar="DEG", type=Number(0.05, 120.0),
              help="How wide the chart is; as wide as one sees if left out.")  # fmt: skip
@click.option(
    "--time", "clock_time", metavar="HH:MM", type=Moment("clock time", "%H:%M", "21:30"),
    help="When, in that night; when it stands highest in the dark if left out.",
)  # fmt: skip
@click.option("--orientation", type=click.Choice(["as-seen", "upright", "inverted", "mirrored"]),
              default="as-seen", show_default=True,
              help="How the view is turned, if not as the kit says.")  # fmt: skip
def chart(
    name: tuple[str, ...],
    output: str,
    eye: bool,
    finder: str | None,
    eyepiece: str | None,
    field_deg: float | None,
    clock_time: dt.datetime | None,
    orientation: str,
    **night: Any,
) -> None:
    """Draw one chart that leads to a target or to a bare place.

    NAME forgives case and spaces, as for the command target, or is a place in quotes, right
    ascension and declination with its sign: "05 35.3 -05 23".
    """
    through = _Through(eye, finder, eyepiece, field_deg, orientation)
    path = _path(output, through)
    sought, count = _sought(" ".join(name))
    options = NightOptions(**night)
    kit = open_kit(options.kit_path)
    request = request_for(options, ChoiceOptions(), kit)
    looks, request = _looks(kit, request, through)
    from planner.charts.sought import found_at
    from planner.night.conditions import night_conditions

    found = found_at(
        night_conditions(request), sought, None if clock_time is None else clock_time.time()
    )
    _write(request, (looks, through), found, path)
    others = f", the first of the {count} that this name means" if count > 1 else ""
    click.echo(f"wrote {path}: {found.subject.name} at {found.when:%H:%M}{others}")


def _path(output: str, through: _Through) -> Path:
    """The file to write; refused before any work."""
    from planner.errors import UsageError

    path = Path(output)
    if path.suffix.lower() not in (".pdf", ".png", ".svg"):
        raise UsageError(f"{output}: give a file name ending in .pdf, .png or .svg")
    if not path.parent.is_dir():
        raise UsageError(f"{output}: there is no folder {path.parent}; make it first")
    if sum((through.eye, through.finder is not None, through.eyepiece is not None)) > 1:
        raise UsageError("--eye, --finder and --eyepiece exclude one another; give one")
    return path


def _sought(text: str) -> tuple[Match | Subject, int]:
    """What the words mean, and of how many things they are the name."""
    from planner.charts.sought import bare_place
    from planner.importers.library import load_all_names
    from planner.targets.names import find
    from planner.targets.sky_position import sky_position_deg

    place = sky_position_deg(text)
    if place is not None:
        return bare_place(*place), 1
    matches = find(load_all_names(library_folder()), text)
    return matches[0], len(matches)


def _looks(kit: Kit, request: Request, through: _Through) -> tuple[Looks, Request]:
    """What one looks through, and the request with the finder that leads."""
    from planner.charts.panels import Looks, main_finder

    if through.finder is not None:
        request = replace(request, finders=(kit.finder(through.finder),))
    views = request.views
    view = max(views, key=lambda view: view.true_field_deg)
    if through.eyepiece is not None:
        view = kit.view(request.telescope, through.eyepiece)
    return Looks(request.setup, main_finder(request.finders), view), request


def _write(request: Request, through: tuple[Looks, _Through], found: Found, path: Path) -> None:
    from planner.charts.chart import build_chart
    from planner.charts.sky import skies_at
    from planner.sheets.one_chart import named_scene, write_chart

    window = _window(*through, found)
    (sky,) = skies_at(request.site, [found.when])
    hop = None if window.look == "telescope" else found.hop
    scene = build_chart(found.subject, window, sky, hop)
    write_chart(named_scene(scene, found, request.site.name, hop is not None), path)


def _window(looks: Looks, through: _Through, found: Found) -> Window:
    from planner.charts.panels import eye_window, finder_window, view_window
    from planner.optics.turn import IMAGE_TURNS
    from planner.sheets.one_chart import RADIUS_PT

    if through.eyepiece is not None or (looks.finder is None and not through.eye):
        window = view_window(RADIUS_PT, looks.setup, looks.low, found.altitude_deg)
    elif through.eye or looks.finder is None:
        window = eye_window(RADIUS_PT, looks)
    else:
        window = finder_window(RADIUS_PT, looks.finder, found.hop)
    if through.orientation != "as-seen":
        window = replace(window, turn=IMAGE_TURNS[through.orientation])
    return window if through.field_deg is None else window.made(through.field_deg)
