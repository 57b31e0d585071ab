"""`planner log`: what was seen."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.cli.file_path import FilePath
from planner.cli.log_add import add, correct
from planner.cli.log_import import import_file
from planner.cli.log_limits import limits, surprises
from planner.cli.log_place import open_journal, own_log
from planner.cli.log_progress import progress
from planner.cli.options import Count, Moment, kit_option, open_kit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.log.record import Record

USUAL_LOOKS = 25


@click.group()
def log() -> None:
    """What you have seen: write it down, look it up, see what is left."""


@log.command()
@click.argument("name", nargs=-1)
@click.option("--kinds", metavar="A,B", help="Only these kinds, as for tonight.")
@click.option(
    "--seen", metavar="WORD", help="Only what looked so: clean, not split, plain, not seen, ..."
)
@click.option(
    "--since", metavar="YYYY-MM-DD", type=Moment("date", "%Y-%m-%d", "2026-12-08"),
    help="Only nights from this one on.",
)  # fmt: skip
@click.option("--limit", metavar="N", type=Count(), help="The last so many; 25 if left out.")
@kit_option
def show(
    name: tuple[str, ...],
    kinds: str | None,
    seen: str | None,
    since: dt.datetime | None,
    limit: int | None,
    kit_path: str | None,
) -> None:
    """List the looks, the last at the end; only those at NAME if one is given."""
    from planner.cli.named_targets import list_ids
    from planner.cli.night_request import kinds_asked
    from planner.log.history import standing
    from planner.sheets.log_table import log_table

    ids, wanted = list_ids(" ".join(name)) if name else (), kinds_asked(kinds)
    looks = [
        look
        for look in standing(open_journal(open_kit(kit_path)).records)
        if (not ids or look.target in ids)
        and look.kind in wanted
        and (seen is None or look.outcome == seen.strip().casefold())
        and (since is None or look.night >= since.date())
    ]
    click.echo(log_table(looks[-(limit or USUAL_LOOKS) :], len(looks)))


@log.command()
@kit_option
def undo(kit_path: str | None) -> None:
    """Take back what was written last: a look, a correction or a whole import.

    Nothing is erased: a line that takes it back is added. Again for the one before it.
    """
    from planner.errors import PlannerError
    from planner.log.history import last_act
    from planner.log.writing import append
    from planner.sheets.log_text import look_words
    from planner.sheets.page_text import wrapped

    kit = open_kit(kit_path)
    last = last_act(open_journal(kit).records)
    if not last:
        raise PlannerError("the log has nothing to take back")
    append(own_log(kit), withdrawals(last, dt.datetime.now(dt.UTC)))
    what = look_words(last[0]) if len(last) == 1 else f"an import of {len(last)} looks"
    noun = "the correction " if last[0].replaces and len(last) == 1 else ""
    click.echo(wrapped(f"taken back: {noun}{what}"))


def withdrawals(records: Sequence[Record], now: dt.datetime) -> list[Record]:
    """The records that take others back."""
    return [
        replace(
            record, id=str(uuid.uuid4()), written=now, replaces=record.id, withdraws=True,
            outcome=None, companion=None, companion_clock=None, seeing_arcsec=None, note="",
            said=None, pair=None, batch=None, origin=None,
        )
        for record in records
    ]  # fmt: skip


@log.command()
@click.option(
    "--format", "output_format", type=click.Choice(["csv", "json"]), default="csv",
    show_default=True, help="How to write them.",
)  # fmt: skip
@click.option(
    "-o", "--output", metavar="FILE", type=FilePath(dir_okay=False),
    help="The file to write; standard output if left out.",
)  # fmt: skip
@kit_option
def export(output_format: str, output: str | None, kit_path: str | None) -> None:
    """Write all looks that count, for other programs."""
    from planner.log.frame import csv_of, json_of
    from planner.log.history import standing

    looks = standing(open_journal(open_kit(kit_path)).records)
    text = csv_of(looks) if output_format == "csv" else json_of(looks)
    if output is None:
        click.echo(text, nl=False)
        return
    from planner.files import write_whole

    write_whole(Path(output), text.encode())
    click.echo(f"wrote {output}: {len(looks)} looks")


for command in (add, correct, import_file, limits, progress, surprises):
    log.add_command(command)
