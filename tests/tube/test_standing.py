"""What tips a telescope, against numbers worked by hand and a drawing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
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
