"""How likely each outcome is: ordered logit of the models' margins, and a share of wild looks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

LOGIT_SCALE = 3.0**0.5 / np.pi  # scale of a logistic over its standard deviation
SEEING_SPREAD = 0.20  # own judgement; of ln worst seeing, between looks at one pair
COMPANION_SPREAD_MAG = 0.45  # own judgement; of a star's magnitudes in hand
OBJECT_SPREAD_MAG = 0.6  # own judgement; of a deep-sky object's
STEP_MAGS = (-0.5, 0.5, 1.5)  # own judgement: margins of glimpsed, with care, plain
WILD_SHARE = 0.06  # own judgement: looks at the wrong star, slips of the pen
MAG_PER_LN = 2.5 / np.log(10.0)


def logistic(x: ArrayLike) -> Floats:
    """1 / (1 + e^-x), any shape; safe for large arguments."""
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * np.asarray(x, dtype=float))))


def reaching(log_worst: ArrayLike, log_seeing: ArrayLike) -> Floats:
    """P(class or better) from the log of its worst seeing and of the seeing there, broadcast."""
    ahead = np.subtract(log_worst, log_seeing)
    return logistic(ahead / (SEEING_SPREAD * LOGIT_SCALE))


def in_hand(margin_mag: ArrayLike, spread_mag: ArrayLike = COMPANION_SPREAD_MAG) -> Floats:
    """P(seen so or better) from magnitudes in hand beyond the step, broadcast."""
    return logistic(np.asarray(margin_mag) / (np.asarray(spread_mag) * LOGIT_SCALE))


def classes(at_least: Floats) -> Floats:
    """P of each of C + 1 classes (..., C + 1) from P(>= class 1..C) (..., C), falling."""
    ones, zeros = np.ones((*at_least.shape[:-1], 1)), np.zeros((*at_least.shape[:-1], 1))
    edges = np.concatenate([ones, at_least, zeros], axis=-1)
    return np.asarray(np.clip(edges[..., :-1] - edges[..., 1:], 0.0, 1.0))


def with_wild(chance: ArrayLike, count: ArrayLike) -> Floats:
    """The chance where a share of looks is any of ``count`` outcomes, broadcast."""
    return np.asarray((1.0 - WILD_SHARE) * np.asarray(chance) + WILD_SHARE / np.asarray(count))


def eye_change_mag(log_factor: ArrayLike) -> Floats:
    """Magnitudes in hand gained by an eye factor times e^log_factor: -1.0857 of the logarithm."""
    return np.asarray(-MAG_PER_LN * np.asarray(log_factor, dtype=float))
