"""`planner catalog`: what the lists of targets are made of, and the user's own catalogs."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.options import format_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.importers.about import About
    from planner.targets.catalog import Source

LAYOUTS = ("wds", "orbits", "table")


@click.group(invoke_without_command=True)
@format_option
@click.pass_context
def catalog(ctx: click.Context, output_format: str) -> None:
    """List each catalog with its source, edition, licence and number of rows."""
    if ctx.invoked_subcommand is None:
        from planner.cli.night_request import library_folder
        from planner.importers.store import imports
        from planner.targets.catalog import manifest

        own = [entry.about for entry in imports(library_folder())]
        click.echo(_rendered(manifest(), own, output_format), nl=output_format != "csv")


@catalog.command()
def verify() -> None:
    """Compare every catalog file with its recorded checksum."""
    from planner.targets.catalog import verify as verify_files

    verify_files()
    click.echo("every catalog file is whole")


@catalog.command("import")
@click.argument("file", type=FilePath(exists=True, dir_okay=False))
@click.option(
    "--layout",
    type=click.Choice(LAYOUTS),
    help="What the file is; found out from its first lines if left out.",
)
@click.option(
    "--columns",
    metavar="KEY=COLUMN,...",
    help="Which column of a table holds what, like ra=RAJ2000,dec=DEJ2000,separation=sep,v1=Vmag.",
)
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="How to print the result.",
)
def import_file(file: str, layout: str | None, columns: str | None, output_format: str) -> None:
    """Take doubles or orbits from an outside catalog into your own.

    FILE is a Washington Double Star summary, the element file of the Sixth Orbit Catalog, or a
    table of pairs in CSV, ECSV, VOTable or FITS. A table needs ra, dec, separation, v1 and v2;
    it may have ra_hours (instead of ra), position_angle, epoch, place_epoch, pm_ra, pm_dec,
    components, name, discoverer, wds and note. Positions are degrees, or sexagesimal hours and
    degrees.

    Pairs known already keep the better measure and gain what they lack. The file is taken
    whole or not at all; `planner catalog undo` takes it back.
    """
    import datetime as dt
    from pathlib import Path

    from planner.cli.night_request import library_folder
    from planner.errors import UsageError
    from planner.importers.importing import ImportRequest, import_catalog
    from planner.importers.layouts import Layout
    from planner.sheets.catalog_text import import_document, import_text

    if columns is not None and layout in ("wds", "orbits"):
        raise UsageError(f"--columns is for tables; the layout {layout} has its own columns")
    report = import_catalog(
        ImportRequest(
            path=Path(file),
            folder=library_folder(),
            date=dt.date.today(),
            layout=Layout(layout) if layout else None,
            columns=columns,
        )
    )
    if output_format == "json":
        click.echo(json.dumps(import_document(report), indent=1, ensure_ascii=False))
    else:
        click.echo(import_text(report))


@catalog.command()
def undo() -> None:
    """Take the last import back; one that it had replaced counts again."""
    from planner.cli.night_request import library_folder
    from planner.importers.store import undo as take_back
    from planner.sheets.catalog_text import undo_text

    click.echo(undo_text(take_back(library_folder())))


def _rendered(entries: Sequence[Source], own: Sequence[About], output_format: str) -> str:
    from planner.sheets.catalog_text import (
        catalog_rows,
        catalog_text,
        import_rows,
        imports_as_catalog_rows,
        imports_text,
    )

    if output_format == "text":
        return "\n\n".join(filter(None, (catalog_text(entries), imports_text(own))))
    rows: list[dict[str, Any]] = catalog_rows(entries)
    if output_format == "json":
        document = {"format": "planner-catalog/1", "catalogs": rows, "imports": import_rows(own)}
        return json.dumps(document, indent=1, ensure_ascii=False)
    from planner.sheets.rows import csv_text

    return csv_text(rows + imports_as_catalog_rows(own))
