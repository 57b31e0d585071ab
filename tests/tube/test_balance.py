"""Balance of a tube, against numbers worked by hand and moments summed up numerically."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from planner.tube.balance import Load, middle_axis, together, torque_nm

# Mirror, tube, focuser, finder, eyepiece: kg and mm. Worked by hand: 8.95 kg, 488.49, 17.486 mm.
BY_HAND = [
    Load(3.2, 60.0), Load(4.0, 600.0), Load(0.9, 1050.0, 20.0), Load(0.6, 950.0, 160.0),
    Load(0.25, 1060.0, 170.0),
]  # fmt: skip
LOADS = st.lists(
    st.builds(Load, st.floats(0.1, 20.0), st.floats(-500.0, 3000.0), st.floats(-300.0, 300.0)),
    min_size=2,
    max_size=8,
)
AXIS = Load(0.0, 400.0, 10.0)


def test_together_agrees_with_a_balance_worked_by_hand() -> None:
    whole = together(BY_HAND)
    assert whole.mass_kg == pytest.approx(8.95, abs=1e-5)
    assert whole.along_mm == pytest.approx(488.49, abs=0.01)
    assert whole.above_mm == pytest.approx(17.486, abs=0.001)


def test_more_weight_moves_the_balance_as_worked_by_hand() -> None:
    """0.65 kg more at 1.06 m: the balance point moves by 0.0387 m."""
    heavier = together([*BY_HAND, Load(0.65, 1060.0, 170.0)])
    assert heavier.along_mm - together(BY_HAND).along_mm == pytest.approx(38.7, abs=0.05)


def test_torque_agrees_with_imbalance_worked_by_hand() -> None:
    """Balanced level, its point 17.486 mm above the axis: it drifts up the more, the higher."""
    load = Load(8.95, 0.0, 17.486)
    found = torque_nm(load, Load(0.0, 0.0), [0.0, 30.0, 60.0, 90.0])
    assert found == pytest.approx([0.0, -0.7674, -1.3291, -1.5347], abs=1e-3)


def test_torque_of_a_heavier_tube_that_was_not_slid_agrees_with_hand_work() -> None:
    found = torque_nm(Load(9.6, 38.70, 27.813), Load(0.0, 0.0), [0.0, 30.0, 60.0, 90.0])
    assert found == pytest.approx([3.643, 1.846, -0.446, -2.618], abs=2e-3)


@settings(deadline=None, max_examples=60)
@given(LOADS, st.floats(0.0, 90.0))
def test_torque_is_the_sum_of_each_loads_own_moment(loads: list[Load], altitude: float) -> None:
    """By vectors: gravity straight down on each load, turned about the axis; front down is +."""
    h = np.radians(altitude)
    tube, top = np.array([np.cos(h), np.sin(h)]), np.array([-np.sin(h), np.cos(h)])
    moment = 0.0
    for load in loads:
        arm = (load.along_mm - AXIS.along_mm) * tube + (load.above_mm - AXIS.above_mm) * top
        force = np.array([0.0, -9.80665 * load.mass_kg])
        moment -= (arm[0] * force[1] - arm[1] * force[0]) / 1000.0
    assert torque_nm(together(loads), AXIS, altitude) == pytest.approx(moment, abs=1e-6)


@settings(deadline=None, max_examples=60)
@given(LOADS, st.floats(-2000.0, 2000.0), st.floats(-200.0, 200.0))
def test_the_point_measured_from_changes_nothing(
    loads: list[Load], along: float, above: float
) -> None:
    moved = [Load(x.mass_kg, x.along_mm + along, x.above_mm + above) for x in loads]
    axis = Load(0.0, AXIS.along_mm + along, AXIS.above_mm + above)
    angles = np.arange(0.0, 91.0, 15.0)
    here, there = (
        torque_nm(together(loads), AXIS, angles), torque_nm(together(moved), axis, angles),
    )  # fmt: skip
    assert there == pytest.approx(here, abs=1e-6)


@settings(deadline=None, max_examples=60)
@given(LOADS, st.floats(0.1, 3.0), st.floats(0.01, 1.0))
def test_a_heavier_eyepiece_moves_the_balance_to_the_front(
    loads: list[Load], mass: float, more: float
) -> None:
    front = max(load.along_mm for load in loads) + 50.0
    light, heavy = (together([*loads, Load(m, front)]).along_mm for m in (mass, mass + more))
    assert heavy > light


@settings(deadline=None, max_examples=40)
@given(LOADS)
def test_middle_axis_agrees_with_a_numerical_search(loads: list[Load]) -> None:
    """Scipy's search finds no axis with a smaller greatest torque, level or upright."""
    best = middle_axis(loads)
    for altitude, own in ((0.0, best.along_mm), (90.0, best.above_mm)):

        def greatest(place: float, altitude: float = altitude) -> float:
            axis = Load(0.0, place, place)
            return max(abs(float(torque_nm(load, axis, altitude))) for load in loads)

        found = minimize_scalar(greatest, bounds=(-600.0, 3100.0), method="bounded")
        assert greatest(own) <= found.fun + 1e-6


def test_together_rejects_no_mass() -> None:
    with pytest.raises(ValueError, match="no balance point"):
        together([Load(0.0, 5.0)])
