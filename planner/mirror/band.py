"""Waves as the readings leave them: how smooth the glass is, the readings themselves say.

A prior of one fixed roughness calls every smooth mirror rougher than it is, and the lower ends of
its intervals come out too high. Here the sizes of roughness and conic, the length over which the
glass changes and the knife's error are unknown too, weighed by how well they foretell the steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from planner.mirror.tester import ASSUMED_FREEDOM

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FOCUS_WAVES = 10.0  # prior of rho^2, as good as free
ROUGH_SIZES_WAVES = (0.005, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32)  # even in logarithm; own judgement
ROUGH_LENGTHS = (0.2, 0.3, 0.45)  # in rho; own judgement
CONIC_SIZES_WAVES = (0.03, 0.1, 0.3, 1.0, 3.0)  # of rho^4, even in logarithm; own judgement
NORMAL_QUANTILES = (-1.2816, -0.5244, 0.0, 0.5244, 1.2816)  # of 0.1, 0.3 .. 0.9: equally likely
DRAWS = 1000
LEAST_VARIANCE = 1e-9  # of a wave of size 1; below it lies the arithmetic's own dust


@dataclass(frozen=True, slots=True)
class Steps:
    """Rises of the wave across the windows, focus free, a near conic already taken out.

    ``inner`` and ``outer`` (zones,) are the windows' edges over the rim's radius, ``rise`` and
    ``error`` (zones,) in waves; ``freedom`` the degrees of freedom of the error, 0 where it is
    assumed; ``conic_waves`` the rho^4 of the conic taken out.
    """

    inner: Floats
    outer: Floats
    rise: Floats
    error: Floats
    freedom: int
    conic_waves: float


@dataclass(frozen=True, slots=True)
class _Sizes:
    """Sizes (rows,) of the prior's parts, and the covariance (rows, zones, zones) of the steps."""

    length: Floats
    rough: Floats
    conic: Floats
    knife_factor: Floats
    covariance: Floats

    def taken(self, rows: NDArray[np.intp]) -> _Sizes:
        """Some of the rows."""
        return _Sizes(
            self.length[rows], self.rough[rows], self.conic[rows], self.knife_factor[rows],
            self.covariance[rows],
        )  # fmt: skip


def mean_wave(steps: Steps, rho: Floats) -> Floats:
    """The posterior's mean (radii,), over all sizes, the near conic still to be added.

    Source: Rasmussen and Williams 2006, sec. 2.2 (from memory).
    """
    sizes, left = _sizes(steps), _left(steps)
    share = _shares(sizes.covariance, left)
    pull = share[:, None] * _solved(sizes.covariance, left)
    wave = np.zeros_like(rho)
    for length in ROUGH_LENGTHS:
        rows = np.flatnonzero(sizes.length == length)
        wave += (sizes.rough[rows] ** 2 @ pull[rows]) @ _rough_rises(steps, rho, length)
    for power, size in ((2, np.full(len(pull), FOCUS_WAVES)), (4, sizes.conic)):
        wave += float(size**2 @ pull @ (steps.outer**power - steps.inner**power)) * rho**power
    return wave - steps.conic_waves * rho**4


def foretold_last(steps: Steps) -> tuple[float, float]:
    """The rise across the last window that the others make likely, and its standard error, waves.

    The error of its own readings is in it.
    """
    covariance, left = _sizes(steps).covariance, _left(steps)
    known, across = covariance[:, :-1, :-1], covariance[:, :-1, -1]
    share = _shares(known, left[:-1])
    gain = np.linalg.solve(known, across[..., None])[..., 0]
    mean = gain @ left[:-1]
    spread = covariance[:, -1, -1] - (gain * across).sum(axis=1)
    most_likely = float(share @ mean)
    variance = float(share @ (spread + (mean - most_likely) ** 2))
    near = steps.conic_waves * float(steps.outer[-1] ** 4 - steps.inner[-1] ** 4)
    return most_likely - near, max(variance, 1e-12) ** 0.5


def drawn_waves(steps: Steps, rho: Floats, random: np.random.Generator) -> Floats:
    """Waves (DRAWS, radii) from the posterior, the near conic still to be added.

    Sizes are drawn by their likelihood; then a wave of the prior is bent to the steps:
    ``f + gain (rise - step(f) - noise)``, an exact draw.
    Source: Matheron's rule, as in Journel and Huijbregts 1978 (from memory).
    """
    sizes, left = _sizes(steps), _left(steps)
    share = _shares(sizes.covariance, left)
    chosen = random.choice(len(share), DRAWS, p=share)
    drawn = np.empty((DRAWS, len(rho)))
    for length in ROUGH_LENGTHS:
        rows = np.flatnonzero(sizes.length[chosen] == length)
        drawn[rows] = _bent(steps, rho, left, sizes.taken(chosen[rows]), random)
    return drawn - steps.conic_waves * rho**4


def _left(steps: Steps) -> Floats:
    """The rises (zones,) with the near conic's put back: what the prior speaks of."""
    return np.asarray(steps.rise + steps.conic_waves * (steps.outer**4 - steps.inner**4))


def _sizes(steps: Steps) -> _Sizes:
    """Every size of the prior with every other, alike beforehand."""
    factors = _knife_factors(steps.freedom)
    sizes = product(ROUGH_LENGTHS, ROUGH_SIZES_WAVES, CONIC_SIZES_WAVES, factors)
    length, rough, conic, factor = np.array(list(sizes)).T
    smooth = {one: _rough_steps(steps, one) for one in ROUGH_LENGTHS}
    covariance = np.stack([smooth[one] for one in length]) * (rough**2)[:, None, None]
    covariance += (conic**2)[:, None, None] * _power(steps, 4)
    covariance += FOCUS_WAVES**2 * _power(steps, 2)
    covariance += (factor**2)[:, None, None] * np.diag(steps.error**2)
    return _Sizes(length, rough, conic, factor, covariance)


def _knife_factors(freedom: int) -> Floats:
    """True over told error of the knife, equally likely, by the cube-root law of chi-square.

    Source: Wilson and Hilferty 1931, Proc. Nat. Acad. Sci. 17, 684 (from memory).
    """
    free = freedom or ASSUMED_FREEDOM
    ninth = 2.0 / (9.0 * free)
    share = (1.0 - ninth + np.array(NORMAL_QUANTILES) * np.sqrt(ninth)) ** 3
    return np.asarray(1.0 / np.sqrt(share))


def _kernel(one: Floats, other: Floats, length: float) -> Floats:
    """Covariance of a smooth wave of size 1 that is even across the middle."""
    near = ((one[:, None] - other) / length) ** 2
    across = ((one[:, None] + other) / length) ** 2
    return np.asarray((np.exp(-near / 2.0) + np.exp(-across / 2.0)) / 2.0)


def _power(steps: Steps, power: int) -> Floats:
    """Covariance (zones, zones) of the steps of rho^power of size 1."""
    rise = steps.outer**power - steps.inner**power
    return np.asarray(rise[:, None] * rise)


def _rough_steps(steps: Steps, length: float) -> Floats:
    """Covariance (zones, zones) of the steps of a smooth wave of size 1."""
    edges = np.concatenate([steps.inner, steps.outer])
    rise = np.hstack([-np.eye(len(steps.inner)), np.eye(len(steps.inner))])
    return np.asarray(rise @ _kernel(edges, edges, length) @ rise.T)


def _rough_rises(steps: Steps, rho: Floats, length: float) -> Floats:
    """Covariance (zones, radii) of the steps with a smooth wave of size 1."""
    return _kernel(steps.outer, rho, length) - _kernel(steps.inner, rho, length)


def _solved(covariance: Floats, rise: Floats) -> Floats:
    """``covariance^-1 rise``: (rows, zones) from (rows, zones, zones)."""
    every = np.broadcast_to(rise, covariance.shape[:2])[..., None]
    return np.asarray(np.linalg.solve(covariance, every)[..., 0])


def _shares(covariance: Floats, rise: Floats) -> Floats:
    """How likely the rises make each of the covariances (rows, zones, zones): sum 1."""
    log = -0.5 * (_solved(covariance, rise) @ rise + np.linalg.slogdet(covariance)[1])
    share = np.exp(log - log.max())
    return np.asarray(share / share.sum())


def _bent(
    steps: Steps, rho: Floats, rise: Floats, sizes: _Sizes, random: np.random.Generator
) -> Floats:
    """Waves (rows, radii) of the prior, each of its own sizes but one length, bent to the steps."""
    size, conic = sizes.rough, sizes.conic
    rows, zones = len(size), len(rise)
    if not rows:
        return np.empty((0, len(rho)))
    length = float(sizes.length[0])
    at = np.concatenate([rho, steps.inner, steps.outer])
    values, vectors = np.linalg.eigh(_kernel(at, at, length))
    kept = values > LEAST_VARIANCE
    root = vectors[:, kept] * np.sqrt(values[kept])
    wave = size[:, None] * (random.standard_normal((rows, int(kept.sum()))) @ root.T)
    wave += FOCUS_WAVES * random.standard_normal((rows, 1)) * at**2
    wave += conic[:, None] * random.standard_normal((rows, 1)) * at**4
    noise = sizes.knife_factor[:, None] * steps.error * random.standard_normal((rows, zones))
    over, inner, outer = np.split(wave, [len(rho), len(rho) + zones], axis=1)
    left = rise - (outer - inner) - noise
    pull = np.linalg.solve(sizes.covariance, left[..., None])[..., 0]
    bend = size[:, None] ** 2 * (pull @ _rough_rises(steps, rho, length))
    for power, variance in ((2, FOCUS_WAVES**2), (4, conic**2)):
        share = variance * (pull @ (steps.outer**power - steps.inner**power))
        bend += share[:, None] * rho**power
    return np.asarray(over + bend)
