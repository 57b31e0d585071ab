"""`planner mirror`: from the readings at the tester to the wave."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import click

from planner.cli.file_path import FilePath

WIDEST_SECONDARY = 0.6  # of the mirror: where the image model ends


@click.command()
@click.argument("words", nargs=-1, required=True, metavar="[new] FILE", type=FilePath())
@click.option(
    "--format", "output_format", type=click.Choice(["text", "json"]), default="text",
    show_default=True, help="How to print the result.",
)  # fmt: skip
@click.option("-o", "--output", metavar="FILE.png|pdf", type=FilePath(dir_okay=False),
              help="Also draw the figures to this file.")  # fmt: skip
@click.option("--secondary", "secondary_mm", metavar="MM",
              type=click.FloatRange(0.0, 500.0),
              help="With -o: the flat's minor axis in mm, for star and contrast.")  # fmt: skip
@click.option("--ronchi", "lines_per_mm", metavar="LINES", type=click.FloatRange(0.5, 20.0),
              help="With -o: also the bands of a grating of so many lines a mm.")  # fmt: skip
def mirror(
    words: tuple[str, ...],
    output_format: str,
    output: str | None,
    secondary_mm: float | None,
    lines_per_mm: float | None,
) -> None:
    """Reduce the knife-edge readings in FILE to the wave of the mirror, and say how sure that is.

    "planner mirror new FILE" writes a commented file to begin with, a table where FILE ends in
    .csv; an existing one is never overwritten. In the kit's telescope mirror_test = "FILE" takes
    the wave into every verdict.
    """
    from planner.errors import UsageError

    if words[0] == "new" and len(words) <= 2:
        if len(words) == 1:
            raise UsageError("new: give the name of the file to write, like elsa.toml")
        _write_new(words[1])
        return
    if len(words) > 1:
        raise UsageError(f"{words[1]}: give one file; or new and the name of one to write")
    for name, given in (("--ronchi", lines_per_mm), ("--secondary", secondary_mm)):
        if given is not None and output is None:
            raise UsageError(f"{name} needs -o FILE to draw to")
    path = None if output is None else _picture_path(output)
    from planner.kit.mirror_file import read_mirror_test
    from planner.mirror.reduction import reduce

    found = reduce(read_mirror_test(Path(words[0])))
    if path is not None:
        from planner.sheets.mirror_figures import write_mirror_figures

        widest = WIDEST_SECONDARY * found.test.optical_diameter_mm
        if (secondary_mm or 0.0) > widest:
            raise UsageError(
                f"--secondary {secondary_mm:g}: at most {widest:g} mm is possible here"
            )
        write_mirror_figures(found, path, lines_per_mm, secondary_mm or 0.0)
        click.echo(f"wrote {path}", err=output_format == "json")
    if output_format == "json":
        from planner.sheets.json_text import json_text
        from planner.sheets.mirror_document import mirror_document

        click.echo(json_text(mirror_document(found)))
        return
    from planner.sheets.mirror_text import mirror_text

    click.echo(mirror_text(found))


def _write_new(file: str) -> None:
    from planner.errors import PlannerError
    from planner.files import write_whole
    from planner.kit.mirror_file import example_test

    if os.path.lexists(file):
        raise PlannerError(f"{file}: is already there; choose another name")
    write_whole(Path(file), example_test(Path(file).suffix).encode("utf-8"))
    click.echo(f"wrote {file}; change its values to yours, then run:")
    click.echo(f"  planner mirror {shlex.quote(file)}")


def _picture_path(output: str) -> Path:
    from planner.errors import UsageError

    path = Path(output)
    if path.suffix.lower() not in (".png", ".pdf"):
        raise UsageError(f"{output}: give a file name ending in .png or .pdf")
    if not path.parent.is_dir():
        raise UsageError(f"{output}: there is no folder {path.parent}; make it first")
    return path
