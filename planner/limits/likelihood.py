"""All looks together: how well each set of settings foretells them, the night's seeing unknown."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.limits.chances import (
    LOGIT_SCALE,
    SEEING_SPREAD,
    classes,
    eye_change_mag,
    in_hand,
    reaching,
    with_wild,
)
from planner.limits.evidence import HANDICAP_NODES, TILT_NODES
from planner.limits.priors import Own

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.limits.evidence import Evidence, Looks

    Floats = NDArray[np.float64]

NIGHT_SPREAD = 0.25  # own judgement; of ln seeing between nights
WRITTEN_SPREAD = 0.25  # own judgement; of ln seeing as written about the night's
LOG_SEEING = np.linspace(np.log(0.5), np.log(8.0), 23)  # nights between half and eight arcseconds
_AT_ONCE = 4_000_000  # numbers worked on together


def setting_basis(own: Floats) -> Floats:
    """Weights (K, A H) of the nodes: quadratic in the motion followed, linear in handicap."""
    tilt, handicap = own[:, Own.TILT], own[:, Own.HANDICAP]
    nodes, steps = np.array(TILT_NODES), np.array(HANDICAP_NODES)
    parts = []
    for i, node in enumerate(nodes):
        others = np.delete(nodes, i)
        parts.append(np.prod((tilt[:, None] - others) / (node - others), axis=1))
    inside = np.clip(handicap, steps[0], steps[-1])
    hats = np.clip(1.0 - np.abs(inside[:, None] - steps) / (steps[1] - steps[0]), 0.0, 1.0)
    return np.asarray((np.stack(parts, axis=1)[:, :, None] * hats[:, None]).reshape(len(own), -1))


def log_worst_at(looks: Looks, own: Floats) -> Floats:
    """ln worst seeing (K, N, C) of N looks at K settings."""
    count, *_, steps = looks.log_worst.shape
    flat = looks.log_worst.reshape(count, -1, steps).transpose(1, 0, 2).reshape(-1, count * steps)
    return np.asarray((setting_basis(own) @ flat).reshape(len(own), count, steps))


def step_chances(looks: Looks, own: Floats) -> Floats:
    """P(magnitudes suffice) (K, N, C) of N looks at K settings."""
    room = looks.room_mag + eye_change_mag(own[:, Own.EYE])[:, None, None]
    return in_hand(room, looks.spread_mag[:, None])


def outcome_chances(looks: Looks, own: Floats, log_seeing: Floats) -> Floats:
    """P of each of five outcomes (K, N, 5) in the seeing ``log_seeing`` (K, N)."""
    at_least = step_chances(looks, own)
    at_least *= np.where(
        looks.is_pair[:, None], reaching(log_worst_at(looks, own), log_seeing[..., None]), 1.0
    )
    chance = with_wild(classes(at_least), looks.count[:, None])
    return np.where(np.arange(5) < looks.count[:, None], chance, 0.0)


def log_likelihood(evidence: Evidence, own: Floats) -> Floats:
    """Log likelihood (K,) of settings (K, 4)."""
    per = len(LOG_SEEING) * max(len(evidence), 1) * 2
    size = max(1, _AT_ONCE // per)
    parts = [night_terms(evidence, own[k : k + size]) for k in range(0, len(own), size)]
    peaks = [part.max(axis=2, keepdims=True) for part in parts]
    sums = [
        (np.log(np.exp(part - peak).sum(axis=2)) + peak[:, :, 0]).sum(axis=1)
        for part, peak in zip(parts, peaks, strict=True)
    ]
    plain = [_unmoved(evidence, own[k : k + size]) for k in range(0, len(own), size)]
    return np.concatenate(sums) + np.concatenate(plain)


def night_terms(evidence: Evidence, own: Floats) -> Floats:
    """Log of prior times likelihood of doubles (K, nights, G) over each night's seeing."""
    prior = -0.5 * ((LOG_SEEING - own[:, Own.SEEING, None]) / NIGHT_SPREAD) ** 2
    prior -= np.log(np.exp(prior).sum(axis=1, keepdims=True))
    away = (LOG_SEEING - evidence.log_written[:, None]) / WRITTEN_SPREAD
    total = prior[:, None] - 0.5 * np.nan_to_num(away) ** 2
    pairs = np.flatnonzero(evidence.looks.is_pair)
    if not pairs.size:
        return np.asarray(total)
    terms = _pair_terms(evidence, own, pairs)
    night = evidence.night[pairs]
    starts = np.flatnonzero(np.diff(night, prepend=-1))
    total[:, night[starts]] += np.add.reduceat(terms, starts, axis=1)
    return np.asarray(total)


def _pair_terms(evidence: Evidence, own: Floats, pairs: NDArray[np.intp]) -> Floats:
    """Weighted log chance (K, P, G) of what was seen of doubles."""
    looks, outcome = evidence.looks.rows(pairs), evidence.outcome[pairs]
    log_worst, seen = log_worst_at(looks, own), step_chances(looks, own)
    rows, scale = np.arange(len(pairs)), SEEING_SPREAD * LOGIT_SCALE
    air = np.exp(LOG_SEEING / scale).astype(np.float32)

    def reached(step: NDArray[np.intp], edge: float) -> NDArray[np.float32]:
        inside = (step >= 0) & (step < 4)
        column = np.clip(step, 0, 3)
        drop = np.exp(-log_worst[:, rows, column] / scale).astype(np.float32)
        value = seen[:, rows, column].astype(np.float32)[..., None] / (1.0 + drop[..., None] * air)
        return np.where(inside[:, None], value, np.float32(edge))

    chance = np.maximum(reached(outcome - 1, 1.0) - reached(outcome, 0.0), 0.0)
    wild = with_wild(chance, looks.count[:, None])
    return np.asarray(evidence.weight[pairs][:, None] * np.log(wild))


def _unmoved(evidence: Evidence, own: Floats) -> Floats:
    """Log likelihood (K,) of the looks that no seeing moves."""
    others = np.flatnonzero(~evidence.looks.is_pair)
    if not others.size:
        return np.zeros(len(own))
    looks, outcome = evidence.looks.rows(others), evidence.outcome[others]
    chance = classes(step_chances(looks, own))[:, np.arange(len(others)), outcome]
    return np.asarray(np.log(with_wild(chance, looks.count)) @ evidence.weight[others])
