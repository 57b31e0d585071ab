"""Best moments and windows against a plain search, target by target."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.night.best_time import as_good, best_moments, window_around

SHAPES = st.tuples(st.integers(1, 4), st.integers(1, 12))


@st.composite
def nights(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Flags of use and scores of a few targets at a few moments."""
    shape = draw(SHAPES)
    usable = draw(arrays(bool, shape))
    scores = draw(arrays(float, shape, elements=st.floats(-90.0, 90.0)))
    return usable, scores


@settings(deadline=None, max_examples=60)
@given(nights())
def test_the_best_moment_is_the_best_usable_one(night: tuple[np.ndarray, np.ndarray]) -> None:
    """The first of the highest scores among the usable; where none is, among all."""
    usable, scores = night
    best, ever = best_moments(usable, scores)
    for row, moment in enumerate(best):
        allowed = np.flatnonzero(usable[row]) if usable[row].any() else np.arange(scores.shape[1])
        assert moment == allowed[np.argmax(scores[row, allowed])]
        assert ever[row] == usable[row].any()


@settings(deadline=None, max_examples=60)
@given(nights())
def test_the_window_is_the_unbroken_stretch_around_the_best_moment(
    night: tuple[np.ndarray, np.ndarray],
) -> None:
    """Found by walking out from the best moment."""
    usable, scores = night
    best, _ = best_moments(usable, scores)
    first, last = window_around(usable, best)
    for row, moment in enumerate(best):
        begin = end = int(moment)
        if usable[row, moment]:
            while begin > 0 and usable[row, begin - 1]:
                begin -= 1
            while end < usable.shape[1] - 1 and usable[row, end + 1]:
                end += 1
        assert (first[row], last[row]) == (begin, end)


def test_a_score_that_is_unknown_is_never_the_best() -> None:
    """NaN stands behind every number."""
    best, ever = best_moments(np.ones((1, 3), dtype=bool), np.array([[np.nan, -5.0, np.nan]]))
    assert best[0] == 1 and ever[0]


def test_a_target_is_as_good_in_nearly_the_same_air_and_sky() -> None:
    """Air by sec z (Young and Irvine): at 60 degrees 1.15 of it, 1.15 times that at 49."""
    altitude = np.array([40.0, 48.0, 50.0, 60.0, 55.0, 55.0, -5.0])
    sky = np.array([21.0, 21.0, 21.0, 21.0, 20.85, 20.7, 21.0])
    assert as_good(altitude, sky, 3).tolist() == [False, False, True, True, True, False, False]
    assert as_good(altitude, np.full(7, np.nan), 3).tolist()[2:6] == [True] * 4
