"""The moment at which each target is judged, against every other moment of the night."""

from __future__ import annotations

from datetime import UTC
from functools import cache
from typing import TYPE_CHECKING

import astronomy
import numpy as np
import pytest
from sample_nights import judged

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import track
from planner.night.margin_curve import margin_curve
from planner.targets.kind import DEEP_SKY_KINDS, Kind

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.judging import Judged

NIGHTS = (("Lindenhof", "2026-05-28"), ("Kauri", "2026-08-20"))  # the Moon comes or goes in both
DEEP = frozenset(DEEP_SKY_KINDS)
AS_GOOD_MAG = 0.2  # of margins so near the best the highest moment counts
TIE_MAG = 0.09  # and height decides between equals: 0.001 mag for each degree
HAND_MOVED_DEG = 80.0  # the kit's default for an alt-azimuth moved by hand
REFRACTION_DEG = 0.05  # the two ephemerides' air differs so much above 10 degrees


def group(site: str, date: str, kinds: frozenset[Kind]) -> tuple[Conditions, Judged]:
    """A night and the one group of targets asked for."""
    conditions, (found,) = judged(site, date, kinds=kinds, limit=None)
    return conditions, found


def observer(conditions: Conditions) -> astronomy.Observer:
    """The site, for the other ephemeris."""
    site = conditions.request.site
    return astronomy.Observer(site.latitude_deg, site.longitude_deg, site.elevation_m)


def instant(conditions: Conditions, moment: int) -> astronomy.Time:
    """A moment of the night, for the other ephemeris."""
    when = conditions.instants[moment]
    return astronomy.Time.Parse(f"{when.astimezone(UTC):%Y-%m-%dT%H:%M:%S.000Z}")


@cache
def deep_course(site: str, date: str) -> tuple[np.ndarray, np.ndarray]:
    """When each object of a night is usable, and its margins: (N, T)."""
    conditions, found = group(site, date, DEEP)
    objects = found.targets
    way = track(conditions.request.site, conditions.grid, objects.ra_deg, objects.dec_deg)
    usable = conditions.within_reach(way) & conditions.twilight_over
    lines = conditions.sightlines(way, objects.ra_deg, objects.dec_deg)
    return usable, found.judge.curve(objects, lines).margin


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_an_object_is_shown_if_it_shows_at_any_usable_moment(site: str, date: str) -> None:
    """No greater height makes up for a margin that is short."""
    _, found = group(site, date, DEEP)
    usable, margin = deep_course(site, date)
    ever = (usable & (margin >= 0.0)).any(axis=1)
    assert found.targets.id[ever != found.shown].tolist() == []
    assert (found.verdicts.margin[found.shown] >= 0.0).all()
    assert 100 < found.shown.sum() < len(found.shown)


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_no_usable_moment_is_much_better_than_the_one_chosen(site: str, date: str) -> None:
    """And that moment is usable itself; the verdict is the course's value there."""
    _, found = group(site, date, DEEP)
    usable, margin = deep_course(site, date)
    rows = np.arange(len(found.targets))
    best = found.times.best
    assert (found.times.usable == usable.any(axis=1)).all()
    assert usable[rows, best][found.times.usable].all()
    assert margin[rows, best] == pytest.approx(found.verdicts.margin, nan_ok=True)
    known = found.times.usable & np.isfinite(found.verdicts.margin)
    peak = np.where(usable, np.nan_to_num(margin, nan=-np.inf), -np.inf).max(axis=1)
    lost = (peak - found.verdicts.margin)[known]
    assert lost.min() >= -1e-6
    assert lost.max() <= AS_GOOD_MAG + TIE_MAG


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_of_moments_as_good_the_highest_is_taken(site: str, date: str) -> None:
    """Nothing that is as good as the one chosen stands higher."""
    conditions, found = group(site, date, DEEP)
    usable, margin = deep_course(site, date)
    objects = found.targets
    way = track(conditions.request.site, conditions.grid, objects.ra_deg, objects.dec_deg)
    here = found.verdicts.margin[:, None]
    as_good = usable & (margin >= here) & (way.altitude_deg > found.times.altitude_deg[:, None])
    assert not as_good[found.times.usable].any()


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_the_window_holds_the_best_time_and_nothing_but_showing_moments(
    site: str, date: str
) -> None:
    """Of every object shown; usable throughout for the others."""
    _, found = group(site, date, DEEP)
    usable, margin = deep_course(site, date)
    times = found.times
    assert ((times.first <= times.best) & (times.best <= times.last)).all()
    for row in np.flatnonzero(times.usable):
        window = slice(times.first[row], times.last[row] + 1)
        assert usable[row, window].all()
        if found.shown[row]:
            assert (margin[row, window] >= 0.0).all()


@pytest.mark.parametrize("kind", [Kind.GALAXY, Kind.DOUBLE])
def test_what_is_shown_stands_high_in_the_dark(kind: Kind) -> None:
    """By another ephemeris: the Sun 6 degrees down, the target 15 high or more."""
    conditions, found = group("Lindenhof", "2026-05-28", frozenset({kind}))
    table = found.targets
    rows = np.flatnonzero(found.times.usable)
    lowest = rows[np.argsort(found.times.altitude_deg[rows])][:20]
    earliest = rows[np.argsort(found.times.best[rows])][:20]
    latest = rows[np.argsort(found.times.best[rows])][-20:]
    there = observer(conditions)
    for row in {*lowest, *earliest, *latest}:
        time = instant(conditions, int(found.times.best[row]))
        equator = astronomy.Equator(astronomy.Body.Sun, time, there, True, True)
        sun = astronomy.Horizon(time, there, equator.ra, equator.dec, astronomy.Refraction.Airless)
        assert sun.altitude < -6.0 + REFRACTION_DEG
        astronomy.DefineStar(
            astronomy.Body.Star1, table.ra_deg[row] / 15.0, table.dec_deg[row], 1000.0
        )
        star = astronomy.Equator(astronomy.Body.Star1, time, there, True, True)
        place = astronomy.Horizon(time, there, star.ra, star.dec, astronomy.Refraction.Normal)
        assert place.altitude == pytest.approx(found.times.altitude_deg[row], abs=REFRACTION_DEG)
        assert place.altitude >= 15.0 - REFRACTION_DEG


@pytest.mark.parametrize(
    ("site", "date"), [*NIGHTS, ("Lindenhof", "2026-02-24"), ("Nordkapp", "2026-12-21")]
)
def test_a_body_is_shown_if_it_shows_at_any_usable_moment(site: str, date: str) -> None:
    """After sunset, above the least altitude; the Moon whenever she is up."""
    conditions, found = group(site, date, frozenset({Kind.PLANET, Kind.MOON}))
    bodies = found.targets
    assert isinstance(bodies, Bodies)
    usable = (bodies.altitude_deg >= 15.0) & conditions.body_hours(bodies)
    usable &= bodies.altitude_deg <= HAND_MOVED_DEG
    margin = found.judge.curve(bodies, conditions.sightlines_to(bodies)).margin
    showing = usable & (margin > 0.0)
    assert (found.shown == showing.any(axis=1)).all()
    for row in np.flatnonzero(found.shown):
        times = found.times
        assert showing[row, times.first[row] : times.last[row] + 1].all()
        assert times.first[row] <= times.best[row] <= times.last[row]
    assert found.shown.any()


@pytest.mark.parametrize("kind", [Kind.DOUBLE, Kind.GALAXY, Kind.PLANET])
def test_the_course_of_a_target_is_usable_when_it_is_high_and_dark(kind: Kind) -> None:
    """Both at once; in the course the chosen moment has the verdict's own margin."""
    conditions, found = group("Lindenhof", "2026-05-28", frozenset({kind}))
    rows = np.flatnonzero(found.times.usable)[:: max(1, int(found.times.usable.sum()) // 12)]
    partly = 0
    for row in rows:
        course = margin_curve(conditions, found, int(row))
        high = (course.altitude_deg >= 15.0) & (course.altitude_deg <= HAND_MOVED_DEG)
        dark = conditions.twilight_over
        if kind is Kind.PLANET:
            dark = conditions.body_hours(found.targets.rows([row]))[0]
        assert (course.usable == (high & dark)).all()
        partly += bool((high & ~dark).any() and (dark & ~high).any())
        best = int(found.times.best[row])
        assert course.usable[best]
        assert course.altitude_deg[best] == pytest.approx(found.times.altitude_deg[row])
        if kind is not Kind.DOUBLE or found.verdicts.shown[row]:
            assert course.margin[best] == pytest.approx(found.verdicts.margin[row], abs=1e-6)
    assert partly > 0 or kind is Kind.PLANET  # the Sun is down at every moment of a usual night
