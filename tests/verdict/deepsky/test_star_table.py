"""The table of faintest stars, between its entries."""

from __future__ import annotations

import numpy as np
import pytest
from deepsky_samples import setup, tables
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.stars import telescopic_limit_mag

TABLE_MAG = 0.01  # of straight lines, at the corner where the field turns black


@settings(deadline=None, max_examples=60)
@given(st.floats(16.0, 22.3), st.integers(0, len(tables().powers) - 1))
def test_between_two_skies_the_limit_is_that_of_the_model(sky_mag: float, view: int) -> None:
    """In every view; and the best of all is the largest of them."""
    used = tables()
    wanted = telescopic_limit_mag(setup().eye, used.views.exit_pupil_mm, np.array(sky_mag))
    found = used.stars.limit_mag(np.array([view]), np.array([sky_mag]))
    assert found[0] == pytest.approx(wanted[view], abs=TABLE_MAG)
    assert used.stars.best_mag(sky_mag) == pytest.approx(wanted.max(), abs=TABLE_MAG)
