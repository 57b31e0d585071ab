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
