"""What a mount and a roof let the telescope reach, and when bodies near the Sun are safe."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import numpy as np
from sample_nights import KIT, plan, request

from planner.ephemeris.bodies import body_table
from planner.night.conditions import night_conditions
from planner.night.plan import Absence
from planner.sheets.verdict_words import reason_words
from planner.targets.kind import Kind

HAND_MOVED_DEG = 80.0  # the kit's default for an alt-azimuth moved by hand
M_31 = frozenset({"NGC 224"})


def test_nothing_is_told_for_a_height_the_mount_does_not_reach() -> None:
    """At 48 N in November M 31 passes 83 degrees up; it is told for an hour when it is lower."""
    made = plan(date="2026-11-10", limit=None)
    heights = [t.altitude_deg for t in made.targets if t.altitude_deg is not None]
    assert max(heights) <= HAND_MOVED_DEG
    free = replace(KIT.telescope(), greatest_altitude_deg=90.0)
    (reached,) = plan(date="2026-11-10", only=M_31).targets
    (highest,) = plan(date="2026-11-10", only=M_31, telescope=free).targets
    assert reached.shown and highest.altitude_deg is not None and reached.altitude_deg is not None
    assert highest.altitude_deg > 82.0 and 70.0 < reached.altitude_deg <= HAND_MOVED_DEG


def test_a_balcony_hides_what_stands_above_it() -> None:
    """A ceiling of 50 degrees all round."""
    asked = request(date="2026-11-10")
    below = replace(asked, site=replace(asked.site, ceiling=((0.0, 50.0), (180.0, 50.0))))
    conditions = night_conditions(below)
    for track in conditions.planets:
        high = track.altitude_deg > 50.0
        assert not (conditions.within_reach(track) & high).any()


def test_planets_wait_for_civil_dusk_and_end_at_civil_dawn() -> None:
    """Where the night has them; Mercury and Venus have the safe span: Sun 2 degrees down."""
    conditions = night_conditions(request(date="2026-11-10"))
    bodies = body_table(conditions.planets, len(conditions.instants))
    hours = conditions.body_hours(bodies)
    sun = conditions.sun.altitude_deg
    for name, usable in zip(bodies.name, hours, strict=True):
        highest_sun = sun[usable].max()
        assert highest_sun < (-1.5 if name in ("Mercury", "Venus") else -5.5)
    inner = hours[bodies.name == "Venus"][0]
    assert inner.sum() > hours[bodies.name == "Saturn"][0].sum()


def test_near_the_sun_the_morning_ends_a_quarter_of_an_hour_early() -> None:
    """The last safe moment lies 15 minutes or more before the Sun is 2 degrees down again."""
    conditions = night_conditions(request(date="2026-11-10"))
    down = np.flatnonzero(conditions.sun.altitude_deg < -2.0)  # the air's lift is small there
    assert down[-1] - np.flatnonzero(conditions.sun_safe)[-1] >= 2


def test_under_a_night_without_civil_dusk_planets_have_the_safe_span() -> None:
    """65 N at midsummer: the Sun sets, but is never 6 degrees down."""
    north = replace(request().site, latitude_deg=64.5, longitude_deg=25.0, timezone="UTC")
    asked = replace(request(date="2026-06-10", kinds=frozenset({Kind.PLANET})), site=north)
    conditions = night_conditions(asked)
    bodies = body_table(conditions.planets, len(conditions.instants))
    saturn = conditions.body_hours(bodies)[bodies.name == "Saturn"][0]
    assert (saturn == conditions.sun_safe).all()


def test_what_stands_too_high_in_the_hours_asked_for_is_told_for_others() -> None:
    """M 31 within the half hour around its culmination at 83 degrees: it is reached later."""
    hours = {"start": time(21, 15), "end": time(21, 45)}
    (told,) = plan(date="2026-11-10", only=M_31, include_all=True, **hours).targets
    assert told.unusable is not None and told.unusable.why is Absence.OTHER_HOURS
    assert told.unusable.highest_deg > HAND_MOVED_DEG
    assert told.unusable.elsewhen is not None and told.unusable.elsewhen[0].hour == 22


def test_a_star_that_stays_above_the_reach_is_said_to_stand_too_high() -> None:
    """NGC 188 circles the pole between 43 and 53 degrees: above what this mount reaches."""
    low = replace(KIT.telescope(), greatest_altitude_deg=40.0)
    only = frozenset({"NGC 188"})
    (told,) = plan(date="2026-11-10", only=only, include_all=True, telescope=low).targets
    assert told.unusable is not None and told.unusable.why is Absence.HIGH
    assert "higher than" in reason_words(told)
