"""What a log teaches: each setting with its interval, what is told and what cannot be parted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.limits.likelihood import log_likelihood, outcome_chances
from planner.limits.priors import Own
from planner.limits.sampling import posterior_draws

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.limits.evidence import Evidence
    from planner.limits.priors import Prior
    from planner.limits.sampling import Draws

    Floats = NDArray[np.float64]

LEAST_RECORDS = 10  # fewer teach nothing; own judgement
TOLD_BELOW = 0.8  # own judgement; of the prior's spread: what is left when a log tells a setting
ALIKE_FROM = 0.4  # own judgement; correlation from which two settings are hard to part
MOVES_FROM = 0.05  # own judgement; change of the chances that puts a record behind a setting
INTERVAL = 0.9


@dataclass(frozen=True, slots=True)
class Learnt:
    """One setting, in the units of its column: the kit's value, the middle and a 90 % interval.

    ``sd`` over ``prior_sd`` is what doubt is left; ``records`` so many looks depend on it.
    """

    own: Own
    kit: float
    middle: float
    low: float
    high: float
    sd: float
    prior_sd: float
    records: int

    @property
    def told(self) -> bool:
        """Whether the log says more of it than was believed before."""
        return self.sd <= TOLD_BELOW * self.prior_sd


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """All settings, their draws (K, 4) with weights (K,), and their correlations (4, 4)."""

    records: int
    nights: int
    learnt: tuple[Learnt, ...]
    correlation: Floats
    draws: Floats
    weight: Floats

    @property
    def effective(self) -> float:
        """So many equal draws would say as much."""
        return float(1.0 / (self.weight**2).sum())

    @property
    def alike(self) -> tuple[tuple[Own, Own], ...]:
        """Pairs of settings that these looks cannot tell apart well."""
        strong = np.abs(np.triu(self.correlation, 1)) >= ALIKE_FROM
        return tuple((Own(int(i)), Own(int(j))) for i, j in np.argwhere(strong))

    @property
    def middle(self) -> Floats:
        """The mean of the draws (4,)."""
        return np.asarray(self.weight @ self.draws)


def fit(evidence: Evidence, prior: Prior) -> Fit:
    """The settings that the evidence leaves; without any, the prior."""
    found = posterior_draws(
        prior.log_density, lambda units: log_likelihood(evidence, prior.values(units)), len(Own)
    )
    own = prior.values(found.units)
    mean = found.weight @ own
    away = own - mean
    covariance = (away.T * found.weight) @ away
    sd = np.sqrt(np.diag(covariance))
    before = _prior_sd(prior)
    behind = _records_behind(evidence, mean, before)
    return Fit(
        records=len(evidence),
        nights=len(evidence.log_written),
        learnt=tuple(
            _learnt(own[:, i], found, (prior.mean[i], sd[i], before[i], behind[i]), i) for i in Own
        ),
        correlation=np.asarray(covariance / np.outer(sd, sd)),
        draws=own,
        weight=found.weight,
    )


def _learnt(
    values: Floats, found: Draws, facts: tuple[float, float, float, int], own: Own
) -> Learnt:
    edge = 0.5 * (1.0 - INTERVAL)
    low, middle, high = quantiles(values, found.weight, (edge, 0.5, 1.0 - edge))
    kit, sd, prior_sd, records = facts
    return Learnt(own, float(kit), middle, low, high, float(sd), float(prior_sd), int(records))


def quantiles(values: Floats, weight: Floats, shares: tuple[float, ...]) -> tuple[float, ...]:
    """Quantiles of weighted values (K,)."""
    order = np.argsort(values, kind="stable")
    below = np.cumsum(weight[order]) - 0.5 * weight[order]
    return tuple(float(np.interp(share, below, values[order])) for share in shares)


def _prior_sd(prior: Prior) -> Floats:
    """Standard deviations (4,), that of the motion followed after the cut."""
    units = np.linspace(-8.0, 8.0, 4001)
    every = np.zeros((len(units), len(Own)))
    every[:, Own.TILT] = units
    weight = np.exp(prior.log_density(every))
    weight /= weight.sum()
    spread = np.sqrt(weight @ (units - weight @ units) ** 2)
    return np.where(np.arange(len(Own)) == Own.TILT, spread, 1.0) * prior.sd


def _records_behind(evidence: Evidence, mean: Floats, sd: Floats) -> Floats:
    """How many looks (4,) have other chances when a setting moves by its prior's spread."""
    steps = np.concatenate([mean[None], mean + np.diag(0.5 * sd), mean - np.diag(0.5 * sd)])
    seeing = np.repeat(steps[:, Own.SEEING, None], len(evidence), axis=1)
    chance = outcome_chances(evidence.looks, steps, seeing)
    count = len(Own)
    change = 0.5 * np.abs(chance[1 : 1 + count] - chance[1 + count :]).sum(axis=2)
    return np.asarray((change >= MOVES_FROM).sum(axis=1))
