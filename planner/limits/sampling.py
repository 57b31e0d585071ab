"""Draws from a density known up to a factor: adaptive importance sampling, the same every time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LogDensity = Callable[["Floats"], "Floats"]
FIRST_DRAWS = 300
LAST_DRAWS = 1000
KEPT_SHARE = 0.2  # of the draws that stay effective as the likelihood is let in
WIDER = 1.3  # the proposal's covariance over that of the draws
FREEDOM = 8  # of the t proposal; even
MOST_ROUNDS = 12
_PRIMES = (2, 3, 5, 7, 11, 13, 17, 19)


@dataclass(frozen=True, slots=True, eq=False)
class Draws:
    """``units`` (K, D) with their ``weight`` (K,), which sum to 1."""

    units: Floats
    weight: Floats

    @property
    def effective(self) -> float:
        """So many equal draws would say as much."""
        return float(1.0 / (self.weight**2).sum())


def posterior_draws(log_prior: LogDensity, log_likelihood: LogDensity, dimension: int) -> Draws:
    """Draws from prior times likelihood, in units in which the prior is about standard normal.

    ``dimension`` up to 4. The likelihood comes in by powers from 0 to 1, each so that a fifth of
    the draws stay effective. Source: Cappe et al. 2004, J. Comp. Graph. Stat. 13, 907 (population
    Monte Carlo) with tempering; from memory.
    """
    units = _normals(FIRST_DRAWS)[:, :dimension]
    log_proposal = -0.5 * (units**2).sum(axis=1)
    for _ in range(MOST_ROUNDS):
        prior, likely = log_prior(units), log_likelihood(units)
        power = _power(prior - log_proposal, likely)
        weight = _weights(prior - log_proposal + power * likely)
        mean = weight @ units
        away = units - mean
        spread = WIDER * (away.T * weight) @ away + 1e-6 * np.eye(dimension)
        last = power >= 1.0
        units, log_proposal = _t_draws(LAST_DRAWS if last else FIRST_DRAWS, mean, spread)
        if last:
            break
    return Draws(units, _weights(log_prior(units) + log_likelihood(units) - log_proposal))


def _weights(log_weight: Floats) -> Floats:
    weight = np.exp(log_weight - log_weight.max())
    return np.asarray(weight / weight.sum())


def _power(log_base: Floats, likely: Floats) -> float:
    """The greatest power of the likelihood that leaves enough effective draws."""

    def effective(power: float) -> float:
        return float(1.0 / (_weights(log_base + power * likely) ** 2).sum())

    enough = KEPT_SHARE * len(likely)
    if effective(1.0) >= enough:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if effective(middle) >= enough else (low, middle)
    return low


def _t_draws(count: int, mean: Floats, spread: Floats) -> tuple[Floats, Floats]:
    """Draws (K, D) of a t distribution and their log density up to a constant."""
    dimension = len(mean)
    square = -2.0 * np.log(_halton(count)[:, 4:]).sum(axis=1) / FREEDOM
    standard = _normals(count)[:, :dimension] / np.sqrt(square)[:, None]
    log_density = -0.5 * (FREEDOM + dimension) * np.log1p((standard**2).sum(axis=1) / FREEDOM)
    return mean + standard @ np.linalg.cholesky(spread).T, log_density


@cache
def _normals(count: int) -> Floats:
    """Evenly spread standard normals (K, 4)."""
    inverse = NormalDist().inv_cdf
    return np.asarray(np.vectorize(inverse, otypes=[float])(_halton(count)[:, :4]))


@cache
def _halton(count: int) -> Floats:
    """Halton's points (K, 8) in the open unit cube, the first 20 left out.

    Source: Halton 1960, Numer. Math. 2, 84.
    """
    result = np.zeros((count, len(_PRIMES)))
    for column, prime in enumerate(_PRIMES):
        number, share = np.arange(21, count + 21), 1.0 / prime
        while number.any():
            result[:, column] += share * (number % prime)
            number, share = number // prime, share / prime
    return result
