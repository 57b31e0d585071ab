"""Turns a command's options into a request for one night."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from planner.cli.options import chosen_site, extinction, open_kit
from planner.errors import UsageError

if TYPE_CHECKING:
    from pathlib import Path

    from planner.ephemeris.civil_night import CivilNight
    from planner.night.request import Request
    from planner.targets.kind import Kind


USUAL_LIMIT = 25  # about a screenful, and more than a night's work


@dataclass(frozen=True, slots=True)
class NightOptions:
    """The night options as click delivers them."""

    kit_path: str | None
    site_name: str | None
    telescope_name: str | None
    date: dt.datetime | None
    seeing_arcsec: float | None
    zenith_sky_mag: float | None
    air: str | None
    start: dt.datetime | None
    end: dt.datetime | None
    least_altitude_deg: float


@dataclass(frozen=True, slots=True)
class ChoiceOptions:
    """The choice options as click delivers them."""

    kinds: str | None = None
    constellation: str | None = None
    faintest: float | None = None
    limit: int | None = None
    include_all: bool = False


def request_for(night: NightOptions, choice: ChoiceOptions) -> Request:
    """The request that the options describe; asks the clock only when no date is given."""
    from planner.ephemeris.civil_night import civil_night, coming_night_date
    from planner.night.request import Request
    from planner.targets.constellations import constellation_abbreviation

    kit = open_kit(night.kit_path)
    place = chosen_site(kit, night.site_name)
    if night.date is None:
        now = dt.datetime.now(dt.UTC)
        date = coming_night_date(place.site, now)
        if night.start is None:
            click.echo(running_note(civil_night(place.site, date), now), nl=False, err=True)
    else:
        date = night.date.date()
    telescope = kit.telescope(night.telescope_name)
    extinction_mag, air_words = extinction(night.air, place)
    own_sky = night.zenith_sky_mag is None
    return Request(
        site=place.site,
        telescope=telescope,
        views=kit.views(telescope),
        filters=kit.filters,
        observer=kit.observer,
        date=date,
        seeing_arcsec=night.seeing_arcsec or place.seeing_arcsec,
        zenith_sky_mag=place.zenith_sky_mag
        if night.zenith_sky_mag is None
        else night.zenith_sky_mag,
        sky_words=place.sky_words if own_sky else "as asked for",
        extinction_mag=extinction_mag,
        air_words=air_words,
        kinds=_kinds(choice.kinds),
        start=night.start.time() if night.start else None,
        end=night.end.time() if night.end else None,
        constellation=(
            None
            if choice.constellation is None
            else constellation_abbreviation(choice.constellation)
        ),
        faintest=choice.faintest,
        least_altitude_deg=night.least_altitude_deg,
        limit=_limit(choice),
        include_all=choice.include_all,
        cache_folder=cache_folder(),
        library_folder=library_folder(),
    )


def running_note(night: CivilNight, now: dt.datetime) -> str:
    """A line for a night that is on already at ``now`` (aware); empty before it begins."""
    from planner.ephemeris.civil_night import Darkness
    from planner.ephemeris.moments import seconds_between
    from planner.ephemeris.site import site_zone

    begin = night.sunset or night.start
    if night.deepest_twilight is Darkness.MIDNIGHT_SUN or seconds_between(begin, now) <= 0.0:
        return ""
    clock = f"{now.astimezone(site_zone(night.site)):%H:%M}"
    return (
        f"note: it is {clock} now, and the night began at {begin:%H:%M}: leave out what is over "
        f"with --from {clock}\n"
    )


def cache_folder() -> Path:
    """Where this system keeps what the planner can always work out anew."""
    from platformdirs import user_cache_path

    return user_cache_path("one-telescope-planner", appauthor=False)


def data_folder() -> Path:
    """Where this system keeps what the user has given into the planner's care."""
    from platformdirs import user_data_path

    return user_data_path("one-telescope-planner", appauthor=False)


def library_folder() -> Path:
    """Where the user's own catalogs lie."""
    return data_folder() / "catalogs"


def _limit(choice: ChoiceOptions) -> int | None:
    if choice.limit is None and not choice.include_all:
        return USUAL_LIMIT
    return choice.limit


def _kinds(text: str | None) -> frozenset[Kind]:
    from planner.targets.kind import Kind, kind_named
    from planner.targets.spelling import most_like

    if text is None:
        return frozenset(Kind)
    found = set()
    for word in text.split(","):
        kind = kind_named(word)
        if kind is None:
            near = most_like(word.strip(), Kind, cutoff=0.4)
            hint = f"; did you mean {near!r}?" if near else ""
            raise UsageError(
                f"--kinds: {word.strip()!r} is no kind{hint} (known: {', '.join(Kind)})"
            )
        found.add(kind)
    return frozenset(found)
