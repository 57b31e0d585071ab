"""`planner log import`: a whole evening from a sheet or a table."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.cli.file_path import FilePath
from planner.cli.log_add import LookOptions, night_of, with_words
from planner.cli.log_place import open_journal, own_log
from planner.cli.log_words import moment_of_look
from planner.cli.night_request import library_folder
from planner.cli.options import kit_option, open_kit
from planner.errors import PlannerError, UsageError

if TYPE_CHECKING:
    from planner.kit.kit import Kit
    from planner.log.entry import Entry
    from planner.log.record import Record
    from planner.night.logged import Expected
    from planner.night.request import Request

    Refused = tuple[int, str]  # its number in the file, and why


@click.command("import")
@click.argument("file", type=FilePath())
@kit_option
def import_file(file: str, kit_path: str | None) -> None:
    """Add the looks of FILE: what a sheet on the phone saved, or a table (CSV).

    The same file again adds nothing; a look that was changed there since counts as a correction.
    A table has the columns date (of the evening), time, target, outcome, and may have companion,
    clock, seeing, transparency, eyepiece, note, site, telescope.
    """
    from planner.log.entry import read_entries
    from planner.log.history import not_withdrawn

    brought = read_entries(Path(file))
    kit = open_kit(kit_path)
    journal = open_journal(kit)
    there = not_withdrawn(journal.records)
    known = {record.origin for record in there}
    fresh = [entry for entry in brought.entries if entry.origin not in known]
    made, refused = _records(kit, fresh)
    latest = {_place(record): record.id for record in there if record.origin}
    batch = str(uuid.uuid4())
    records = [replace(r, batch=batch, replaces=latest.get(_place(r))) for r in made]
    if records:
        from planner.log.writing import append

        append(own_log(kit), records)
    changed = sum(record.replaces is not None for record in records)
    click.echo(
        f"{file}: {len(records) - changed} looks added, {changed} corrected, "
        f"{len(brought.entries) - len(fresh)} known already"
        + (f", {brought.untouched} not looked at" if brought.untouched else "")
    )
    wrong = [*brought.refused, *(line for _, line in sorted(refused))]
    if wrong:
        raise PlannerError(
            f"{file}: {len(wrong)} left out; put them right and import it again",
            tuple(f"{file}, {line}" for line in wrong),
        )


def _place(record: Record) -> str:
    """Which look of its file a record is, whatever it says there now."""
    return (record.origin or "").partition("/")[0]


def _records(kit: Kit, entries: list[Entry]) -> tuple[list[Record], list[Refused]]:
    """The records of entries, each night judged once, and those refused with their reasons."""
    made: list[Record] = []
    refused: list[Refused] = []
    now = dt.datetime.now(dt.UTC)
    ordered = sorted(entries, key=_setting)
    for _, group in groupby(ordered, key=_setting):
        _night_records(kit, list(group), now, (made, refused))
    return sorted(made, key=lambda record: record.at), refused


def _setting(entry: Entry) -> tuple[str, str, str]:
    return entry.night.isoformat(), entry.site, entry.telescope


def _night_records(
    kit: Kit, entries: list[Entry], now: dt.datetime, found: tuple[list[Record], list[Refused]]
) -> None:
    """Add the records of one night to what was made, and what is refused to that."""
    made, refused = found
    wanted: list[tuple[Entry, frozenset[str]]] = []
    for entry in entries:
        try:
            wanted.append((entry, _ids(entry)))
        except PlannerError as error:
            refused.append(_told(entry, error))
    if not wanted:
        return
    request, judged = _judged_night(kit, [entry for entry, _ in wanted], wanted)
    for entry, ids in wanted:
        try:
            made.append(_record(request, judged, (entry, ids), now))
        except PlannerError as error:
            refused.append(_told(entry, error))


def _told(entry: Entry, error: PlannerError) -> Refused:
    noun = "entry" if entry.by_id else "line"
    return entry.number, f"{noun} {entry.number}, {entry.name}: {error}"


def _ids(entry: Entry) -> frozenset[str]:
    if entry.by_id:
        return frozenset((entry.target,))
    from planner.cli.named_targets import ids_judged
    from planner.importers.library import load_all_names
    from planner.targets.names import find

    return ids_judged(find(load_all_names(library_folder()), entry.target))


def _judged_night(
    kit: Kit, entries: list[Entry], wanted: list[tuple[Entry, frozenset[str]]]
) -> tuple[Request, dict[str, Expected]]:
    """The request of the entries' night, and its targets by id and by pair."""
    from planner.night.logged import expected

    first = entries[0]
    site = kit.site(first.site or None).site
    at = first.at or _site_moment(first, kit, dt.datetime.now(dt.UTC))
    request = night_of(kit, at, (None, site.name, first.telescope or None), asked=True)
    request = replace(request, date=first.night)
    only = frozenset().union(*(ids for _, ids in wanted))
    return request, expected(replace(request, only=only))


def _site_moment(entry: Entry, kit: Kit, now: dt.datetime) -> dt.datetime:
    assert entry.clock_time is not None
    clock = dt.datetime.combine(entry.night, entry.clock_time)
    return moment_of_look(clock, entry.night, kit.site(entry.site or None).site, now)


def _record(
    request: Request,
    judged: dict[str, Expected],
    wanted: tuple[Entry, frozenset[str]],
    now: dt.datetime,
) -> Record:
    """The record of one entry. Raises PlannerError for a word that means nothing here."""
    from planner.cli.named_targets import system_ids
    from planner.ephemeris.site import site_zone
    from planner.night.logged import plain_record

    entry, ids = wanted
    found = next((judged[name] for name in system_ids(ids) if name in judged), None)
    if found is None:
        raise UsageError("no such target in the catalogs here")
    if entry.at is not None:
        at = entry.at.astimezone(site_zone(request.site))
    else:
        assert entry.clock_time is not None
        clock = dt.datetime.combine(entry.night, entry.clock_time)
        at = moment_of_look(clock, entry.night, request.site, now)
    told = LookOptions(
        seen=entry.outcome or None,
        companion=entry.companion or None,
        clock=entry.clock or None,
        seeing=entry.seeing or None,
        transparency=entry.transparency or None,
        eyepiece=entry.eyepiece or None,
        note=entry.note or None,
    )
    record = with_words(plain_record(request, found, at, now), told, request)
    return replace(record, origin=entry.origin)
