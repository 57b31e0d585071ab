"""`planner kit`: write a kit file, and read one back in words."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import click

from planner.cli.file_path import FilePath
from planner.cli.options import open_kit


@click.group()
def kit() -> None:
    """Your telescopes, eyepieces, sites and eyes, in one file."""


@kit.command()
@click.argument("file", type=FilePath())
def new(file: str) -> None:
    """Write a commented kit file to FILE, to be changed to your own values.

    An existing file is never overwritten.
    """
    from planner.errors import PlannerError
    from planner.files import write_whole
    from planner.kit.reading import example_text

    if os.path.lexists(file):
        raise PlannerError(f"{file}: is already there; choose another name")
    write_whole(Path(file), example_text().encode("utf-8"))
    click.echo(f"wrote {file}; change its values to yours, then run:")
    click.echo(f"  planner kit check {shlex.quote(file)}")


@kit.command()
@click.argument("file", required=False, envvar="PLANNER_KIT", type=FilePath())
def check(file: str | None) -> None:
    """Read FILE back in words and remark on what is odd.

    Without FILE: the kit of the variable PLANNER_KIT, else the embedded example. Remarks are
    advice and do not change the exit code; a wrong value ends with exit code 2.
    """
    kit_read = open_kit(file)
    from planner.kit.advice import remarks
    from planner.sheets.kit_text import kit_words, remark_words

    click.echo(kit_words(kit_read))
    click.echo()
    click.echo(remark_words(remarks(kit_read)))
