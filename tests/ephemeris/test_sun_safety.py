"""The rules beside the Sun, over every angle and height."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.ephemeris.sun_safety import (
    SunRule,
    beside_sun_allowed,
    safe_sun_deg,
    sun_rule,
    sun_up_deg,
)


def test_the_horizon_of_a_hill_lies_lower():
    """Dip of 1.76' sqrt(height in m): Bowditch, American Practical Navigator (from memory)."""
    assert sun_up_deg(0.0) == pytest.approx(-0.83)
    assert sun_up_deg(870.0) == pytest.approx(-0.83 - 1.76 / 60.0 * 870.0**0.5, abs=0.01)
    assert safe_sun_deg(0.0) == -2.0
    assert safe_sun_deg(4000.0) < -2.5


@given(st.floats(0.0, 180.0), st.floats(-90.0, 90.0), st.floats(-100.0, 5000.0))
def test_nothing_within_30_degrees_of_a_sun_that_is_up(elongation, altitude, height):
    rule = sun_rule(elongation, altitude, height)
    up = altitude > sun_up_deg(height)
    assert (rule is SunRule.NEVER) == (up and elongation < 30.0)
    assert (rule is SunRule.WALL) == (up and 30.0 <= elongation < 60.0)
    assert bool(beside_sun_allowed(elongation, altitude, height)) == (rule is not SunRule.NEVER)


@given(st.floats(0.0, 5000.0))
def test_the_sun_is_never_up_when_it_is_safe(height):
    assert safe_sun_deg(height) <= sun_up_deg(height)
    assert np.isfinite(safe_sun_deg(height))
