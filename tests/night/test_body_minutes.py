"""The minute chosen for a planet: high, dark and safe; and no output points at the Sun."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from functools import cache

import ephem
import numpy as np
import pytest

from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.kit.reading import load_kit
from planner.night.conditions import night_conditions
from planner.night.planning import make_plan
from planner.night.safe_span import safe_span
from planner.sheets.night_document import night_document
from planner.sheets.night_text import night_text
from planner.sheets.target_text import target_text

KIT = load_kit()
NIGHTS = tuple(
    (dt.datetime(2026, 1, 5) + dt.timedelta(days=47 * n), latitude)
    for n, latitude in enumerate((48.1, -34.0, 65.0, 10.0, 48.1, 55.0, -34.0, 48.1))
)


@cache
def plan_of(night):
    date, latitude = NIGHTS[night]
    options = NightOptions(None, None, None, date, None, None, None, None, None, True, 5.0)
    request = request_for(options, ChoiceOptions(kinds="planet,moon"), KIT)
    site = replace(request.site, latitude_deg=latitude, horizon=(), ceiling=())
    request = replace(request, site=site, cache_folder=None)
    return make_plan(request), night_conditions(request)


def sun_altitude_deg(site, when):
    """True altitude of the Sun's centre by the ephem library."""
    observer = ephem.Observer()
    observer.lat, observer.lon = str(site.latitude_deg), str(site.longitude_deg)
    observer.elevation, observer.pressure = site.elevation_m, 0.0
    observer.date = ephem.Date(when.astimezone(dt.UTC).replace(tzinfo=None))
    return float(np.degrees(float(ephem.Sun(observer).alt)))


@pytest.mark.parametrize("night", range(len(NIGHTS)))
def test_nothing_is_pointed_at_with_the_sun_near_its_horizon(night):
    """Over the year and five latitudes: 2 degrees down at every time told, by another library."""
    plan, _ = plan_of(night)
    for target in plan.targets:
        for when in (target.window_start, target.best_time, target.window_end):
            if when is not None:
                assert sun_altitude_deg(plan.site, when) < -1.95, (target.name, when)


@pytest.mark.parametrize("night", range(len(NIGHTS)))
def test_no_outer_planet_is_put_near_sunrise_when_it_was_as_high_in_the_dark(night):
    plan, conditions = plan_of(night)
    tracks = {track.name: track for track in conditions.planets}
    for target in plan.targets:
        if target.best_time is None or target.name not in tracks:
            continue
        altitude = tracks[target.name].altitude_deg
        sun = conditions.sun.altitude_deg
        best = conditions.instants.index(target.best_time)
        if sun[best] > -8.0:
            reach = conditions.within_reach(tracks[target.name])
            darker = reach & (sun < -12.0) & (altitude > altitude[best])
            assert not darker.any(), target.name


@pytest.mark.parametrize("night", range(len(NIGHTS)))
def test_the_safe_span_is_where_the_sun_is_two_degrees_down(night):
    plan, conditions = plan_of(night)
    first, last = safe_span(conditions)
    if first is not None:
        assert sun_altitude_deg(plan.site, first) == pytest.approx(-2.0, abs=0.02)
    if last is not None:
        later = last + dt.timedelta(minutes=15)
        assert sun_altitude_deg(plan.site, later) == pytest.approx(-2.0, abs=0.02)


@pytest.mark.parametrize("night", range(len(NIGHTS)))
def test_every_output_that_names_a_body_by_the_sun_gives_its_clock_time(night):
    plan, _ = plan_of(night)
    text = night_text(plan)
    rows = {row["name"]: row for row in night_document(plan)["targets"]}
    for target in plan.targets:
        if target.best_time is None or target.detail.elongation_deg >= 60.0:
            continue
        page = " ".join(target_text(replace(plan, targets=(target,)), [_no_course()], {}).split())
        for words in (page, rows[target.name]["reason"]):
            assert re.search(r"(not before|stop by) \d\d:\d\d", words), target.name
        assert target.name in text or not target.shown


def _no_course():
    """A course that says nothing."""
    from planner.night.margin_curve import MarginCurve
    from planner.verdict.verdicts import MarginUnit

    none = np.zeros(0)
    return MarginCurve(
        (), none, none, none, none, MarginUnit.MAGNITUDES, none.astype(bool), none.astype(bool)
    )
