"""`planner log progress`: how far the lists are done, and a page of figures."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.lists import SHIPPED, list_members, list_option
from planner.cli.log_place import open_journal
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import kit_option, open_kit, site_option, telescope_option
from planner.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.log.record import Record
    from planner.night.request import Request

USUAL_V1 = 6.0  # of the first star where the log has no double
STEADY_ARCSEC = 1.0  # the second line: a night to wait for
PICTURES = (".png", ".pdf")


@click.command()
@list_option
@click.option(
    "-o", "--output", metavar="FILE.png|pdf", type=FilePath(dir_okay=False),
    help="A page of figures: doubles by separation and difference, nights and seeing by month.",
)  # fmt: skip
@kit_option
@site_option
@telescope_option
def progress(
    wanted_list: str | None,
    output: str | None,
    kit_path: str | None,
    site_name: str | None,
    telescope_name: str | None,
) -> None:
    """Say how far the lists are done.

    For the list named, also in which month the rest stands best in your usual hours, and what
    this telescope will not show, with the reason.
    """
    if output is not None and Path(output).suffix.lower() not in PICTURES:
        raise UsageError(f"{output}: give a file name ending in .png or .pdf")
    kit = open_kit(kit_path)
    options = NightOptions(
        kit_path, site_name, telescope_name, None, None, None, None, None, None, False, 15.0,
        remark=False,
    )  # fmt: skip
    request = request_for(options, ChoiceOptions(), kit)
    from planner.log.history import standing

    own = ("", request.telescope.name)
    looks = [k for k in standing(open_journal(kit).records) if k.telescope in own]
    if output is not None:
        _draw(request, looks, Path(output))
    click.echo(_counts(request) if wanted_list is None else _whole(request, wanted_list))


def _whole(request: Request, name: str) -> str:
    from planner.night.progress import list_progress
    from planner.sheets.progress_text import progress_text

    return progress_text(list_progress(request, name, list_members(name)))


def _counts(request: Request) -> str:
    """A line for each list that ships."""
    from planner.targets.standing import load_best_lists

    entries = {entry.key: entry.entries for entry in load_best_lists()}
    lines = []
    for name in SHIPPED:
        members = list_members(name)
        seen = sum(m in request.seen and request.seen[m].showed for m in members)
        shared = entries.get(name, 0) - len(members)
        note = f" ({entries[name]} entries; some are one object here)" if shared > 0 else ""
        lines.append(f"{name:<13}{seen:>4} of {len(members)} seen{note}")
    hint = "When the rest stands best, and what is out of reach: planner log progress --list"
    return "\n".join([*lines, "", f"{hint} messier"])


def _draw(request: Request, looks: Sequence[Record], path: Path) -> None:
    """Write the page of figures."""
    from planner.night.split_limit import split_limit
    from planner.sheets.log_figure import log_figure

    bright = [min(look.pair.v1, look.pair.v2) for look in looks if look.pair]
    first = round(median(bright) if bright else USUAL_V1)
    seeings = dict.fromkeys((request.seeing_arcsec, STEADY_ARCSEC))
    limits = [split_limit(request, first, seeing) for seeing in seeings]
    title = f"{len(looks)} looks with {request.telescope.name}"
    figure: Any = log_figure(looks, limits, title)
    if path.suffix.lower() == ".png":
        from planner.sheets.png_file import write_png

        write_png(figure, path)
    else:
        _write_pdf(figure, path)
    click.echo(f"wrote {path}: {len(looks)} looks", err=True)


def _write_pdf(figure: Any, path: Path) -> None:
    import io

    from planner.files import write_whole

    buffer = io.BytesIO()
    figure.savefig(buffer, format="pdf", metadata={"CreationDate": dt.datetime.now(dt.UTC)})
    write_whole(path, buffer.getvalue())
