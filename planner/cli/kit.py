"""`planner kit`: write a kit file, and read one back in words."""

from __future__ import annotations

import click

from planner.cli.options import open_kit


@click.group()
def kit() -> None:
    """Your telescopes, eyepieces, sites and eyes, in one file."""


@kit.command()
@click.argument("file", type=click.Path(dir_okay=False, writable=True))
def new(file: str) -> None:
    """Write a commented kit file to FILE, to be changed to your own values.

    An existing file is never overwritten.
    """
    from planner.errors import PlannerError
    from planner.kit.reading import example_text

    try:
        with open(file, "x", encoding="utf-8") as stream:
            stream.write(example_text())
    except FileExistsError as error:
        raise PlannerError(f"{file}: is already there; choose another name") from error
    click.echo(f"wrote {file}; change its values to yours, then run: planner kit check {file}")


@kit.command()
@click.argument("file", required=False, type=click.Path(dir_okay=False))
def check(file: str | None) -> None:
    """Read FILE back in words and remark on what is odd.

    Without FILE the embedded example kit is read. Remarks are advice and do not change the
    exit code; a wrong value ends with exit code 2.
    """
    kit_read = open_kit(file)
    from planner.kit.advice import remarks
    from planner.sheets.kit_text import kit_words

    click.echo(kit_words(kit_read))
    odd = remarks(kit_read)
    click.echo()
    if not odd:
        click.echo("Nothing odd found.")
        return
    click.echo("Worth a look:")
    for remark in odd:
        click.echo(f"  - {remark}")
