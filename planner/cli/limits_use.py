"""Puts the observer's own limits, kept or learnt this once, into what a command judges by."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from planner.errors import UsageError

if TYPE_CHECKING:
    from planner.cli.night_request import NightOptions
    from planner.kit.kit import Kit, KitSite
    from planner.limits.evidence import Evidence, Instrument
    from planner.limits.fitting import Fit
    from planner.limits.keeping import InUse
    from planner.log.record import Record
    from planner.night.request import Request
    from planner.verdict.setup import Setup


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """A fit with the looks and the instrument it comes from."""

    records: tuple[Record, ...]
    instrument: Instrument
    evidence: Evidence
    fit: Fit


def kit_setup(kit: Kit, place: KitSite, telescope_name: str | None) -> Setup:
    """The kit's own values, which are the prior whatever was applied since."""
    from planner.verdict.setup import Setup

    return Setup(
        kit.telescope(telescope_name), kit.observer, place.zenith_sky_mag, place.seeing_arcsec,
        place.extinction_mag,
    )  # fmt: skip


def learn(kit: Kit, setup: Setup, site: str) -> Lesson | int:
    """What the log teaches about this telescope at this site; the number of looks if too few."""
    from planner.cli.log_place import open_journal
    from planner.cli.night_request import cache_folder
    from planner.limits.evidence import evidence_of, instrument_at, usable
    from planner.limits.fitting import LEAST_RECORDS, fit
    from planner.limits.priors import prior_of
    from planner.log.history import standing

    records = usable(standing(open_journal(kit).records), setup, site)
    if len(records) < LEAST_RECORDS:
        return len(records)
    instrument = instrument_at(setup, kit.views(setup.telescope), cache_folder())
    evidence = evidence_of(records, instrument)
    return Lesson(records, instrument, evidence, fit(evidence, prior_of(setup)))


def limits_for(kit: Kit, setup: Setup, site: str, *, asked: bool) -> InUse | None:
    """The limits to judge by: learnt now if asked for, else those kept beside the kit.

    Raises:
        UsageError: asked for, and the log has too few looks.
    """
    from planner.kit.reading import EXAMPLE_NAME
    from planner.limits.keeping import kept, limits_file

    if not asked:
        found = None if kit.source == EXAMPLE_NAME else kept(limits_file(kit.source))
        return found if found is not None and found.observer == setup.observer.name else None
    from planner.limits.keeping import told_by

    lesson = learn(kit, setup, site)
    if isinstance(lesson, int):
        raise UsageError(f"--limits: {too_few(lesson, setup, site)}")
    return told_by(lesson.fit, setup.observer.name, setup.telescope.name, site)


def too_few(count: int, setup: Setup, site: str) -> str:
    """That the log cannot teach yet, and what to do."""
    from planner.limits.fitting import LEAST_RECORDS

    return (
        f"your log has {count} looks through {setup.telescope.name} at {site} that can teach, "
        f"and {LEAST_RECORDS} are wanted; write more with: planner log add"
    )


def _adjusted(setup: Setup, limits: InUse, site: str, *, seeing_given: bool) -> Setup:
    """The setup with the limits; seeing holds only for its own site and telescope."""
    settings, observer = setup.settings, setup.observer
    if limits.tilt_followed is not None:
        settings = replace(settings, tilt_followed=limits.tilt_followed)
    if limits.companion_handicap_mag is not None:
        settings = replace(settings, companion_handicap_mag=limits.companion_handicap_mag)
    if limits.eye_ratio is not None:
        observer = replace(observer, field_factor=observer.field_factor * limits.eye_ratio)
    here = (limits.site, limits.telescope) == (site, setup.telescope.name)
    seeing = setup.seeing_arcsec
    if limits.seeing_arcsec is not None and here and not seeing_given:
        seeing = limits.seeing_arcsec
    return replace(setup, settings=settings, observer=observer, seeing_arcsec=seeing)


def with_own_limits(request: Request, kit: Kit, night: NightOptions) -> Request:
    """The request judged by the observer's own limits, where there are any."""
    site = request.site.name
    place = kit.site(night.site_name)
    basis = kit_setup(kit, place, night.telescope_name)
    limits = limits_for(kit, basis, site, asked=night.own_limits)
    if limits is None:
        return request
    given = night.seeing_arcsec is not None
    own = _adjusted(request.setup, limits, site, seeing_given=given)
    from planner.sheets.limits_text import in_use_words

    return replace(
        request, observer=own.observer, settings=own.settings, seeing_arcsec=own.seeing_arcsec,
        own_log_words=in_use_words(limits, request.setup, own),
    )  # fmt: skip


def with_limits_told(setup: Setup, kit: Kit, place: KitSite, *, asked: bool) -> Setup:
    """The setup by the observer's own limits, which is said on stderr."""
    limits = limits_for(kit, setup, place.name, asked=asked)
    if limits is None:
        return setup
    own = _adjusted(setup, limits, place.name, seeing_given=False)
    from planner.sheets.limits_text import in_use_words

    words = in_use_words(limits, setup, own)
    if words:
        click.echo(f"note: {words}", err=True)
    return own
