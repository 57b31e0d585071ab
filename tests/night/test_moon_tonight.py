"""The Moon of a night: which features are told, at which minute, and when they are next lit."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache

import ephem
import numpy as np
import pytest
from sample_nights import judged, request

from planner.ephemeris.kernel import covered_dates
from planner.night.lunar_nights import good_nights, next_moon
from planner.night.moon_tonight import moon_at
from planner.night.plan import BodyDetail
from planner.night.single_target import plan_lunar_feature, plan_single
from planner.sheets.moon_text import moon_text
from planner.sheets.night_words import night_lines
from planner.targets.kind import Kind
from planner.targets.lunar_names import lunar_row
from planner.verdict.bodies.features import Sureness

QUARTER, FULL, NEW = "2027-02-14", "2027-02-20", "2027-02-06"  # almanac, from memory


@cache
def moon(date, site="Lindenhof"):
    alone = request(site, date, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}))
    (target,) = plan_single(alone)[0].targets
    return target


def face(date, site="Lindenhof"):
    detail = moon(date, site).detail
    assert isinstance(detail, BodyDetail) and detail.moon is not None
    return detail.moon


def test_a_quarter_shows_the_features_at_the_terminator():
    """At 11 degrees of colongitude the Sun has risen over Plato and the straight wall, as any
    atlas with sunrise lines has it (from memory); Copernicus waits a day.
    """
    told = face(QUARTER)
    names = {sight.name for sight in told.sights}
    assert {"Plato", "Rupes Recta", "Ptolemaeus", "Montes Apenninus"} <= names
    assert not {"Copernicus", "Theophilus", "Tycho", "Mare Humorum"} & names
    assert [s.lat_deg for s in told.sights] == sorted(
        (s.lat_deg for s in told.sights), reverse=True
    )
    assert all(s.morning for s in told.sights if abs(s.lat_deg) < 60.0 and s.sun_altitude_deg < 15)


def test_the_hardest_that_still_goes_wants_the_eyepiece():
    told = face(QUARTER)
    shown = [s for s in told.sights if s.feature.sureness > Sureness.NOT_TONIGHT]
    shown = [s for s in shown if s.sun_altitude_deg <= 15.0]
    least = min(shown, key=lambda sight: sight.feature.margin)
    assert told.hardest == least.name
    assert told.view is not None and 0.5 <= told.view.exit_pupil_mm <= 1.7
    assert moon(QUARTER).view == told.view  # the night's list takes the same


def test_the_verdicts_of_the_list_are_those_of_the_page():
    conditions, groups = judged("Lindenhof", QUARTER, kinds=frozenset({Kind.MOON}))
    (features,) = groups[0].verdicts.detail.features
    by_name = {feature.name: feature for feature in features}
    assert by_name == {sight.name: sight.feature for sight in face(QUARTER).sights}


def test_shadows_are_as_long_as_geometry_has_them():
    """``height / tan h``: Mons Piton, 2.3 km high."""
    (piton,) = [sight for sight in face(QUARTER).sights if sight.name == "Mons Piton"]
    tangent = np.tan(np.radians(piton.sun_altitude_deg))
    assert piton.shadow_km == pytest.approx(2.3 / tangent)


def test_better_air_never_takes_a_feature_away():
    good = request("Lindenhof", QUARTER, seeing_arcsec=1.0, kinds=frozenset({Kind.MOON}))
    (target,) = plan_single(replace(good, only=frozenset({"Moon"})))[0].targets
    steady = {f.name: f for f in target.detail.features}
    for sight in face(QUARTER).sights:
        if sight.name in steady and steady[sight.name].margin is not None:
            assert steady[sight.name].sureness >= sight.feature.sureness


def test_no_moon_tells_the_next_one():
    assert moon(NEW).best_time is None
    found = next_moon(request("Lindenhof", NEW).site, dt.date(2027, 2, 6), 15.0)
    # New Moon on 6 February 2027, 15:56 UT (almanac, from memory): a crescent 15 degrees high
    # with the Sun down comes two or three days later in spring in the north.
    assert found is not None and dt.date(2027, 2, 8) <= found.date <= dt.date(2027, 2, 9)
    assert found.altitude_deg >= 15.0


def test_next_nights_of_the_straight_wall_follow_the_sun_there():
    """The Sun's height over the wall from another library's colongitude."""
    row = lunar_row("Rupes Recta")
    place = request("Lindenhof").site
    nights = good_nights(place, dt.date(2027, 2, 1), row, 15.0)
    assert dt.date(2027, 2, 14) in [night.date for night in nights]
    assert 2 <= len(nights) <= 6
    for night in nights:
        body = ephem.Moon(ephem.Date(night.time.astimezone(dt.UTC).replace(tzinfo=None)))
        under = np.radians(90.0) - float(body.colong)
        lat, lon = np.radians(-21.7), np.radians(-7.7)
        sine = np.sin(body.subsolar_lat) * np.sin(lat)
        sine += np.cos(body.subsolar_lat) * np.cos(lat) * np.cos(lon - under)
        # Theirs is a short series; half a degree is an hour. The face itself is held to a lunar
        # kernel elsewhere.
        assert night.sun_altitude_deg == pytest.approx(np.degrees(np.arcsin(sine)), abs=0.5)
        assert 1.0 <= night.sun_altitude_deg <= 12.0 and night.altitude_deg >= 15.0


def test_the_last_nights_of_the_ephemeris_have_no_next_ones():
    last = covered_dates()[1]
    assert good_nights(request("Lindenhof").site, last, 0, 15.0) == ()


@pytest.mark.parametrize("site", ["Beagle", "Atoll", "Nordkapp"])
def test_every_site_gets_an_answer(site):
    """South of the equator, at it, and in the polar night."""
    plan, told = plan_lunar_feature(request(site, QUARTER), lunar_row("Plato"))
    target = plan.targets[0]
    assert (told is None) == (target.best_time is None)
    nights = good_nights(plan.site, plan.night.date, lunar_row("Plato"), 15.0)
    assert all(night.first <= night.time <= night.last for night in nights)


def test_a_moment_below_the_horizon_has_no_face():
    conditions, _ = judged("Lindenhof", NEW, kinds=frozenset({Kind.MOON}))
    assert moon_at(conditions, int(np.argmin(conditions.moon.altitude_deg))) is None


def test_a_full_moon_keeps_to_seas_and_the_limb():
    told = face(FULL)
    low = [s for s in told.sights if s.sun_altitude_deg <= 15.0]
    assert {"Mare Imbrium", "Mare Crisium", "Mare Serenitatis"} <= {s.name for s in told.sights}
    assert all(s.from_centre_deg > 65.0 for s in low)


@pytest.mark.parametrize(
    ("site", "date", "seen"),
    [
        ("Lindenhof", "2028-12-31", True), ("Kauri", "2028-12-31", True),
        ("Beagle", "2028-12-31", False), ("Lindenhof", QUARTER, False),
    ],
)  # fmt: skip
def test_an_eclipse_leads_the_pages_of_its_night(site, date, seen):
    """Total on 31 December 2028, 16:52 UT: Espenak & Meeus, Five Millennium Canon (from memory).

    The Moon then stands over 120 E or so: up at dusk in Europe, low before dawn in New Zealand,
    and down in Tierra del Fuego.
    """
    alone = request(site, date, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}))
    plan, _ = plan_single(alone)
    leads = moon_text(plan, None).startswith("Tonight: total eclipse of the Moon")
    assert leads == night_lines(plan)[0].startswith("Tonight: total eclipse") == seen


def test_a_feature_is_looked_at_when_the_sun_stands_well_there():
    """A crater on which the Sun rises that very evening: not at the Moon's own best minute."""
    plan, told = plan_lunar_feature(request("Lindenhof", QUARTER), lunar_row("Eratosthenes"))
    (target,) = plan.targets
    assert told is not None and target.best_time < told.time <= target.window_end
    (sight,) = told.sights
    assert 1.0 <= sight.sun_altitude_deg <= 2.0
    assert told.altitude_deg < target.altitude_deg
