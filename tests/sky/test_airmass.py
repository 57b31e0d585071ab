"""Airmass: published values, agreement of two formulas, the horizon."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sky.airmass import airmass


@pytest.mark.parametrize(
    ("altitude", "value", "last_digit"), [(0.0, 38.75, 0.01), (90.0, 1.0, 1e-6)]
)
def test_airmass_reproduces_pickering2002(altitude: float, value: float, last_digit: float) -> None:
    """Pickering 2002, DIO 12, 1: 38.75 at the horizon (from memory)."""
    assert airmass(altitude) == pytest.approx(value, abs=last_digit)


@pytest.mark.parametrize(("altitude", "value"), [(10.0, 5.581), (30.0, 1.993)])
def test_airmass_derived_from_the_stated_equation(altitude: float, value: float) -> None:
    """Checks the implementation: values worked out apart from Pickering's equation."""
    assert airmass(altitude) == pytest.approx(value, abs=0.002)


def test_airmass_agrees_with_kasten_young1989() -> None:
    """Kasten & Young 1989, Appl. Opt. 28, 4735 (from memory):

    Half the spread between published formulas: 0.5 % from 10 deg up, 2.5 % below.
    """
    altitude = np.array([0.0, 1.0, 3.0, 5.0, 10.0, 20.0, 45.0, 80.0])
    other = 1.0 / (np.sin(np.radians(altitude)) + 0.50572 * (altitude + 6.07995) ** -1.6364)
    ratio = airmass(altitude) / other
    assert np.all(np.abs(ratio - 1.0) < np.where(altitude < 10.0, 0.025, 0.005))


def test_airmass_has_no_answer_below_the_horizon() -> None:
    assert np.isnan(airmass([-0.01, -5.0, np.nan])).all()


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 90.0), st.floats(0.0, 90.0))
def test_airmass_never_grows_with_altitude(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert airmass(high) <= airmass(low)
    assert airmass([[low], [high]]).shape == (2, 1)
