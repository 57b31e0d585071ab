"""What a look would be like, how well that was foretold, and what it would teach."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.limits.likelihood import (
    LOG_SEEING,
    NIGHT_SPREAD,
    night_terms,
    outcome_chances,
)
from planner.limits.priors import Own

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.limits.evidence import Evidence, Looks
    from planner.limits.fitting import Fit

    Floats = NDArray[np.float64]

DRAWS_USED = 200  # of a fit's, for what is asked of many targets


def thinned(fit: Fit, count: int = DRAWS_USED) -> Floats:
    """Equally likely settings (count, 4) from a fit, the same every time."""
    edges = np.cumsum(fit.weight)
    rows = np.searchsorted(edges, (np.arange(count) + 0.5) / count * edges[-1])
    return np.asarray(fit.draws[np.minimum(rows, len(edges) - 1)])


def foretold(looks: Looks, own: Floats) -> Floats:
    """P of each outcome (K, N, 5) on an unknown night, at settings (K, 4)."""
    steps = np.linspace(-2.0, 2.0, 9)
    share = np.exp(-0.5 * steps**2)
    total = np.zeros((len(own), len(looks.count), 5))
    for step, part in zip(steps, share / share.sum(), strict=True):
        seeing = own[:, Own.SEEING, None] + NIGHT_SPREAD * step
        total += part * outcome_chances(looks, own, np.repeat(seeing, len(looks.count), axis=1))
    return total


def log_score(evidence: Evidence, own: Floats, weight: Floats) -> float:
    """Mean log chance of what was seen, each look by itself, over weighted settings (K, 4)."""
    chance = np.einsum("k,knc->nc", weight, foretold(evidence.looks, own))
    seen = chance[np.arange(len(evidence)), evidence.outcome]
    return float(np.log(np.maximum(seen, 1e-300)).mean())


def information_bits(looks: Looks, own: Floats) -> tuple[Floats, NDArray[np.intp]]:
    """What each look (N,) would teach of equally likely settings (K, 4), and of which most.

    The mutual information of outcome and settings in bits; the setting is the one that the
    foretold outcome goes with most closely.
    """
    chance = foretold(looks, own)
    gained = _entropy(chance.mean(axis=0)) - _entropy(chance).mean(axis=0)
    expected = chance @ np.arange(5.0)
    away = expected - expected.mean(axis=0)
    moved = own - own.mean(axis=0)
    moved = moved / np.maximum(moved.std(axis=0), 1e-12)
    return np.maximum(gained, 0.0), np.argmax(np.abs(moved.T @ away), axis=0)


def _entropy(chance: Floats) -> Floats:
    return np.asarray(-(chance * np.log2(np.maximum(chance, 1e-300))).sum(axis=-1))


def nights_seeing(evidence: Evidence, own: Floats) -> Floats:
    """ln zenith seeing (nights,) of each night, from its looks, at settings (4,)."""
    terms = night_terms(evidence, own[None])[0]
    weight = np.exp(terms - terms.max(axis=1, keepdims=True))
    return np.asarray((weight @ LOG_SEEING) / weight.sum(axis=1))
