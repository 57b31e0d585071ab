"""Angles against Meeus and identities."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import angles

LONGITUDE = st.floats(0.0, 359.999)
LATITUDE = st.floats(-89.9, 89.9)


def test_separation_reproduces_meeus_example_17a() -> None:
    # Meeus 1998, Astronomical Algorithms, example 17.a: Arcturus to Spica 32.7930 deg (from memory)
    found = angles.separation_deg(213.9154, 19.1825, 201.2983, -11.1614)
    assert found == pytest.approx(32.7930, abs=0.0001)


def test_separation_agrees_with_astropy() -> None:
    from astropy.coordinates import angular_separation, position_angle

    rng = np.random.default_rng(1)
    lon1, lon2 = rng.uniform(0, 360, (2, 200))
    lat1, lat2 = rng.uniform(-90, 90, (2, 200))
    args = np.radians([lon1, lat1, lon2, lat2])
    assert np.allclose(
        angles.separation_deg(lon1, lat1, lon2, lat2), np.degrees(angular_separation(*args))
    )
    theirs = np.asarray(position_angle(*args).deg) % 360.0
    assert np.allclose(angles.position_angle_deg(lon1, lat1, lon2, lat2), theirs)


@settings(deadline=None, max_examples=60)
@given(LONGITUDE, LATITUDE)
def test_unit_vectors_return_to_their_angles(lon: float, lat: float) -> None:
    back_lon, back_lat = angles.longitude_latitude_deg(angles.unit_vectors(lon, lat))
    assert angles.separation_deg(lon, lat, back_lon, back_lat) < 1e-9


@pytest.mark.parametrize(
    ("ra", "text"), [(0.0, "00h00.0m"), (221.25, "14h45.0m"), (359.9999, "00h00.0m")]
)
def test_right_ascension_text_rounds_without_sixty(ra: float, text: str) -> None:
    assert angles.right_ascension_text(ra) == text


@pytest.mark.parametrize(
    ("dec", "text"),
    [(27.0667, "+27°04'"), (-0.5, "-00°30'"), (-0.001, "+00°00'"), (59.9999, "+60°00'")],
)
def test_declination_text_keeps_its_sign(dec: float, text: str) -> None:
    assert angles.declination_text(dec) == text
