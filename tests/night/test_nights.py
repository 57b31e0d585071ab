"""Many nights at once: the Moon and the dark, the season, and places without a night."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import astronomy
import numpy as np
import pytest
from sample_nights import plan, request

from planner.night.chances import target_nights
from planner.night.judging import judged_groups
from planner.night.many_nights import many_nights
from planner.night.margin_curve import margins, ways
from planner.night.nights import Nights, rank_nights
from planner.targets.kind import Kind

STEP_MIN = 30
# When right ascension and sidereal time at midnight agree: handbook dates of midnight culmination,
# from memory. None stands so near the zenith there that the mount does not reach it.
MIDNIGHT_CULMINATION = {"NGC 6205": (6, 3), "NGC 1976": (12, 14), "NGC 4594": (4, 2)}
MIDNIGHT_HOUR = {"NGC 6205": 1, "NGC 1976": 0, "NGC 4594": 1}  # by the clock, summer time or not


def asked(site: str = "Lindenhof", date: str = "2026-11-26", **more: Any) -> Nights:
    """Nights of a request for named targets, if any."""
    count = more.pop("count", 30)
    only = more.pop("only", None)
    named = None if only is None else frozenset(only)
    return rank_nights(request(site, date, only=named, **more), count)


def test_dark_hours_agree_with_another_ephemeris() -> None:
    """Sun 18 degrees down and Moon below the horizon by astronomy-engine, within a step or two."""
    found = asked(count=29, only={"NGC 224"})
    place = astronomy.Observer(48.1, 8.2, 870.0)
    for night in found.nights[::4]:
        noon = dt.datetime.combine(night.date, dt.time(11), dt.UTC)
        count = 0
        for step in range(96):
            moment = noon + dt.timedelta(minutes=15 * step)
            time = astronomy.Time.Make(moment.year, moment.month, moment.day, moment.hour,
                                       moment.minute, 0.0)  # fmt: skip
            heights = []
            for body in (astronomy.Body.Sun, astronomy.Body.Moon):
                there = astronomy.Equator(body, time, place, True, True)
                heights.append(
                    astronomy.Horizon(
                        time, place, there.ra, there.dec, astronomy.Refraction.Airless
                    ).altitude
                )
            count += heights[0] < -18.0 and heights[1] < 0.0
        assert night.dark_minutes == pytest.approx(15 * count, abs=45)


def test_full_moon_is_the_last_of_a_month_for_a_galaxy() -> None:
    """24 December 2026 is full Moon (almanac, from memory); M 33 wants the dark."""
    found = asked(only={"NGC 598"})
    dates = [found.nights[number].date for number in found.ranked]
    full = dt.date(2026, 12, 24)
    assert dates.index(full) > 20
    lit = {night.date: night.moon_fraction for night in found.nights}
    assert lit[full] > 0.97 and lit[dt.date(2026, 12, 9)] < 0.03


@pytest.mark.parametrize("name", MIDNIGHT_CULMINATION)
def test_a_target_stands_highest_at_midnight_near_its_handbook_date(name: str) -> None:
    """From 23:33 to 00:33 local mean time: the middle of its best nights, within ten days."""
    hour = MIDNIGHT_HOUR[name]
    zone_hours = {"start": dt.time(hour), "end": dt.time(hour + 1)}
    found = asked(only={name}, date="2026-06-01", count=365, **zone_hours)
    heights = [c.altitude_deg if c else 0.0 for c in found.targets[0].chances]
    top = np.flatnonzero(np.array(heights) > max(heights) - 0.7)
    month, day = MIDNIGHT_CULMINATION[name]
    middle = found.nights[int(np.median(top))].date
    away = [abs((middle - dt.date(year, month, day)).days) for year in (2026, 2027)]
    assert min(away) <= 10


def test_no_moment_of_a_moonlit_night_shows_more_than_the_one_told() -> None:
    """The margin told is within 0.2 of the best of all usable moments, each judged."""
    only = frozenset({"NGC 5194", "NGC 6205", "hip72105-AB"})
    dates = tuple(dt.date(2027, 4, 13) + dt.timedelta(days=n) for n in range(8))
    many = many_nights(request(date="2027-04-13", only=only, include_all=True), dates, STEP_MIN)
    told = {target.target.id: target.chances for target in target_nights(many)}
    met = set()
    for judged in judged_groups(many.conditions):
        rows = judged.systems.lead
        way = ways(many.conditions, judged, rows)
        margin = np.where(way.usable, margins(many.conditions, judged, rows, way.lines), -np.inf)
        for row, name in enumerate(judged.ids):
            for night, chance in enumerate(told[name]):
                best = margin[row, many.night == night].max()
                assert chance is not None and chance.margin is not None
                assert best - 0.201 <= chance.margin <= best + 0.01
            met.add(name)
    assert met == set(told) == {"NGC 5194", "NGC 6205", "hip72105"}


def test_one_night_says_what_the_nights_own_plan_says() -> None:
    """The same verdict and about the same margin as the list of that evening."""
    only = {"NGC 5194", "NGC 6205", "NGC 7662"}
    found = asked(date="2027-04-03", only=only, count=1)
    listed = plan("Lindenhof", "2027-04-03", only=frozenset(only), include_all=True).targets
    told = {t.target.id: t.chances[0] for t in found.targets}
    for target in listed:
        chance = told[target.id]
        if not target.shown:
            assert chance is None or not chance.shown
            continue
        assert chance is not None and target.margin is not None and chance.margin is not None
        assert chance.margin == pytest.approx(target.margin, abs=0.25)
        assert chance.step == target.step


def test_doubles_red_stars_and_planets_have_chances_too() -> None:
    """Castor, T Lyr's like and Jupiter in a winter week."""
    kinds = {"hip36850-AB", "Jupiter"}
    found = asked(date="2027-01-10", only=kinds, count=5)
    assert {t.target.kind for t in found.targets} == {Kind.DOUBLE, Kind.PLANET}
    for target in found.targets:
        assert all(c is not None and c.shown for c in target.chances)


@pytest.mark.parametrize("site", ["Nordkapp", "Glen", "Beagle", "Atoll", "Kauri"])
def test_every_place_has_its_nights(site: str) -> None:
    """Midnight sun, white nights, the south and the date line: moments in order, Sun down."""
    dates = tuple(dt.date(2026, 6, 18) + dt.timedelta(days=n) for n in range(4))
    many = many_nights(replace(request(site, "2026-06-18"), only=frozenset()), dates, STEP_MIN)
    sun = many.conditions.sun.altitude_deg
    assert (sun < 0.8).all()  # the air lifts it
    assert (np.diff(many.conditions.grid.seconds) > 0.0).all()
    if site == "Nordkapp":
        assert not len(many.night) and target_nights(many) == ()
        assert not asked(site, "2026-06-18", only={"NGC 6205"}, count=4).ranked


def test_the_change_of_the_clock_costs_no_night() -> None:
    """24 to 26 October 2026: the same hours on the clock in every night."""
    hours = {"start": dt.time(20, 0), "end": dt.time(23, 0)}
    found = asked(date="2026-10-24", count=3, only={"NGC 224"}, **hours)
    for chance in found.targets[0].chances:
        assert chance is not None
        assert dt.time(20) <= chance.moment.time() <= dt.time(23)
    assert len({night.minutes for night in found.nights}) == 1
