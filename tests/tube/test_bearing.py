"""Friction and the hand's force, against numbers worked by hand and brute force."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.tube.balance import GRAVITY_M_S2
from planner.tube.bearing import Bearing, change_that_holds_kg, hand_pull, turning_force_n

PADS = Bearing(70.0, 0.12, 35.0)
ALTITUDE = np.radians(np.arange(0.0, 91.0, 3.0))


def test_hold_agrees_with_hand_work() -> None:
    """0.12 x 8.95 kg x g x 0.07 m / cos 35 deg = 0.900 N m; at 0.5715 m that is 1.575 N."""
    hold = float(PADS.hold_nm(8.95))
    assert hold == pytest.approx(0.90003, abs=1e-4)
    pull = hand_pull(hold, 0.0, 571.51)
    assert float(pull.raising_n) == pytest.approx(1.5748, abs=1e-3)
    assert float(pull.lowering_n) == pytest.approx(1.5748, abs=1e-3)


def test_pads_press_as_a_cylinder_in_a_groove_does() -> None:
    """Statics of a cylinder on two pads at +-phi: each normal force is W / (2 cos phi)."""
    weight, phi = 8.95 * GRAVITY_M_S2, np.radians(35.0)
    normals = np.linalg.solve([[np.cos(phi)] * 2, [np.sin(phi), -np.sin(phi)]], [weight, 0.0])
    assert float(PADS.hold_nm(8.95)) == pytest.approx(0.12 * 0.07 * normals.sum(), rel=1e-9)


def test_turning_force_agrees_with_hand_work() -> None:
    """0.12 x 14 kg x g x 0.15 m over 0.57 m cos A: 4.3, 8.7 and 25 N at 0, 60 and 80 deg."""
    out = 570.0 * np.cos(np.radians([0.0, 60.0, 80.0]))
    found = turning_force_n(Bearing(150.0, 0.12).hold_nm(14.0), out)
    assert found == pytest.approx([4.336, 8.671, 24.968], abs=1e-2)
    assert turning_force_n(1.0, 0.0) == np.inf


def _stays(place: tuple[float, float], each: float, mass: float, change: float) -> bool:
    """Whether a tube holds still at every altitude; the change sits 500 along, 100 above."""
    along, above = place
    torque = mass * (along * np.cos(ALTITUDE) - above * np.sin(ALTITUDE))
    torque += change * (0.5 * np.cos(ALTITUDE) - 0.1 * np.sin(ALTITUDE))
    return bool(np.all(np.abs(torque * GRAVITY_M_S2) <= each * (mass + change)))


@settings(deadline=None, max_examples=100)
@given(
    st.tuples(st.floats(-0.03, 0.03), st.floats(-0.03, 0.03)),
    st.floats(0.05, 0.6),
    st.floats(3.0, 30.0),
)
def test_the_change_that_holds_is_the_greatest(
    place: tuple[float, float], each: float, mass: float
) -> None:
    """A little less than told stays at every altitude, a little more drifts at one."""
    along, above = place
    torque = GRAVITY_M_S2 * mass * (along * np.cos(ALTITUDE) - above * np.sin(ALTITUDE))
    lever = GRAVITY_M_S2 * (0.5 * np.cos(ALTITUDE) - 0.1 * np.sin(ALTITUDE))
    more, less = change_that_holds_kg(each * mass, torque, lever, each)
    if not _stays(place, each, mass, 0.0):
        assert (more, less) == (0.0, 0.0)
        return
    assume(min(more, less) > 1e-6)
    for change, sign in ((more, 1.0), (less, -1.0)):
        assert _stays(place, each, mass, sign * change * 0.999)
        assert not _stays(place, each, mass, sign * change * 1.001)


def test_without_a_lever_no_change_drifts() -> None:
    assert change_that_holds_kg(1.0, [0.0], [0.0], 0.0) == (np.inf, np.inf)


@given(st.floats(0.1, 5.0), st.floats(-3.0, 3.0), st.floats(100.0, 2000.0))
def test_up_and_down_together_tell_friction_alone(hold: float, torque: float, arm: float) -> None:
    """The measurement the page asks for: imbalance cancels in the sum of both pulls."""
    pull = hand_pull(hold, torque, arm)
    both = float(pull.raising_n + pull.lowering_n)
    assert both == pytest.approx(2000.0 * hold / arm, rel=1e-9)


@given(st.floats(0.1, 5.0), st.floats(-3.0, 3.0), st.floats(-2000.0, -60.0), st.floats(0.0, 80.0))
def test_a_hand_behind_the_axis_agrees_with_vectors(
    hold: float, torque: float, arm: float, altitude: float
) -> None:
    """Moments about the axis: weight, hand and friction cancel; upwards moves the eyepiece up."""
    h = np.radians(altitude)
    tube, top = np.array([np.cos(h), np.sin(h)]), np.array([-np.sin(h), np.cos(h)])
    place, pull = arm / 1000.0 * tube, hand_pull(hold, torque, arm)
    for force, across in ((float(pull.raising_n), top), (float(pull.lowering_n), -top)):
        hand = force * (place[0] * across[1] - place[1] * across[0])  # front up is above 0
        motion = np.sign(place[0] * across[1] - place[1] * across[0])  # as the hand leads
        assert hand - torque - motion * hold == pytest.approx(0.0, abs=1e-9)


def test_a_heavy_front_helps_to_raise_an_eyepiece_behind_the_axis() -> None:
    """By hand: 1.4 N m held, 0.35 front down, 0.5 m behind: 2.1 N up, 3.5 N down."""
    pull = hand_pull(1.4, 0.35, -500.0)
    assert (float(pull.raising_n), float(pull.lowering_n)) == pytest.approx((2.1, 3.5))
