"""The posterior of the wave, against the same Gaussian laws written out with scipy."""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
import pytest
from scipy.special import logsumexp
from scipy.stats import chi2, multivariate_normal

from planner.mirror.band import DRAWS, Steps, drawn_waves, foretold_last, mean_wave

EDGES = np.array([0.0, 0.38, 0.55, 0.7, 0.84, 0.97])
RHO = np.linspace(0.0, 1.0, 33)
SIZES = (0.005, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32)
LENGTHS = (0.2, 0.3, 0.45)
CONICS = (0.03, 0.1, 0.3, 1.0, 3.0)
FOCUS = 10.0


def steps(conic_waves: float = 0.0, freedom: int = 12) -> Steps:
    """Rises of a mirror with a hill, a conic and a knife's error; near conic taken out if told."""
    wave = 0.05 * np.exp(-((EDGES / 0.35) ** 2)) + 0.2 * EDGES**4 - 0.6 * EDGES**2
    rise = np.diff(wave) + np.array([0.002, -0.001, 0.001, -0.002, 0.001])
    rise -= conic_waves * np.diff(EDGES**4)
    error = np.array([0.004, 0.003, 0.003, 0.002, 0.002])
    return Steps(EDGES[:-1], EDGES[1:], rise, error, freedom, conic_waves)


def covariance(one: np.ndarray, other: np.ndarray, sizes: tuple[float, float, float]) -> np.ndarray:
    """Of the wave at radii: even across the middle, focus as good as free, a conic of a size."""
    length, rough, conic = sizes
    r, s = one[:, None], other[None, :]
    near, across = (np.exp(-0.5 * ((r + sign * s) / length) ** 2) for sign in (-1.0, 1.0))
    smooth = rough**2 * (near + across) / 2.0
    return smooth + FOCUS**2 * (r * s) ** 2 + conic**2 * (r * s) ** 4


@cache
def laws(freedom: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Weight, mean and variance of the wave, mean and variance of the last rise, of every size."""
    told = steps(freedom=freedom)
    across = np.diff(np.eye(len(EDGES)), axis=0)
    rise = told.rise
    # true over told error: chi-square at the middles of five equal shares
    factors = np.sqrt(freedom / chi2.ppf((0.9, 0.7, 0.5, 0.3, 0.1), freedom))
    rows = []
    for *sizes, factor in product(LENGTHS, SIZES, CONICS, factors):
        kept = tuple(sizes)
        data = across @ covariance(EDGES, EDGES, kept) @ across.T
        data += np.diag((factor * told.error) ** 2)
        mixed = covariance(RHO, EDGES, kept) @ across.T
        gain = np.linalg.solve(data, mixed.T).T
        known = np.linalg.solve(data[:-1, :-1], data[:-1, -1])
        rows.append((
            multivariate_normal(cov=data, allow_singular=True).logpdf(rise),
            multivariate_normal(cov=data[:-1, :-1], allow_singular=True).logpdf(rise[:-1]),
            gain @ rise,
            np.diag(covariance(RHO, RHO, kept)) - (gain * mixed).sum(axis=1),
            (known @ rise[:-1], data[-1, -1] - known @ data[:-1, -1]),
        ))  # fmt: skip
    whole, others, mean, variance, last = map(np.array, zip(*rows, strict=True))
    return whole - logsumexp(whole), others - logsumexp(others), mean, variance, last


@pytest.mark.parametrize("freedom", [12, 30])
def test_the_mean_wave_is_that_of_the_written_law(freedom: int) -> None:
    weight, _, mean, _, _ = laws(freedom)
    found = mean_wave(steps(freedom=freedom), RHO)
    assert found == pytest.approx(np.exp(weight) @ mean, abs=2e-4)


@pytest.mark.parametrize("freedom", [12, 30])
def test_the_last_rise_foretold_is_that_of_the_written_law(freedom: int) -> None:
    _, weight, _, _, last = laws(freedom)
    share = np.exp(weight)
    most_likely = share @ last[:, 0]
    spread = np.sqrt(share @ (last[:, 1] + (last[:, 0] - most_likely) ** 2))
    rise, error = foretold_last(steps(freedom=freedom))
    assert rise == pytest.approx(most_likely, abs=2e-4)
    assert error == pytest.approx(spread, rel=0.02)


def test_waves_drawn_have_the_mean_and_spread_of_the_written_law() -> None:
    weight, _, mean, variance, _ = laws(12)
    share = np.exp(weight)
    middle = share @ mean
    spread = np.sqrt(share @ (variance + (mean - middle) ** 2))
    drawn = drawn_waves(steps(), RHO, np.random.default_rng(3))
    assert drawn.shape == (DRAWS, len(RHO))
    # piston is free of the readings and the focus nearly: look at what is left of both
    flat = drawn - drawn.mean(axis=1, keepdims=True)
    assert flat.mean(axis=0) == pytest.approx(middle - middle.mean(), abs=0.004)
    assert drawn.std(axis=0)[1:] == pytest.approx(spread[1:], rel=0.15)


@pytest.mark.parametrize("waves", [0.15, -0.4])
def test_a_near_conic_taken_out_comes_back_to_the_same_wave(waves: float) -> None:
    plain, near = steps(), steps(waves)
    assert mean_wave(near, RHO) + waves * RHO**4 == pytest.approx(mean_wave(plain, RHO), abs=1e-6)
    rise, error = foretold_last(near)
    whole, same = foretold_last(plain)
    assert rise + waves * float(EDGES[-1] ** 4 - EDGES[-2] ** 4) == pytest.approx(whole, abs=1e-8)
    assert error == pytest.approx(same, rel=1e-6)
    drawn = drawn_waves(near, RHO, np.random.default_rng(1)) + waves * RHO**4
    assert drawn == pytest.approx(drawn_waves(plain, RHO, np.random.default_rng(1)), abs=1e-6)


def test_an_assumed_error_counts_as_four_degrees_of_freedom() -> None:
    assumed, told = (
        drawn_waves(steps(freedom=freedom), RHO, np.random.default_rng(2)) for freedom in (0, 4)
    )
    assert np.array_equal(assumed, told)
