"""A planet close up: which side is lit, and where its moons stand."""

from __future__ import annotations

import datetime as dt
from math import atan2, degrees, hypot

import numpy as np
import pytest
from sample_nights import request

from planner.angles import position_angle_deg, unit_vectors
from planner.charts.disc import FLATTENING, HALF_WIDTH, USUAL_HALF_WIDTH, disc_scene
from planner.charts.projection import project
from planner.charts.scene import Scene, Tone
from planner.charts.sky import Sky, skies_at
from planner.charts.subject import Subject
from planner.ephemeris.bodies import sun_track
from planner.ephemeris.moments import grid_at
from planner.optics.turn import UPRIGHT
from planner.targets.kind import Kind

RADIUS = 100.0


def close_up(name: str, when: str) -> tuple[Scene, Sky, Subject]:
    """A planet with north up, at a moment of universal time."""
    site = request().site
    (sky,) = skies_at(site, [dt.datetime.fromisoformat(when).replace(tzinfo=dt.UTC)])
    row = list(sky.bodies.name).index(name)
    ra, dec = float(sky.bodies.ra_deg[row]), float(sky.bodies.dec_deg[row])
    wide = float(sky.bodies.diameter_arcsec[row]) / 60.0
    subject = Subject(name, ra, dec, Kind.PLANET, axes_arcmin=(wide, wide))
    north_up = project((ra, dec), unit_vectors(ra, dec + 90.0), UPRIGHT, 0.3, RADIUS)
    return disc_scene(subject, sky, north_up, name), sky, subject


@pytest.mark.parametrize("when", ["2026-12-28 06:00", "2028-04-20 18:00", "2027-06-01 03:00"])
def test_venus_is_lit_towards_the_sun_as_far_as_the_phase_says(when: str) -> None:
    """Area of the dark part; direction of the Sun by spherical geometry (textbook, from memory)."""
    scene, sky, subject = close_up("Venus", when)
    (dark,) = (area for area in scene.areas if area.tone is Tone.SHADE)
    x, y = np.array(dark.points).T
    surface = abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2.0
    disc = np.pi * (RADIUS / USUAL_HALF_WIDTH) ** 2
    row = list(sky.bodies.name).index("Venus")
    lit = float(sky.bodies.illuminated_fraction[row])
    assert 1.0 - surface / disc == pytest.approx(lit, abs=0.01)
    sun = sun_track(sky.site, grid_at(sky.site, sky.moment, [0.0]))
    towards = float(
        position_angle_deg(subject.ra_deg, subject.dec_deg, sun.ra_deg[0], sun.dec_deg[0])
    )
    darkest = degrees(atan2(-x.mean(), y.mean()))  # north up, east to the left
    assert abs((darkest - towards) % 360.0 - 180.0) < 1.5


def test_jupiters_moons_stand_on_a_line_through_the_disc() -> None:
    """Within 27 radii and a tilt of the orbits of 4 degrees at most (common knowledge)."""
    scene, _, _ = close_up("Jupiter", "2026-12-08 23:30")
    assert 3 <= len(scene.dots) <= 4
    names = {words.text for words in scene.words}
    assert len(names & {"Io", "Eu", "Ga", "Ca"}) >= 3
    places = np.array([(dot.x, dot.y) for dot in scene.dots])
    axis = np.linalg.svd(places)[2][0]
    off = np.abs(places @ np.array([-axis[1], axis[0]]))
    assert off.max() < 2.5 / HALF_WIDTH["Jupiter"] * RADIUS


def test_saturns_ring_is_2_27_radii_wide_and_hidden_behind_the_globe() -> None:
    """Ring A's edge at 136,780 km, the globe's radius 60,268 km (fact sheet, from memory)."""
    scene, _, _ = close_up("Saturn", "2026-12-08 20:00")
    ring = np.array([p for line in scene.lines for p in line.points if line.pen.name == "SOLID"])
    globe = RADIUS / HALF_WIDTH["Saturn"]
    reach = np.hypot(*ring.T).max()
    assert reach == pytest.approx(136780.0 / 60268.0 * globe, rel=0.01)
    crossing = [p for p in ring if hypot(*p) < 0.8 * (1.0 - FLATTENING["Saturn"]) * globe]
    middle = np.mean(crossing, axis=0)
    assert hypot(*middle) > 0.05 * globe  # on the near side of the globe only
