"""`planner log`: what was seen."""

from __future__ import annotations

import click

from planner.cli.log_add import add, correct


@click.group()
def log() -> None:
    """What you have seen: write it down, look it up, see what is left."""


for command in (add, correct):
    log.add_command(command)
