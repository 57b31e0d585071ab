"""The Moon near the Sun: over every distance from it, each output heeds the rules."""

from __future__ import annotations

import datetime as dt
import json
import re
from dataclasses import replace
from functools import cache

import ephem
import numpy as np
import pytest
from sample_nights import request

from planner.night.lunar_nights import good_nights, next_moon
from planner.night.single_target import plan_lunar_feature, plan_single
from planner.sheets.expectation import expectation, place_words
from planner.sheets.lunar_feature_text import lunar_feature_text
from planner.sheets.lunar_words import next_moon_words
from planner.sheets.moon_document import moon_document
from planner.sheets.moon_text import moon_text
from planner.targets.kind import Kind
from planner.targets.lunar_names import lunar_row

NEW = dt.date(2027, 3, 8)  # almanac, from memory
STEPS = (-5, -3, -2, -1, 0, 1, 2, 3, 4, 6)
SITES = ("Lindenhof", "Beagle", "Atoll")
NIGHTS = [(site, step) for site in SITES for step in STEPS]
CAUTION = re.compile(r"(not before|stop by) \d\d:\d\d")


@cache
def told(site, step):
    date = (NEW + dt.timedelta(days=step)).isoformat()
    alone = request(
        site, date, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}), least_altitude_deg=3.0
    )
    return plan_single(alone)[0]


@cache
def following(site, step):
    plan = told(site, step)
    return next_moon(plan.site, plan.night.date, 3.0)


def sun_altitude_deg(site, when):
    """True altitude of the Sun's centre by another library."""
    observer = ephem.Observer()
    observer.lat, observer.lon = str(site.latitude_deg), str(site.longitude_deg)
    observer.elevation, observer.pressure = site.elevation_m, 0.0
    observer.date = ephem.Date(when.astimezone(dt.UTC).replace(tzinfo=None))
    return float(np.degrees(float(ephem.Sun(observer).alt)))


def times_in(document):
    """Every time that a document names for a look."""
    found = [document["target"][key] for key in ("window_start", "best_time", "window_end")]
    if document["moon"] is not None:
        found.append(document["moon"]["time"])
    if document["next_moon"] is not None:
        found += [document["next_moon"][key] for key in ("time", "first", "last")]
    return [dt.datetime.fromisoformat(text) for text in found if text is not None]


@pytest.mark.parametrize(("site", "step"), NIGHTS)
def test_every_time_told_has_the_sun_two_degrees_down(site, step):
    plan = told(site, step)
    document = json.loads(json.dumps(moon_document(plan, following(site, step))))
    for when in times_in(document):
        assert sun_altitude_deg(plan.site, when) < -1.95, when


@pytest.mark.parametrize(("site", "step"), NIGHTS)
def test_every_page_of_a_moon_beside_the_sun_gives_the_clock_time_that_binds(site, step):
    """Within 60 degrees; and no page without the caution against the Sun."""
    plan = told(site, step)
    (target,) = plan.targets
    page = " ".join(moon_text(plan, following(site, step)).split())
    row = moon_document(plan, following(site, step))["target"]
    assert "Never point telescope or finder at the Sun" in page
    if target.best_time is not None and target.detail.elongation_deg < 60.0:
        for words in (page, row["reason"]):
            assert CAUTION.search(words), words
    if target.best_time is None:
        assert row["altitude_deg"] is row["azimuth_deg"] is row["eyepiece"] is None
        assert "Eyepiece" not in page and "for " + "the hardest" not in page
        assert next_moon_words(following(site, step)) in page


def test_distances_from_the_sun_were_walked():
    near = [
        told(*night).targets[0].detail.elongation_deg
        for night in NIGHTS
        if told(*night).targets[0].best_time is not None
    ]
    assert min(near) < 30.0 < max(near) and sum(value < 60.0 for value in near) >= 6


def test_a_features_page_heeds_the_sun_too():
    """A crescent, and a morning Moon: the clock time, and no next night with the Sun up."""
    for step in (-3, 3):
        date = (NEW + dt.timedelta(days=step)).isoformat()
        asked = request("Lindenhof", date, least_altitude_deg=3.0)
        row = lunar_row("Mare Crisium")
        plan, moon = plan_lunar_feature(asked, row)
        from planner.night.lunar_nights import feature_tonight

        facts = feature_tonight(plan.site, plan.night.date, row, 3.0, moon)
        page = " ".join(lunar_feature_text(plan, facts).split())
        assert "Never point telescope or finder at the Sun" in page
        if moon is not None:
            assert CAUTION.search(page)
        for night in good_nights(plan.site, plan.night.date, row, 3.0):
            for when in (night.first, night.time, night.last):
                assert sun_altitude_deg(plan.site, when) < -1.95


def test_the_sheets_words_name_no_place_for_a_moon_that_is_not_to_be_looked_at():
    hidden = [told(*night).targets[0] for night in NIGHTS]
    hidden = [target for target in hidden if target.best_time is None]
    assert hidden
    for target in hidden:
        assert not re.search(r"\d+°", place_words(target)), place_words(target)
        assert not re.search(r"\d\d:\d\d", expectation(replace(target, hop=None)))
