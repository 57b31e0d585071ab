"""`planner log add` and `planner log correct`: one look, written down or put right."""

from __future__ import annotations

import datetime as dt
import shlex
import uuid
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.log_place import open_journal, own_log
from planner.cli.log_words import (
    clock_hours,
    companion_meant,
    moment_of_look,
    outcome_meant,
    seeing_meant,
    view_meant,
)
from planner.cli.night_request import ChoiceOptions, NightOptions, library_folder, request_for
from planner.cli.options import (
    F,
    Moment,
    Number,
    kit_option,
    open_kit,
    site_option,
    telescope_option,
)
from planner.errors import UsageError

if TYPE_CHECKING:
    from planner.kit.kit import Kit
    from planner.log.record import Record
    from planner.night.logged import Expected
    from planner.night.request import Request

UNDO_WORDS = "take it back: planner log undo; put it right: planner log correct"


@dataclass(frozen=True, slots=True)
class LookOptions:
    """The words of a look as click delivers them; None for what was not told."""

    seen: str | None = None
    companion: str | None = None
    clock: str | None = None
    seeing: str | None = None
    transparency: str | None = None
    sky_mag: float | None = None
    eyepiece: str | None = None
    note: str | None = None


def look_options(command: F) -> F:
    """The options that say how it looked."""
    for option in reversed(
        (
            click.option(
                "--seen", metavar="WORD",
                help="How it looked. A double: clean, just, notched, elongated, not split; "
                "everything else: plain, with care, glimpsed, not seen. A beginning will do.",
            ),
            click.option(
                "--companion", metavar="WORD",
                help="A double's fainter star: plain, held, glimpsed, not seen.",
            ),
            click.option(
                "--clock", metavar="HOUR",
                help="Where in the eyepiece it stood: 4 or 4:30, 12 on top, as you drew it.",
            ),
            click.option(
                "--seeing", metavar="ARCSEC|WORD",
                help="At the zenith: arcseconds, or very steady (1.0), steady (1.5), fair (2.2), "
                "unsteady (3.2), boiling (5.0).",
            ),
            click.option(
                "--transparency", type=click.Choice(["clear", "average", "hazy", "cloud"]),
                help="The air between the clouds.",
            ),
            click.option(
                "--sky", "sky_mag", metavar="MAG", type=Number(15.0, 22.2),
                help="The zenith, mag per square arcsecond, if you measured it.",
            ),
            click.option(
                "--eyepiece", metavar="NAME",
                help="As in the kit, with its Barlow; 7 or 149x will do.",
            ),
            click.option("--note", metavar="TEXT", help="Anything else."),
        )
    ):  # fmt: skip
        command = option(command)
    return command


@click.command()
@click.argument("name", nargs=-1)
@look_options
@click.option(
    "--at",
    "clock_time",
    metavar="HH:MM",
    type=Moment("clock time", "%H:%M", "23:40"),
    help="When you looked; now if left out.",
)
@click.option(
    "--date",
    metavar="YYYY-MM-DD",
    type=Moment("date", "%Y-%m-%d", "2026-12-08"),
    help="The evening's date, for a look of another night.",
)
@kit_option
@site_option
@telescope_option
def add(
    name: tuple[str, ...],
    clock_time: dt.datetime | None,
    date: dt.datetime | None,
    kit_path: str | None,
    site_name: str | None,
    telescope_name: str | None,
    **look: Any,
) -> None:
    """Write down a look: what, how it looked, in which seeing.

    Typed bare on a terminal it asks. What the planner had promised is kept beside it, so that
    later your own limits can be told. Failures count as much as successes: write them down too.
    """  # fmt: skip
    from planner.cli.log_questions import ask_look, ask_name, at_terminal

    told, now = LookOptions(**look), dt.datetime.now(dt.UTC)
    if not name and not at_terminal():
        raise UsageError("name the target, such as: planner log add izar --seen clean")
    kit = open_kit(kit_path)
    place = kit.site(site_name).site
    at = moment_of_look(clock_time, None if date is None else date.date(), place, now)
    request = night_of(kit, at, (kit_path, site_name, telescope_name), asked=clock_time is not None)
    called = " ".join(name) or ask_name(library_folder())
    found = _judged(request, called)
    if told.seen is None and at_terminal():
        told = ask_look(told, found.target.kind, request)
    if told.seen is None:
        from planner.log.outcome import outcomes_of

        words = ", ".join(outcomes_of(found.target.kind))
        raise UsageError(f"say how {found.target.name} looked with --seen: {words}")
    from planner.night.logged import plain_record

    record = with_words(plain_record(request, found, at, now), told, request)
    _append(kit, record, called, told)
    from planner.sheets.log_text import look_words, promise_words
    from planner.sheets.page_text import wrapped

    lines = filter(None, (f"logged {look_words(record)}", promise_words(record), UNDO_WORDS))
    click.echo("\n".join(wrapped(line) for line in lines))


def _append(kit: Kit, record: Record, called: str, told: LookOptions) -> None:
    """Add the record; where that fails, the look as one command line that can be said again."""
    from planner.log.writing import LogWriteError, append

    try:
        append(own_log(kit), [record])
    except LogWriteError as error:
        words = ["planner", "log", "add", called, "--at", f"{record.at:%H:%M}"]
        words += ["--date", record.night.isoformat()]
        options = {
            "seen": told.seen, "companion": told.companion, "clock": told.clock,
            "seeing": told.seeing, "transparency": told.transparency, "sky": told.sky_mag,
            "eyepiece": told.eyepiece, "note": told.note,
        }  # fmt: skip
        for option, value in options.items():
            words += [f"--{option}", str(value)] if value is not None else []
        again = f"your look, to say again: {shlex.join(words)}"
        raise LogWriteError(str(error), (again,)) from error


def night_of(
    kit: Kit, at: dt.datetime, names: tuple[str | None, str | None, str | None], *, asked: bool
) -> Request:
    """The request for the night of a look.

    Raises:
        UsageError: no time was told, and the Sun is up.
    """
    from planner.ephemeris.civil_night import civil_night, coming_night_date

    kit_path, site_name, telescope_name = names
    place = kit.site(site_name).site
    evening = coming_night_date(place, at)
    sunset = civil_night(place, evening).sunset
    if not asked and sunset is not None and at < sunset:
        raise UsageError(
            f"it is {at:%H:%M} and the Sun is up: say when you looked with --at 23:10, and with "
            "--date for another night than the last"
        )
    date = dt.datetime.combine(evening, dt.time())
    options = NightOptions(
        kit_path, site_name, telescope_name, date, None, None, None, None, None,
        whole_night=True, least_altitude_deg=0.0, remark=False,
    )  # fmt: skip
    return request_for(options, ChoiceOptions(), kit)


def _judged(request: Request, called: str) -> Expected:
    """The target that a name means, as the planner judges it that night."""
    from planner.cli.named_targets import ids_judged
    from planner.importers.library import load_all_names
    from planner.night.logged import expected
    from planner.targets.names import find

    matches = find(load_all_names(library_folder()), called)
    found = expected(replace(request, only=ids_judged(matches)))
    return next(iter(found.values()))


def with_words(record: Record, told: LookOptions, request: Request) -> Record:
    """The record with what the observer told; what was not told stays as it was.

    Raises:
        UsageError: a word that means nothing here.
    """
    from planner.targets.kind import Kind

    changed: dict[str, Any] = {}
    if told.seen is not None:
        changed["outcome"] = outcome_meant(told.seen, record.kind)
    if (told.companion or told.clock) and record.kind is not Kind.DOUBLE:
        raise UsageError(f"--companion and --clock are for doubles; {record.name} is none")
    if told.companion is not None:
        changed["companion"] = companion_meant(told.companion)
    if told.clock is not None:
        changed["companion_clock"] = clock_hours(told.clock)
    if told.seeing is not None:
        changed["seeing_arcsec"], changed["seeing_word"] = seeing_meant(told.seeing)
    if told.eyepiece is not None:
        view = view_meant(told.eyepiece, request.views)
        changed |= {"eyepiece": view.name, "magnification": round(view.magnification, 1)}
    if told.note is not None:
        changed["note"] = told.note.encode("utf-8", "replace").decode()
    for name in ("transparency", "sky_mag"):
        if getattr(told, name) is not None:
            changed[name] = getattr(told, name)
    return replace(record, **changed)


@click.command()
@click.argument("name", nargs=-1)
@look_options
@kit_option
def correct(name: tuple[str, ...], kit_path: str | None, **look: Any) -> None:
    """Put the last look right, or the last at NAME; the first version stays in the file.

    Only what is told here changes.
    """
    told, now = LookOptions(**look), dt.datetime.now(dt.UTC)
    if told == LookOptions():
        raise UsageError("say what was otherwise, such as: planner log correct --seen just")
    kit = open_kit(kit_path)
    record = _last_look(kit, " ".join(name))
    site = record.site if any(record.site == place.name for place in kit.sites) else None
    telescope = (
        record.telescope if any(record.telescope == t.name for t in kit.telescopes) else None
    )
    request = night_of(kit, record.at, (kit_path, site, telescope), asked=True)
    better = replace(
        with_words(record, told, request), id=str(uuid.uuid4()), written=now,
        replaces=record.id, batch=None,
    )  # fmt: skip
    from planner.log.writing import append
    from planner.sheets.log_text import look_words
    from planner.sheets.page_text import wrapped

    append(own_log(kit), [better])
    click.echo(wrapped(f"it now says {look_words(better)}"))


def _last_look(kit: Kit, called: str) -> Record:
    """The look written last, of one target or of all. Raises UsageError where there is none."""
    from planner.cli.named_targets import list_ids
    from planner.log.history import standing

    wanted = list_ids(called) if called else ()
    looks = [r for r in standing(open_journal(kit).records) if not wanted or r.target in wanted]
    if not looks:
        raise UsageError(f"the log has no look{' at ' + called if called else ''} yet")
    return max(looks, key=lambda look: look.written)
