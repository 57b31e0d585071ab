"""The most power that planets and doubles bear, and the one rule for the eyepiece."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import setup
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.verdict.powers import (
    Bound,
    doubles_most,
    highest_powers,
    highest_up_to,
    planets_most,
    well_apart_power,
)

POWERS = st.lists(st.floats(10.0, 600.0), min_size=1, max_size=8, unique=True)


@settings(deadline=None, max_examples=60)
@given(POWERS, st.floats(5.0, 700.0))
def test_highest_up_to_is_the_highest_not_past_the_bound(powers: list[float], most: float) -> None:
    """And the lowest of all where every one is past it."""
    chosen = powers[int(highest_up_to(np.array(powers), most))]
    inside = [power for power in powers if power <= most]
    assert chosen == (max(inside) if inside else min(powers))


def test_highest_up_to_answers_in_the_shape_of_the_bounds() -> None:
    """The lowest where a bound is not known."""
    bounds = np.array([[50.0, 120.0, np.nan], [300.0, 99.0, 100.0]])
    chosen = highest_up_to(np.array([200.0, 40.0, 100.0]), bounds)
    assert chosen.tolist() == [[1, 2, 1], [0, 1, 2]]


@pytest.mark.parametrize(
    ("least_pupil", "seeing", "doubles", "planets"),
    [
        (0.3, 0.5, 246.4, 220.0),  # 1.6 times 154 mm; 154 mm / 0.7 mm
        (1.1, 0.5, 140.0, 140.0),  # 154 mm / 1.1 mm, the observer's own
        (0.3, 3.0, 150.0, 100.0),  # a star of 3" spread to 7.5', which is 5' in steady moments; 5'
    ],
)
def test_each_bound_bites(
    least_pupil: float, seeing: float, doubles: float, planets: float
) -> None:
    """Common practice, no source."""
    used = setup(least_exit_pupil_mm=least_pupil)
    assert float(doubles_most(used, seeing)) == pytest.approx(doubles)
    assert float(planets_most(used, seeing)) == pytest.approx(planets)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.3, 10.0), st.floats(0.3, 10.0))
def test_worse_seeing_never_bears_more(one: float, other: float) -> None:
    steady, poor = sorted((one, other))
    for most in (doubles_most, planets_most):
        assert most(setup(), poor) <= most(setup(), steady)


@pytest.mark.parametrize("seeing", [1.5, 2.0, 4.0])
def test_planets_bear_no_more_than_the_report_says_seeing_does(seeing: float) -> None:
    """The seeing bound of the telescope's report, where nothing else is lower."""
    used = replace(setup(), seeing_arcsec=seeing)
    said = next(b for b in highest_powers(used) if b.bound is Bound.SEEING)
    assert float(planets_most(used, seeing)) == pytest.approx(said.magnification)


def test_a_pair_well_apart_is_ten_arcminutes_wide_at_the_eye() -> None:
    power = well_apart_power(np.array([6.0, 2.0]))
    assert power.tolist() == pytest.approx([100.0, 300.0])
