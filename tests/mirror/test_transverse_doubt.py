"""Intervals of the trade's own measures, against scipy's Student law and many simulated tests."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from planner.mirror.criteria import (
    greatest_ratio_band,
    least_greatest_ratio,
    tolerances_mm,
    transverse_doubts,
    transverse_ratios,
)
from planner.mirror.tester import MirrorTest, theory_mm

ZONES = ((0.0, 35.0), (35.0, 52.0), (52.0, 66.0), (66.0, 78.0), (78.0, 88.0), (88.0, 97.0))
BLANK = MirrorTest("blank", 200.0, 2400.0, True, ZONES, ((0.0,) * 6,))
MIDDLES = np.array([(a + b) / 2.0 for a, b in ZONES])
DEPARTURE = np.array([0.10, 0.05, -0.02, 0.06, -0.10, 0.02])


def read(
    random: np.random.Generator, runs: int, knife_mm: float = 0.0015, share: float = 1.0
) -> MirrorTest:
    """Runs about a mirror with a share of its faults, each with a zero of its own."""
    noise = random.normal(0.0, knife_mm, (runs, 6)) * 2400.0 / MIDDLES
    readings = theory_mm(BLANK) + share * DEPARTURE + noise + random.normal(0.0, 0.3, (runs, 1))
    return replace(BLANK, runs=tuple(map(tuple, readings.tolist())))


@pytest.mark.parametrize("runs", [2, 4, 8])
def test_the_doubt_is_students(runs: int) -> None:
    test = read(np.random.default_rng(1), runs)
    given = np.array(test.runs)
    left = given - given.mean(axis=0)
    left -= (left @ MIDDLES**2 / (MIDDLES**2).sum())[:, None]
    freedom = (runs - 1) * 5
    sigma = np.sqrt(((left * MIDDLES / 2400.0) ** 2).sum() / freedom)
    error = sigma / np.sqrt(runs) * 2400.0 / MIDDLES / tolerances_mm(test)
    assert transverse_doubts(test) == pytest.approx(stats.t.ppf(0.95, freedom) * error, rel=0.01)


@pytest.mark.parametrize("share", [0.0, 0.15, 0.4, 1.0])
def test_nine_in_ten_intervals_hold(share: float) -> None:
    """From a perfect mirror to one with faults; each window, and the worst of all pairs of them."""
    random = np.random.default_rng(7)
    room, departure = tolerances_mm(BLANK), share * DEPARTURE
    made = replace(BLANK, runs=(tuple((theory_mm(BLANK) + departure).tolist()),))
    true_worst, _ = least_greatest_ratio(made)
    held, worst_held, count = 0, 0, 300
    for _ in range(count):
        test = read(random, 4, share=share)
        off = (transverse_ratios(test) + departure / room) * room
        doubt = transverse_doubts(test) * room
        held += abs(off[0] - off[4]) <= np.hypot(doubt[0], doubt[4])
        low, high = greatest_ratio_band(test)
        worst_held += low <= true_worst + 1e-9 and true_worst <= high
    assert held / count == pytest.approx(0.9, abs=0.045)
    assert worst_held / count > 0.84


def test_a_perfect_mirror_is_told_from_nothing_on() -> None:
    random = np.random.default_rng(9)
    lows = [greatest_ratio_band(read(random, 4, share=0.0))[0] for _ in range(100)]
    assert lows.count(0.0) > 88


@pytest.mark.parametrize("seed", range(6))
def test_the_constant_told_reaches_the_least_greatest_ratio(seed: int) -> None:
    """No other constant does better: a plain search over many."""
    test = read(np.random.default_rng(seed), 3, 0.004)
    ratio, constant = least_greatest_ratio(test)
    assert np.abs(transverse_ratios(test, constant)).max() == pytest.approx(ratio, rel=1e-9)
    tried = [np.abs(transverse_ratios(test, c)).max() for c in np.linspace(-3.0, 3.0, 6001)]
    assert min(tried) == pytest.approx(ratio, abs=3e-3)
    assert min(tried) >= ratio - 1e-9
