"""Near places: nothing within the radius is missed, wherever it lies."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.angles import separation_deg, unit_vectors
from planner.importers.near import near_places

RADIUS_DEG = 0.02


@settings(deadline=None, max_examples=60)
@given(seed=st.integers(0, 10**6), ra=st.floats(0.0, 360.0), dec=st.floats(-90.0, 90.0))
def test_near_places_agrees_with_every_distance(seed: int, ra: float, dec: float) -> None:
    rng = np.random.default_rng(seed)

    def some(count: int) -> tuple[np.ndarray, np.ndarray]:
        spread = 0.05 / max(np.cos(np.radians(dec)), 1e-3)
        lon = (ra + rng.uniform(-spread, spread, count)) % 360.0
        return lon, np.clip(dec + rng.uniform(-0.05, 0.05, count), -90.0, 90.0)

    first, second = some(30), some(40)
    mine, theirs = near_places(unit_vectors(*first), unit_vectors(*second), np.radians(RADIUS_DEG))
    every = separation_deg(first[0][:, None], first[1][:, None], *second)
    within = set(zip(*np.nonzero(every <= RADIUS_DEG * (1.0 - 1e-9)), strict=True))
    found = list(zip(mine.tolist(), theirs.tolist(), strict=True))
    assert within <= set(found)
    assert len(found) == len(set(found))
    assert all(every[pair] <= 3.5 * RADIUS_DEG for pair in found)


def test_near_places_of_nothing_are_none() -> None:
    none, one = np.empty((0, 3)), unit_vectors([10.0], [20.0])
    assert len(near_places(none, one, 1e-4)[0]) == len(near_places(one, none, 1e-4)[0]) == 0
