"""What must not change the wave, and what must turn it round."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.mirror.reduction import reduce
from planner.mirror.tester import MirrorTest, theory_mm
from tests.mirror.ray_tracer import window_readings_mm

ZONES = ((0.0, 36.0), (36.0, 51.0), (51.0, 62.0), (62.0, 72.0), (72.0, 80.0))
BLANK = MirrorTest("blank", 160.0, 2082.0, True, ZONES, ((0.0,) * 5,))
DEPARTURES = st.lists(st.floats(-0.15, 0.15), min_size=5, max_size=5)
SAME_WAVES = 1e-8  # rounding of readings some metres from the scale's zero


def departed(departures: list[float], fixed: bool = True) -> MirrorTest:
    """Two runs, a little unlike, about a paraboloid's theory."""
    test = replace(BLANK, fixed_source=fixed)
    clean = theory_mm(test) + np.array(departures)
    unlike = 0.004 * np.array([1.0, -1.0, 0.5, 0.0, -0.5])
    return replace(test, runs=tuple(tuple((clean + s * unlike).tolist()) for s in (1.0, -1.0)))


@settings(max_examples=8, deadline=None)
@given(DEPARTURES, st.booleans(), st.lists(st.floats(-50.0, 50.0), min_size=2, max_size=2))
def test_each_run_may_have_its_own_zero(
    departures: list[float], fixed: bool, zeros: list[float]
) -> None:
    test = departed(departures, fixed)
    moved = tuple(tuple(r + zero for r in run) for run, zero in zip(test.runs, zeros, strict=True))
    one, other = reduce(test), reduce(replace(test, runs=moved))
    assert other.wave == pytest.approx(one.wave, abs=SAME_WAVES)
    assert other.low == pytest.approx(one.low, abs=1e-5)
    assert other.rms_waves.high == pytest.approx(one.rms_waves.high, abs=1e-5)


@settings(max_examples=8, deadline=None)
@given(DEPARTURES, st.booleans())
def test_runs_turned_round_change_neither_wave_nor_band(
    departures: list[float], fixed: bool
) -> None:
    test = departed(departures, fixed)
    one, other = reduce(test), reduce(replace(test, runs=test.runs[::-1]))
    assert other.wave == pytest.approx(one.wave, abs=SAME_WAVES)
    assert other.high == pytest.approx(one.high, abs=1e-5)


@settings(max_examples=8, deadline=None)
@given(DEPARTURES, st.booleans())
def test_opposite_departures_are_mirrored_about_the_paraboloid(
    departures: list[float], fixed: bool
) -> None:
    """To the higher orders of the nearest conic, 2e-4 wave as for conics followed by rays."""
    one = reduce(departed(departures, fixed))
    other = reduce(departed([-d for d in departures], fixed))
    assert other.wave == pytest.approx(-one.wave, abs=2e-4)
    assert other.conic.value + 1.0 == pytest.approx(-(one.conic.value + 1.0), abs=2e-3)


@settings(max_examples=8, deadline=None)
@given(st.floats(-1.6, 0.4))
def test_both_kinds_of_source_tell_the_same_conic(conic: float) -> None:
    waves = [
        reduce(
            replace(
                BLANK,
                fixed_source=fixed,
                runs=(window_readings_mm(2082.0, conic, ZONES, fixed),) * 2,
            )
        ).wave
        for fixed in (True, False)
    ]
    assert waves[0] == pytest.approx(waves[1], abs=2e-4)


@pytest.mark.parametrize("fixed", [True, False])
def test_most_perfect_mirrors_with_noise_are_told_as_at_most(fixed: bool) -> None:
    """Four runs of 1.5 um. One in twenty may pass the lower end of a 90 % interval by chance."""
    random, count, told = np.random.default_rng(17), 12, 0
    test = replace(BLANK, fixed_source=fixed)
    clean = np.array(window_readings_mm(2082.0, -1.0, ZONES, fixed))
    middle = (test.inner_mm + test.outer_mm) / 2.0
    along = 2082.0 / middle * (1.0 if fixed else 0.5)
    for _ in range(count):
        runs = clean + random.normal(0.0, 0.0015, (4, 5)) * along
        told += reduce(replace(test, runs=tuple(map(tuple, runs.tolist())))).is_upper_limit
    assert told >= count - 2
