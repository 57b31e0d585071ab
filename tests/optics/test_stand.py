"""The height of the eyepiece, against a tube drawn out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.optics.stand import Stand

TOP = Stand(700.0, 500.0, 120.0, 90.0)
SIDE = Stand(700.0, 500.0, 120.0, 0.0)


def test_the_eyepiece_stands_where_the_drawing_has_it() -> None:
    """Level, the focuser on top is its reach above the axis; upright, the arm is. By geometry."""
    assert TOP.eyepiece_height_mm([0.0, 90.0]) == pytest.approx([820.0, 1200.0])
    assert SIDE.eyepiece_height_mm([0.0, 90.0]) == pytest.approx([700.0, 1200.0])


@given(st.floats(0.0, 90.0), st.floats(0.0, 360.0))
def test_the_eyepiece_turns_about_the_tube(altitude: float, angle: float) -> None:
    """By vectors: along the tube and out of it, in a frame with the axis level."""
    h, a = np.radians([altitude, angle])
    tube = np.array([0.0, np.cos(h), np.sin(h)])
    top = np.array([0.0, -np.sin(h), np.cos(h)])
    side = np.array([1.0, 0.0, 0.0])
    place = 500.0 * tube + 120.0 * (np.cos(a) * side + np.sin(a) * top)
    stand = Stand(700.0, 500.0, 120.0, angle)
    assert float(stand.eyepiece_height_mm(altitude)) == pytest.approx(700.0 + place[2], abs=1e-6)


@given(st.floats(0.0, 90.0), st.floats(0.0, 360.0), st.floats(-100.0, 200.0))
def test_an_axis_above_the_tube_lowers_the_eyepiece_when_level(
    altitude: float, angle: float, above: float
) -> None:
    """By vectors, the tube's middle below the axis; out is the distance from the upright axis."""
    h, a = np.radians([altitude, angle])
    tube = np.array([0.0, np.cos(h), np.sin(h)])
    top = np.array([0.0, -np.sin(h), np.cos(h)])
    side = np.array([1.0, 0.0, 0.0])
    place = 500.0 * tube + 120.0 * (np.cos(a) * side + np.sin(a) * top) - above * top
    stand = Stand(700.0, 500.0, 120.0, angle, above)
    assert float(stand.eyepiece_height_mm(altitude)) == pytest.approx(700.0 + place[2], abs=1e-6)
    out = float(np.hypot(place[0], place[1]))
    assert float(stand.eyepiece_out_mm(altitude)) == pytest.approx(out, abs=1e-6)
    assert float(stand.eyepiece_ahead_mm(altitude)) == pytest.approx(place[1], abs=1e-6)
    assert stand.eyepiece_aside_mm == pytest.approx(place[0], abs=1e-6)


def test_eyepiece_height_agrees_with_hand_work() -> None:
    """Axis 750, arm 650, reach 160 at 45 degrees: 0.8631, 1.1730, 1.3695 and 1.4000 m."""
    heights = Stand(750.0, 650.0, 160.0, 45.0).eyepiece_height_mm([0.0, 30.0, 60.0, 90.0])
    assert heights == pytest.approx([863.1, 1173.0, 1369.5, 1400.0], abs=0.1)


def test_an_eyepiece_behind_the_axis_sinks_as_the_tube_rises() -> None:
    """A refractor drawn by hand: axis 650, focuser 540 behind it: 650, then 118 at 80 degrees."""
    stand = Stand(650.0, -540.0, 140.0, 0.0)
    assert stand.eyepiece_height_mm([0.0, 80.0]) == pytest.approx([650.0, 118.2], abs=0.05)
    assert float(stand.eyepiece_ahead_mm(0.0)) == -540.0
    assert float(stand.eyepiece_out_mm(0.0)) == pytest.approx(np.hypot(540.0, 140.0))
