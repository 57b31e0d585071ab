"""Drift of companions, and which of two measures stands."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.targets.measure import Measures, Motions, carried, drift, other_stands

numbers = st.floats(1.0, 500.0)
angles = st.floats(0.0, 359.9)
motions = st.floats(-5.0, 5.0)


def measures(separation: float, angle: float, year: float, error: float = np.nan) -> Measures:
    """One measure as arrays."""
    return Measures(*(np.array([float(value)]) for value in (separation, angle, year, error)))


def motion(east: float, north: float) -> Motions:
    """One motion as arrays."""
    return Motions(np.array([east]), np.array([north]))


def test_a_companion_due_east_that_moves_north_turns_towards_north() -> None:
    # by hand: 3" east and, after 10 years of 400 mas, 4" north, were it allowed to go that far
    separation, angle, moved = carried(measures(30.0, 90.0, 2016.0), motion(0.0, 400.0), 2026.0)
    assert separation[0] == pytest.approx(np.hypot(30.0, 4.0))
    assert angle[0] == pytest.approx(90.0 - np.degrees(np.arctan2(4.0, 30.0)))
    assert moved[0]


@settings(deadline=None, max_examples=60)
@given(numbers, angles, motions, motions, st.floats(-40.0, 40.0))
def test_going_on_and_back_leads_to_the_same_place(
    separation: float, angle: float, east: float, north: float, years: float
) -> None:
    start, way = measures(separation, angle, 2000.0), motion(east, north)
    there = carried(start, way, 2000.0 + years)
    back = carried(measures(there[0][0], there[1][0], 2000.0 + years), way, 2000.0)
    assert back[0][0] == pytest.approx(separation, rel=1e-9)
    assert abs((back[1][0] - angle + 180.0) % 360.0 - 180.0) < 1e-6


@settings(deadline=None, max_examples=60)
@given(numbers, angles, numbers, angles)
def test_drift_leads_from_the_first_measure_to_the_last(
    first: float, first_angle: float, last: float, last_angle: float
) -> None:
    old, new = measures(first, first_angle, 1990.0), measures(last, last_angle, 2016.0)
    separation, angle, moved = carried(old, drift(old, new), 2016.0)
    if moved[0]:
        assert separation[0] == pytest.approx(last, rel=1e-6)
        assert abs((angle[0] - last_angle + 180.0) % 360.0 - 180.0) * last < 1e-3


@pytest.mark.parametrize(
    ("measure", "way"),
    [
        (measures(5.0, 10.0, 2016.0), motion(np.nan, np.nan)),
        (measures(5.0, np.nan, 2016.0), motion(10.0, 10.0)),
        (measures(5.0, 10.0, np.nan), motion(10.0, 10.0)),
        (measures(5.0, 10.0, 1900.0), motion(10.0, 10.0)),  # 126 years: no straight line
        (measures(5.0, 10.0, 2016.0), motion(300.0, 0.0)),  # 3" of 5": no straight line
    ],
    ids=["no motion", "no angle", "no year", "long ago", "too far"],
)
def test_a_measure_that_cannot_be_carried_stays_as_it_is(measure: Measures, way: Motions) -> None:
    separation, angle, moved = carried(measure, way, 2026.0)
    assert not moved[0]
    assert separation[0] == measure.separation_arcsec[0]
    assert np.array_equal(angle, measure.position_angle_deg, equal_nan=True)


def test_two_measures_of_nearly_one_time_tell_no_drift() -> None:
    found = drift(measures(5.0, 10.0, 2010.0), measures(5.1, 10.0, 2016.0))
    assert np.isnan(found.east_mas_yr[0]) and np.isnan(found.north_mas_yr[0])


GAIA = measures(1.40, 345.0, 2016.0, 0.01)  # gamma CrA, Gaia DR3


@pytest.mark.parametrize(
    ("other", "stands"),
    [
        (measures(1.6, 315.0, 2024.0, 0.1), True),  # it has moved: the newer
        (measures(1.42, 344.0, 2024.0, 0.1), False),  # it has not: the more accurate
        (measures(1.3, 61.0, 2000.0, 0.1), False),  # moved, but the other is the older
        (measures(1.6, np.nan, 2024.0, 0.1), False),  # no angle against one with it
        (measures(1.6, 315.0, np.nan, 0.1), False),  # of no known year
        (measures(1.401, 345.0, 2020.0, 0.01), True),  # as accurate and nearer in time
        (measures(1.6, 315.0, 2024.0), True),  # nobody states the error: the nearer
    ],
    ids=["moved", "rougher", "older", "no angle", "no year", "as fine", "no error"],
)
def test_the_measure_of_a_moving_pair_is_the_newer_one(other: Measures, stands: bool) -> None:
    assert other_stands(GAIA, other, 2026.9).tolist() == [stands]


def test_a_measure_with_an_angle_and_a_year_stands_against_one_without() -> None:
    better = measures(1.5, 20.0, 2010.0, 0.2)
    assert other_stands(measures(1.5, np.nan, 2020.0, 0.1), better, 2026.0).tolist() == [True]
    assert other_stands(measures(1.5, 20.0, np.nan, 0.1), better, 2026.0).tolist() == [True]
