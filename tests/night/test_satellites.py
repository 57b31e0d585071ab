"""Moons of Jupiter and Saturn on the page of their planet, and what the planet shows."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache

import astronomy
import pytest

from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.ephemeris.jupiter_events import Happening
from planner.ephemeris.red_spot import RedSpot
from planner.night.plan import BodyDetail
from planner.night.single_target import plan_single
from planner.sheets.night_document import night_document
from planner.sheets.satellite_words import strip
from planner.sheets.target_text import target_text
from planner.verdict.bodies.features import Sureness

SPOT = RedSpot(60.0, dt.date(2026, 11, 1), 1.5)


@cache
def planned(name, year, month, day, seeing=None):
    options = NightOptions(
        None, None, None, dt.datetime(year, month, day), seeing, None, None, None, None, True, 15.0
    )
    request = replace(
        request_for(options, ChoiceOptions(kinds="planet")),
        cache_folder=None, only=frozenset({name}), red_spot=SPOT,
    )  # fmt: skip
    plan, curves = plan_single(request)
    return plan, curves


def detail(name, *date, seeing=None):
    plan, _ = planned(name, *date, seeing)
    (target,) = plan.targets
    assert isinstance(target.detail, BodyDetail)
    return target, target.detail


def test_moons_stand_on_the_sides_where_another_library_has_them():
    """Astronomy-engine's own geometry: right ascension of each moon against Jupiter's."""
    target, found = detail("Jupiter", 2027, 2, 11)
    time = astronomy.Time.Make(*target.best_time.astimezone(dt.UTC).timetuple()[:5], 0.0)
    moons = astronomy.JupiterMoons(time)
    jupiter = astronomy.GeoVector(astronomy.Body.Jupiter, time, False)
    for place in found.satellites.places:
        state = getattr(moons, place.name.lower())
        east = -jupiter.y * state.x + jupiter.x * state.y  # along growing right ascension
        if abs(place.west) > 1.0:
            assert (east < 0.0) == (place.west > 0.0), place.name


def test_transit_and_shadow_come_together_at_opposition():
    """On the night of opposition a moon's shadow lies under it: within some minutes."""
    _, found = detail("Jupiter", 2027, 2, 11)
    by = {(e.moon, e.happening, e.begins): e.time for e in found.satellites.events}
    apart = (by["Io", Happening.TRANSIT, True] - by["Io", Happening.SHADOW, True]).total_seconds()
    assert abs(apart) < 600.0


def test_red_spot_passes_the_middle_every_9_h_56_min():
    """Rotation of System II: 9 h 55 min 41 s (870.27 degrees a day)."""
    _, found = detail("Jupiter", 2027, 2, 11)
    _, after = detail("Jupiter", 2027, 2, 12)
    times = [t for d in (found, after) for t in d.satellites.red_spot_times]
    assert len(times) >= 2
    turns = (times[-1] - times[0]).total_seconds() / 60.0 / 595.68
    assert turns == pytest.approx(round(turns), abs=0.01)


def test_titan_is_easy_and_mimas_hopeless_in_six_inches():
    """Common practice, no source: Titan at once, Rhea with ease, Mimas needs far more."""
    _, found = detail("Saturn", 2026, 11, 26)
    margin = {place.name: place.margin_mag for place in found.satellites.places}
    assert margin["Titan"] > 1.5 and margin["Rhea"] > 0.0
    assert margin["Mimas"] is None or margin["Mimas"] < -0.5


def test_the_strip_has_the_planet_in_the_middle_and_west_on_the_left():
    _, found = detail("Jupiter", 2027, 2, 11)
    line = strip(found.satellites)
    middle = line.index("o")
    assert middle == len(line) // 2
    for place in found.satellites.places:
        if place.west > 2.0:
            assert place.name[0] in line[:middle]


def test_red_spot_drifts():
    assert SPOT.longitude_at(dt.date(2026, 11, 1)) == 60.0
    assert SPOT.longitude_at(dt.date(2027, 11, 1)) == pytest.approx(78.0, abs=0.1)


def test_the_eyepiece_bears_no_more_power_in_worse_seeing():
    """And never an exit pupil below 0.7 mm: common practice for planets, no source."""
    powers = []
    for seeing in (0.8, 2.0, 4.0):
        target, _ = detail("Jupiter", 2027, 2, 11, seeing=seeing)
        assert target.view.exit_pupil_mm >= 0.69
        powers.append(target.view.magnification)
    assert powers == sorted(powers, reverse=True)


def test_worse_seeing_shows_no_more_of_saturn():
    best = None
    for seeing in (0.8, 2.0, 4.0):
        _, found = detail("Saturn", 2026, 11, 26, seeing=seeing)
        sure = {f.name: f.sureness for f in found.features}
        if best is not None:
            assert all(sure[name] <= best[name] for name in sure)
        best = sure
    assert best["Cassini division"] is Sureness.NOT_TONIGHT


def test_page_and_document_tell_the_same():
    plan, curves = planned("Jupiter", 2027, 2, 11)
    text = target_text(plan, curves, {})
    (row,) = night_document(plan)["targets"]
    assert max(map(len, text.splitlines())) <= 100
    for feature in row["features"]:
        assert feature["name"] in " ".join(text.split())
        assert feature["verdict"] in ("plain", "possible", "not tonight")
    assert len(row["satellites"]["places"]) == 4
    assert all(event["moon"] in text for event in row["satellites"]["events"] if event["seen"])
