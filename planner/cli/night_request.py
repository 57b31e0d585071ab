"""Turns a command's options into a request for one night."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from planner.cli.options import NOW, chosen_site, extinction, open_kit
from planner.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from planner.ephemeris.civil_night import CivilNight
    from planner.ephemeris.site import Site
    from planner.kit.hours import Hours
    from planner.kit.kit import Kit
    from planner.log.seen import Seen
    from planner.night.request import Request
    from planner.targets.kind import Kind


USUAL_LIMIT = 25  # about a screenful, and more than a night's work


@dataclass(frozen=True, slots=True)
class NightOptions:
    """The night options as click delivers them; ``remark``: say that the night is on already.

    ``own_limits``: learn them from the log for this once.
    """

    kit_path: str | None
    site_name: str | None
    telescope_name: str | None
    date: dt.datetime | None
    seeing_arcsec: float | None
    zenith_sky_mag: float | None
    air: str | None
    start: dt.datetime | str | None
    end: dt.datetime | None
    whole_night: bool
    least_altitude_deg: float
    remark: bool = True
    own_limits: bool = False

    def usually_on(self, date: dt.date) -> NightOptions:
        """The same on a date, unless another is asked for."""
        if self.date is not None:
            return self
        return replace(self, date=dt.datetime.combine(date, dt.time()))


@dataclass(frozen=True, slots=True)
class ChoiceOptions:
    """The choice options as click delivers them; ``for_reading``: no endless list is wanted."""

    kinds: str | None = None
    constellation: str | None = None
    faintest: float | None = None
    limit: int | None = None
    include_all: bool = False
    for_reading: bool = True
    wanted_list: str | None = None
    only_new: bool = False
    only_again: bool = False


@dataclass(frozen=True, slots=True)
class _Night:
    """The evening's date, the hours wanted, and which of them are the usual ones."""

    date: dt.date
    hours: Hours
    start_usual: bool
    end_usual: bool


def request_for(night: NightOptions, choice: ChoiceOptions, kit: Kit | None = None) -> Request:
    """The request that the options describe; asks the clock only when no date is given.

    ``kit`` is the one of these options where it is open already.
    """
    from planner.night.request import Request
    from planner.targets.constellations import constellation_abbreviation

    kit = kit or open_kit(night.kit_path)
    place = chosen_site(kit, night.site_name)
    wanted = _night(night, place.site, kit.hours)
    telescope = kit.telescope(night.telescope_name)
    extinction_mag, air_words = extinction(night.air, place)
    seen = seen_before(kit)
    only, without = _by_log_and_list(choice, seen)
    if night.start == NOW:
        without |= done_on(wanted.date, seen)
    own_sky = night.zenith_sky_mag is None
    request = Request(
        site=place.site,
        telescope=telescope,
        views=kit.views(telescope),
        finders=kit.finders,
        filters=kit.filters,
        observer=kit.observer,
        date=wanted.date,
        seeing_arcsec=night.seeing_arcsec or place.seeing_arcsec,
        zenith_sky_mag=place.zenith_sky_mag
        if night.zenith_sky_mag is None
        else night.zenith_sky_mag,
        sky_words=place.sky_words if own_sky else "as asked for",
        extinction_mag=extinction_mag,
        air_words=air_words,
        kinds=kinds_asked(choice.kinds),
        start=wanted.hours.begin,
        end=wanted.hours.end,
        start_usual=wanted.start_usual,
        end_usual=wanted.end_usual,
        constellation=(
            None
            if choice.constellation is None
            else constellation_abbreviation(choice.constellation)
        ),
        faintest=choice.faintest,
        least_altitude_deg=night.least_altitude_deg,
        only=only,
        without=without,
        seen=seen,
        limit=_limit(choice),
        include_all=choice.include_all,
        red_spot=kit.red_spot,
        cache_folder=cache_folder(),
        library_folder=library_folder(),
    )
    from planner.cli.limits_use import with_own_limits

    return with_own_limits(request, kit, night)


def _night(options: NightOptions, site: Site, usual: Hours) -> _Night:
    """The night and the hours that the options mean; notes about the clock go to stderr.

    Raises:
        UsageError: options that exclude one another, or "now" in a night that is over.
    """
    from planner.ephemeris.civil_night import civil_night, coming_night_date
    from planner.kit.hours import Hours

    if options.whole_night and (options.start or options.end):
        raise UsageError("--whole-night leaves no room for --from and --until; give one or other")
    now = dt.datetime.now(dt.UTC)
    date = coming_night_date(site, now) if options.date is None else options.date.date()
    start, note = None, ""
    if options.start == NOW:
        start, note = start_from_now(civil_night(site, date), now)
    elif isinstance(options.start, dt.datetime):
        start = options.start.time()
    else:
        note = running_note(civil_night(site, date), now)
    if note and options.remark:
        click.echo(note, err=True)
    if options.whole_night:
        return _Night(date, Hours(), start_usual=False, end_usual=False)
    end = None if options.end is None else options.end.time()
    hours = usual.with_asked(start, end)
    return _Night(
        date, hours, start is None and hours.begin == usual.begin,
        end is None and hours.end == usual.end,
    )  # fmt: skip


def seen_before(kit: Kit) -> Mapping[str, Seen]:
    """What the observer's log has, by target."""
    from planner.log.seen import read_seen

    return read_seen(kit.log_folder or data_folder() / "log")


def done_on(date: dt.date, seen: Mapping[str, Seen]) -> frozenset[str]:
    """The targets looked at in the night of a date."""
    return frozenset(name for name, found in seen.items() if found.last_night == date)


def _by_log_and_list(
    choice: ChoiceOptions, seen: Mapping[str, Seen]
) -> tuple[frozenset[str] | None, frozenset[str]]:
    """The only targets wanted (None for all), and those to leave out.

    Raises:
        UsageError: new and seen ones at once, or a list that cannot be read.
    """
    if choice.only_new and choice.only_again:
        raise UsageError("--new and --again leave nothing together; give one or the other")
    only = None
    if choice.wanted_list is not None:
        from planner.cli.lists import list_members

        only = frozenset(list_members(choice.wanted_list))
    showed = frozenset(name for name, found in seen.items() if found.showed)
    if choice.only_again:
        only = showed if only is None else only & showed
    return only, showed if choice.only_new else frozenset()


def start_from_now(night: CivilNight, now: dt.datetime) -> tuple[dt.time | None, str]:
    """The site's clock time ``now`` (aware), and a note; no time before the night begins.

    Raises:
        UsageError: the night is over.
    """
    from planner.ephemeris.civil_night import Darkness
    from planner.ephemeris.moments import seconds_between
    from planner.ephemeris.site import site_zone

    if night.deepest_twilight is Darkness.MIDNIGHT_SUN:
        return None, ""
    begin, over = night.sunset or night.start, night.sunrise or night.end
    if seconds_between(over, now) > 0.0:
        raise UsageError(
            f"--from now: the night of {night.date} ended at {over:%H:%M on %Y-%m-%d}; give "
            "another --date, or a clock time"
        )
    if seconds_between(begin, now) <= 0.0:
        return None, (
            f"note: the night of {night.date} begins only at {begin:%H:%M}; --from now changes "
            "nothing yet"
        )
    local = now.astimezone(site_zone(night.site))
    return dt.time(local.hour, local.minute, fold=local.fold), ""


def running_note(night: CivilNight, now: dt.datetime) -> str:
    """A line for a night that is on at ``now`` (aware); empty before and after."""
    from planner.ephemeris.civil_night import Darkness
    from planner.ephemeris.moments import seconds_between
    from planner.ephemeris.site import site_zone

    begin = night.sunset or night.start
    gone, left = seconds_between(begin, now), seconds_between(now, night.sunrise or night.end)
    if night.deepest_twilight is Darkness.MIDNIGHT_SUN or gone <= 0.0 or left <= 0.0:
        return ""
    clock = f"{now.astimezone(site_zone(night.site)):%H:%M}"
    return (
        f"note: it is {clock} now, and the night began at {begin:%H:%M}: leave out what is over "
        "with --from now"
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
    if choice.limit is None and (choice.for_reading or not choice.include_all):
        return USUAL_LIMIT
    return choice.limit


def kinds_asked(text: str | None) -> frozenset[Kind]:
    """The kinds that words between commas name; all for None. Raises UsageError."""
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
