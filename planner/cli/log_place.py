"""Where the log lies, and reading it for a command."""

from __future__ import annotations

import platform
from typing import TYPE_CHECKING

import click

from planner.cli.night_request import data_folder

if TYPE_CHECKING:
    from pathlib import Path

    from planner.kit.kit import Kit
    from planner.log.reading import Journal

DAMAGE_TOLD = 5


def log_folder(kit: Kit) -> Path:
    """The folder of the observer's log: the kit's, else the usual one."""
    return kit.log_folder or data_folder() / "log"


def own_log(kit: Kit) -> Path:
    """The file that this machine adds to."""
    from planner.log.writing import log_file

    return log_file(log_folder(kit), platform.node())


def open_journal(kit: Kit) -> Journal:
    """Everything in the log; each damaged line is told on stderr and stays where it is."""
    from planner.log.reading import read_journal
    from planner.sheets.page_text import wrapped

    journal = read_journal(log_folder(kit))
    for damage in journal.damaged[:DAMAGE_TOLD]:
        line = f"note: {damage.path}, line {damage.number}: left out and left alone: {damage.why}"
        click.echo(wrapped(line, 2, break_long_words=False, break_on_hyphens=False), err=True)
    more = len(journal.damaged) - DAMAGE_TOLD
    if more > 0:
        click.echo(f"note: and {more} more damaged lines", err=True)
    return journal
