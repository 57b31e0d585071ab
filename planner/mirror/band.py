"""Waves as likely as the readings leave them: how smooth the glass is, the readings themselves say.

A prior of one fixed roughness calls every smooth mirror rougher than it is, and the lower ends of
its intervals come out too high. Here the sizes of roughness and conic, the length over which the
glass changes and the knife's error are unknown too, weighed by how well they foretell the steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FOCUS_WAVES = 10.0  # prior of rho^2, as good as free
ROUGH_SIZES_WAVES = (0.005, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32)  # even in logarithm; own judgement
ROUGH_LENGTHS = (0.2, 0.3, 0.45)  # in rho; own judgement
CONIC_SIZES_WAVES = (0.03, 0.1, 0.3, 1.0, 3.0)  # of rho^4, even in logarithm; own judgement
NORMAL_QUANTILES = (-1.2816, -0.5244, 0.0, 0.5244, 1.2816)  # of 0.1, 0.3 .. 0.9: equally likely
ASSUMED_FREEDOM = 4  # what one run's assumed error is worth; own judgement
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
    """Sizes (rows,) of each wave drawn, one length, and the covariance (rows, zones, zones)."""

    length: float
    rough: Floats
    conic: Floats
    knife_factor: Floats
    covariance: Floats


def drawn_waves(steps: Steps, rho: Floats, random: np.random.Generator) -> Floats:
    """Waves (DRAWS, radii) from the posterior, the near conic still to be added.

    Sizes are drawn by their likelihood; then a wave of the prior is bent to the steps:
    ``f + gain (rise - step(f) - noise)``, an exact draw.
    Source: Matheron's rule, as in Journel and Huijbregts 1978 (from memory).
    """
    factors = _knife_factors(steps.freedom)
    sizes = list(product(ROUGH_LENGTHS, ROUGH_SIZES_WAVES, CONIC_SIZES_WAVES, factors))
    length, size, conic, factor = np.array(sizes).T
    left = steps.rise + steps.conic_waves * (steps.outer**4 - steps.inner**4)
    rough = {one: _rough_steps(steps, one) for one in ROUGH_LENGTHS}
    covariance = np.stack([rough[one] for one in length]) * (size**2)[:, None, None]
    covariance += (conic**2)[:, None, None] * _power(steps, 4)
    covariance += FOCUS_WAVES**2 * _power(steps, 2)
    covariance += (factor**2)[:, None, None] * np.diag(steps.error**2)
    chosen = _chosen(covariance, left, random)
    drawn = np.empty((DRAWS, len(rho)))
    for one in ROUGH_LENGTHS:
        rows = np.flatnonzero(length[chosen] == one)
        picked = chosen[rows]
        picks = _Sizes(one, size[picked], conic[picked], factor[picked], covariance[picked])
        drawn[rows] = _bent(steps, rho, left, picks, random)
    return drawn - steps.conic_waves * rho**4


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


def _chosen(covariance: Floats, rise: Floats, random: np.random.Generator) -> NDArray[np.intp]:
    """Rows (DRAWS,) of the covariances (sizes, zones, zones), by the likelihood of the steps."""
    missed = np.linalg.solve(covariance, np.broadcast_to(rise, covariance.shape[:2])[..., None])
    log = -0.5 * (missed[..., 0] @ rise + np.linalg.slogdet(covariance)[1])
    share = np.exp(log - log.max())
    return np.asarray(random.choice(len(log), DRAWS, p=share / share.sum()))


def _bent(
    steps: Steps, rho: Floats, rise: Floats, sizes: _Sizes, random: np.random.Generator
) -> Floats:
    """Waves (rows, radii) of the prior, each of its own sizes, bent to the steps."""
    length, size, conic = sizes.length, sizes.rough, sizes.conic
    rows, zones = len(size), len(rise)
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
    rough = _kernel(steps.outer, rho, length) - _kernel(steps.inner, rho, length)
    bend = size[:, None] ** 2 * (pull @ rough)
    for power, variance in ((2, FOCUS_WAVES**2), (4, conic**2)):
        share = variance * (pull @ (steps.outer**power - steps.inner**power))
        bend += share[:, None] * rho**power
    return np.asarray(over + bend)
