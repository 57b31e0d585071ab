"""What tips a telescope, against numbers worked by hand and a drawing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.tube.standing import Footing

THREE = Footing(280.0, 3)


def test_tipping_push_agrees_with_hand_work() -> None:
    """18 kg on three feet at 0.28 m, pushed at 1.3 m: 19.0 N; it slides first below 0.108."""
    assert float(THREE.tipping_push_n(18.0, 1300.0)) == pytest.approx(19.01, abs=1e-2)
    assert float(THREE.slides_below(1300.0)) == pytest.approx(0.1077, abs=1e-4)


def test_tipping_weight_agrees_with_hand_work() -> None:
    """A hand 0.25 m out needs 224.7 N; above the feet none is enough."""
    assert float(THREE.tipping_weight_n(18.0, 250.0)) == pytest.approx(224.66, abs=0.1)
    assert float(THREE.tipping_weight_n(18.0, 139.9)) == np.inf


@given(st.integers(3, 12), st.floats(50.0, 1000.0))
def test_side_is_the_nearest_line_between_feet(feet: int, radius: float) -> None:
    """Distance of the middle from a drawn polygon's sides."""
    turn = 2.0 * np.pi * np.arange(feet + 1) / feet
    corner = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    middles = (corner[1:] + corner[:-1]) / 2.0
    nearest = np.hypot(*middles.T).min()
    assert Footing(radius, feet).side_mm == pytest.approx(nearest, rel=1e-9)


@given(st.floats(0.0, 300.0), st.floats(1.0, 100.0))
def test_a_shifted_balance_makes_it_tip_no_later(shift: float, more: float) -> None:
    near, far = (float(THREE.tipping_push_n(18.0, 1300.0, s)) for s in (shift, shift + more))
    assert 0.0 <= far <= near


def test_a_tube_heavy_at_the_back_bears_more_on_its_eyepiece() -> None:
    """By hand: 173 N, side 110, the balance point 9.6 behind, a hand 629 before: 39.9 N, not 33."""
    feet = Footing(220.0, 3)
    mass = 173.0 / 9.80665
    behind, before = (float(feet.tipping_weight_n(mass, 629.0, 0.0, s)) for s in (-9.6, 9.6))
    assert behind == pytest.approx((110.0 + 9.6) * 173.0 / 519.0, rel=1e-9)
    assert before == pytest.approx((110.0 - 9.6) * 173.0 / 519.0, rel=1e-9)
    mirrored = float(feet.tipping_weight_n(mass, -629.0, 0.0, 9.6))  # eyepiece behind the axis
    assert mirrored == pytest.approx(behind, rel=1e-9)


@given(
    st.floats(-700.0, 700.0), st.floats(-300.0, 300.0), st.floats(-130.0, 130.0),
)  # fmt: skip
def test_tipping_weight_agrees_with_a_search_over_every_side(
    ahead: float, aside: float, shift: float
) -> None:
    """Moments about a line at the side's distance, turned all around in steps of 0.05 deg."""
    beyond = np.hypot(ahead, aside) - THREE.side_mm
    assume(not 0.0 <= beyond < 2.0)  # there the search is too coarse
    found = float(THREE.tipping_weight_n(18.0, ahead, aside, shift))
    if beyond < 0.0:
        assert found == np.inf
        return
    turn = np.radians(np.arange(0.0, 360.0, 0.05))
    arm = ahead * np.cos(turn) + aside * np.sin(turn) - THREE.side_mm
    room = THREE.side_mm - shift * np.cos(turn)
    needs = 18.0 * 9.80665 * room[arm > 0.0] / arm[arm > 0.0]
    assert found == pytest.approx(needs.min(), rel=1e-3)


def test_what_stands_beyond_its_feet_needs_no_hand() -> None:
    assert float(THREE.tipping_weight_n(18.0, 600.0, 0.0, 150.0)) == 0.0
    assert float(THREE.tipping_weight_n(18.0, 600.0, 0.0, -150.0)) == 0.0
    assert float(THREE.tipping_push_n(18.0, 600.0, -150.0)) == 0.0


def test_no_push_at_the_ground_tips() -> None:
    assert THREE.tipping_push_n(18.0, [0.0, -50.0]) == pytest.approx([np.inf, np.inf])


@given(st.floats(0.0, 130.0))
def test_a_level_push_meets_the_worst_side(shift: float) -> None:
    one, other = (float(THREE.tipping_push_n(18.0, 1300.0, s)) for s in (shift, -shift))
    assert one == other
