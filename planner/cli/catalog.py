"""`planner catalog`: what the lists of targets are made of."""

from __future__ import annotations

import json
from typing import Any

import click

from planner.cli.options import format_option


@click.group(invoke_without_command=True)
@format_option
@click.pass_context
def catalog(ctx: click.Context, output_format: str) -> None:
    """List each catalog with its source, edition, licence and number of rows."""
    if ctx.invoked_subcommand is None:
        from planner.targets.catalog import manifest

        click.echo(_rendered(manifest(), output_format), nl=output_format != "csv")


@catalog.command()
def verify() -> None:
    """Compare every catalog file with its recorded checksum."""
    from planner.targets.catalog import verify as verify_files

    verify_files()
    click.echo("every catalog file is whole")


def _rendered(entries: Any, output_format: str) -> str:
    from planner.sheets.catalog_text import catalog_rows, catalog_text

    if output_format == "text":
        return catalog_text(entries)
    rows = catalog_rows(entries)
    if output_format == "json":
        document = {"format": "planner-catalog/1", "catalogs": rows}
        return json.dumps(document, indent=1, ensure_ascii=False)
    from planner.sheets.rows import csv_text

    return csv_text(rows)
