"""How long planets, their moons and the coming events take: python tests/bench/planets.py."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from measuring import print_table, seconds

from planner.charts.moon_picture import moon_picture
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.ephemeris.jupiter_events import jupiter_events
from planner.kit.reading import load_kit
from planner.night.events.finding import EventRequest, coming_events
from planner.night.single_target import plan_single
from planner.optics.turn import UPRIGHT
from planner.targets.lunar_features import load_lunar_features

KIT = load_kit()
DATE = dt.datetime(2027, 2, 11)
BODIES = frozenset({"Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune", "Moon"})
YEAR_DAYS = 365.25


def whole_night() -> None:
    """Every body of one night with its markings and moons, and that night's events."""
    options = NightOptions(None, None, None, DATE, None, None, None, None, None, True, 15.0)
    request = request_for(options, ChoiceOptions(kinds="planet,moon"), KIT)
    plan_single(replace(request, only=BODIES, cache_folder=None))
    events(1)


def drawn_moon() -> None:
    """The lit Moon on 600 pixels, turned, with eight features marked."""
    when = dt.datetime(2027, 2, 14, 19, tzinfo=dt.UTC)
    names = [str(name) for name in load_lunar_features().name[:8]]
    moon_picture(KIT.site().site, when, UPRIGHT, names)


def events(days: int) -> None:
    """The coming events of so many nights."""
    views = KIT.views(KIT.telescope())
    coming_events(EventRequest(KIT.site().site, views, DATE.date(), days, KIT.algol_epoch))


def main() -> None:
    """Print one table."""
    works = (
        ("one night of everything, cold", "1.5", whole_night),
        ("one night of everything, again", "", whole_night),
        ("the Moon drawn, cold", "", drawn_moon),
        ("the Moon drawn, again", "", drawn_moon),
        ("a year of Jupiter's events", "2", lambda: jupiter_events(9900.0, 9900.0 + YEAR_DAYS)),
        ("30 nights of events", "", lambda: events(30)),
        ("a year of events", "", lambda: events(365)),
    )
    rows = [[name, f"{seconds(work):.2f}", aim] for name, aim, work in works]
    print_table("Planets", rows, ["work", "s", "aim"])


if __name__ == "__main__":
    main()
