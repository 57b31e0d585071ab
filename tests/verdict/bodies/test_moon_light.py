"""Light on lunar features against plain geometry and a textbook case."""

import numpy as np
import pytest

from planner.constants import AU_KM
from planner.ephemeris.moon_face import MoonFace
from planner.targets.lunar_features import load_lunar_features
from planner.verdict.bodies.moon_light import feature_height_km, moon_light

TABLE = load_lunar_features()
FULL = MoonFace(*(np.array([0.0]) for _ in range(5)))
MEAN_AU = np.array([384400.0 / AU_KM])


def row(name):
    return int(np.flatnonzero(TABLE.name == name)[0])


def test_size_agrees_with_one_arcsecond_being_about_1_86_km():
    # Common practice: 1.86 km to the arcsecond at the Moon's mean distance (from its centre).
    light = moon_light(TABLE, FULL, MEAN_AU)
    found = light.size_arcsec[row("Copernicus"), 0]
    assert found == pytest.approx(TABLE.size_km[row("Copernicus")] / 1.86, rel=0.01)


def test_full_moon_has_no_feature_in_the_night_but_behind_the_limb():
    light = moon_light(TABLE, FULL, MEAN_AU)
    assert np.all((light.sun_altitude_deg < 0) == (light.from_centre_deg > 90.0))


def test_depth_of_copernicus_agrees_with_its_known_3_8_km():
    # Depth 3.8 km: handbooks, from memory; the law scatters by about a fifth.
    assert feature_height_km(TABLE)[row("Copernicus")] == pytest.approx(3.8, rel=0.2)


def test_shadow_equals_the_height_at_45_degrees_and_grows_as_the_sun_sinks():
    crater = row("Copernicus")
    lon, lat = TABLE.lon_east_deg[crater], TABLE.lat_deg[crater]
    sun = np.full(2, lon), lat + np.array([45.0, 80.0])
    face = MoonFace(np.zeros(2), np.zeros(2), *sun, np.zeros(2))
    light = moon_light(TABLE, face, np.repeat(MEAN_AU, 2))
    height = feature_height_km(TABLE)[crater]
    assert light.shadow_km[crater, 0] == pytest.approx(height, rel=1e-9)
    assert light.shadow_km[crater, 1] == pytest.approx(height / np.tan(np.radians(10.0)), rel=1e-9)
