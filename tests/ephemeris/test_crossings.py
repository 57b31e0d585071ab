"""Crossings of sampled curves against curves whose roots are known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ephemeris.crossings import crossings, cubic_values
from planner.errors import ModelRangeError

DAY_S = 86400.0
STATED_ERROR_S = 0.1


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 2 * np.pi), st.floats(-0.9, 0.9))
def test_crossings_finds_every_root_of_a_sine_of_one_day(phase, offset):
    seconds = np.arange(0.0, 2 * DAY_S, 600.0)
    found = crossings(seconds, np.sin(2 * np.pi * seconds / DAY_S + phase) - offset)
    up = (np.arcsin(offset) - phase) / (2 * np.pi) * DAY_S
    down = (np.pi - np.arcsin(offset) - phase) / (2 * np.pi) * DAY_S
    for rising, root in ((True, up), (False, down)):
        roots = root + DAY_S * np.arange(-2, 4)
        inside = roots[(roots > 1.0) & (roots < seconds[-1] - 1.0)]
        mine = found.at[found.rising == rising]
        mine = mine[(mine > 1.0) & (mine < seconds[-1] - 1.0)]
        assert mine == pytest.approx(inside, abs=STATED_ERROR_S)


def test_crossings_finds_none_where_there_is_none():
    assert crossings(np.arange(10.0), np.ones(10)).at.size == 0


def test_cubic_values_is_exact_for_a_cubic():
    x = np.arange(8.0)
    where = np.array([0.0, 0.3, 1.5, 4.9, 6.2, 7.0])
    expected = 2 - where + 0.5 * where**2 - 0.1 * where**3
    rounding = 1e-12
    assert cubic_values(2 - x + 0.5 * x**2 - 0.1 * x**3, where) == pytest.approx(
        expected, abs=rounding
    )


def test_cubic_values_rejects_three_samples():
    with pytest.raises(ModelRangeError, match="four samples, not 3"):
        cubic_values([1.0, 2.0, 3.0], 1.0)
