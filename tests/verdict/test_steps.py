"""Margins in words."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.verdict.steps import Step, steps

MARGINS = st.floats(-20.0, 20.0)


@pytest.mark.parametrize(
    ("margin", "step"),
    [
        (-3.0, Step.NOT_SEEN), (-0.51, Step.NOT_SEEN), (-0.49, Step.BORDERLINE),
        (0.0, Step.BORDERLINE), (0.49, Step.BORDERLINE), (0.51, Step.SEEN), (1.49, Step.SEEN),
        (1.51, Step.PLAIN), (8.0, Step.PLAIN), (float("nan"), Step.NOT_SEEN),
        (float("inf"), Step.PLAIN), (float("-inf"), Step.NOT_SEEN),
    ],
)  # fmt: skip
def test_steps_follow_the_models_uncertainty(margin: float, step: Step) -> None:
    """Half a magnitude either way is borderline, one beyond it plain; unknown is not seen."""
    assert Step(int(steps(margin))) is step


@settings(deadline=None, max_examples=60)
@given(MARGINS, MARGINS, st.floats(0.1, 2.0))
def test_more_margin_is_never_a_lower_step(one: float, other: float, uncertainty: float) -> None:
    """Whatever the uncertainty."""
    low, high = sorted((one, other))
    assert steps(low, uncertainty) <= steps(high, uncertainty)


def test_steps_of_an_array_are_those_of_its_elements() -> None:
    """Shape kept, uncertainties broadcast."""
    margin = np.array([[-2.0, -0.7, 0.0], [0.7, 1.2, np.nan]])
    uncertainty = np.array([0.5, 1.0, 0.5])
    found = steps(margin, uncertainty)
    assert found.shape == margin.shape
    for (row, column), value in np.ndenumerate(found):
        assert value == steps(margin[row, column], uncertainty[column])
