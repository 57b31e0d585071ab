"""The fit of the observer's own limits: chances, likelihood, sampling, coverage."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy import stats
from simulated_logs import example_instrument, pair_record, pool, simulated, star_record, truth

from planner.limits.chances import (
    COMPANION_SPREAD_MAG,
    STEP_MAGS,
    classes,
    eye_change_mag,
    in_hand,
    reaching,
    with_wild,
)
from planner.limits.evidence import Evidence, evidence_of
from planner.limits.fitting import TOLD_BELOW, fit, quantiles
from planner.limits.foretelling import foretold, information_bits, log_score
from planner.limits.likelihood import log_likelihood, log_worst_at
from planner.limits.priors import TILT_RANGE, TILT_SD, Own
from planner.limits.sampling import posterior_draws
from planner.log.outcome import Outcome

BY_HAND = 1e-5  # the decimals given
WORST = np.log([3.0, 2.6, 2.1, 1.4])


def test_classes_of_a_pair_agree_with_hand_calculation() -> None:
    """1 / (1 + (s/w)^(1/(0.20 sqrt3/pi))) in seeing of 2", by hand."""
    at_least = reaching(WORST, np.log(2.0))
    assert at_least == pytest.approx([0.97533, 0.91524, 0.60885, 0.03788], abs=BY_HAND)
    expected = [0.02467, 0.06009, 0.30639, 0.57097, 0.03788]
    assert classes(at_least) == pytest.approx(expected, abs=BY_HAND)


def test_wild_share_agrees_with_hand_calculation() -> None:
    """0.94 0.02467 + 0.06/5, by hand."""
    assert with_wild(0.02467, 5) == pytest.approx(0.03519, abs=BY_HAND)


def test_chances_of_a_star_agree_with_hand_calculation() -> None:
    """Margin 0.2 mag, steps -0.5, 0.5, 1.5, spread 0.45 mag, by hand."""
    chance = in_hand(0.2 - np.array(STEP_MAGS))
    assert chance == pytest.approx([0.94382, 0.22984, 0.00527], abs=BY_HAND)


def test_eye_factor_changes_margins_as_by_hand() -> None:
    """-2.5 log10(1.6 / 2.0), by hand."""
    assert eye_change_mag(np.log(1.6 / 2.0)) == pytest.approx(0.24228, abs=BY_HAND)


def test_chances_agree_with_scipys_logistic() -> None:
    margin = np.linspace(-30.0, 30.0, 61)
    scale = COMPANION_SPREAD_MAG * np.sqrt(3.0) / np.pi  # a logistic's standard deviation
    assert in_hand(margin) == pytest.approx(stats.logistic.cdf(margin, scale=scale), abs=1e-12)


def test_draws_of_a_line_agree_with_its_conjugate_answer() -> None:
    """Normal prior, normal likelihood: 1/(1 + 1/s^2); Gelman et al., Bayesian Data Analysis, 2.5.

    From memory. A likelihood five times as narrow as the prior, far from its middle.
    """
    seen, spread = np.array([2.0, -1.0, 0.5, 0.0]), 0.2

    def likely(units: np.ndarray) -> np.ndarray:
        return -0.5 * (((units - seen) / spread) ** 2).sum(axis=1)

    draws = posterior_draws(lambda units: -0.5 * (units**2).sum(axis=1), likely, 4)
    mean = draws.weight @ draws.units
    sd = np.sqrt(draws.weight @ (draws.units - mean) ** 2)
    kept = 1.0 / (1.0 + spread**2)
    error = 4.0 / np.sqrt(draws.effective)  # four standard errors
    assert mean == pytest.approx(seen * kept, abs=error * spread)
    assert sd == pytest.approx(np.full(4, spread * np.sqrt(kept)), rel=error)


@cache
def _log() -> Evidence:
    random = np.random.default_rng(2)
    return simulated(pool(), truth(pool().prior, random), random)


def test_fit_agrees_with_brute_force_over_a_grid() -> None:
    """The posterior summed on a grid of 11^4 settings instead of drawn."""
    evidence, prior = _few(_log(), 12), pool().prior
    line = np.linspace(-3.2, 3.2, 11)
    units = np.stack(np.meshgrid(line, line, line, line, indexing="ij"), axis=-1).reshape(-1, 4)
    units = units[np.isfinite(prior.log_density(units))]
    log_weight = prior.log_density(units) + log_likelihood(evidence, prior.values(units))
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    own = prior.values(units)
    mean = weight @ own
    sd = np.sqrt(weight @ (own - mean) ** 2)
    found = fit(evidence, prior)
    assert (found.middle - mean) / sd == pytest.approx(np.zeros(4), abs=0.15)  # step of the grid
    assert [one.sd for one in found.learnt] == pytest.approx(sd, rel=0.12)


def _few(evidence: Evidence, count: int) -> Evidence:
    first = np.arange(count)
    nights = int(evidence.night[count - 1]) + 1
    return Evidence(
        evidence.looks.rows(first), evidence.outcome[first], evidence.night[first],
        evidence.weight[first], evidence.log_written[:nights],
    )  # fmt: skip


def test_fit_of_looks_without_weight_is_the_prior() -> None:
    silent = np.full_like(_log().log_written, np.nan)
    prior = pool().prior
    found = fit(replace(_log(), weight=np.zeros(len(_log())), log_written=silent), prior)
    cut = stats.truncnorm(*((np.array(TILT_RANGE) - prior.mean[0]) / TILT_SD))
    expected = [prior.sd[0] * cut.std(), *prior.sd[1:]]
    assert [one.sd for one in found.learnt] == pytest.approx(expected, rel=0.06)
    assert [one.prior_sd for one in found.learnt] == pytest.approx(expected, rel=0.01)
    assert not any(one.told for one in found.learnt)


def test_fit_is_the_same_every_time() -> None:
    assert np.array_equal(fit(_log(), pool().prior).draws, fit(_log(), pool().prior).draws)


def test_order_of_the_records_is_irrelevant() -> None:
    words = [Outcome.JUST, Outcome.NOT_SPLIT, Outcome.CLEAN, Outcome.ELONGATED]
    records = [pair_record(n, 1.5 + 0.3 * n, 6.0, 7.0, outcome=o) for n, o in enumerate(words)]
    records += [star_record(9, 0.4, outcome=Outcome.GLIMPSED)]
    one = fit(evidence_of(records, example_instrument()), pool().prior)
    other = fit(evidence_of(records[::-1], example_instrument()), pool().prior)
    assert np.array_equal(one.draws, other.draws)


def test_looks_at_one_target_count_less() -> None:
    records = [pair_record(n, 2.0, 6.0, 7.0, outcome=Outcome.JUST) for n in range(4)]
    same = [replace(record, target="T0") for record in records[:3]] + records[3:]
    evidence = evidence_of(same, example_instrument())
    assert sorted(evidence.weight) == pytest.approx([0.5, 0.5, 0.5, 1.0])


def test_grid_between_its_nodes_agrees_with_tables_built_there() -> None:
    """Design of the nodes: a quadratic in the motion followed holds ln worst seeing to 2 %."""
    from planner.verdict.pairs.tables import build_split_tables

    instrument = example_instrument()
    tables = instrument.tables[0]
    there = build_split_tables(
        replace(tables.instrument, tilt_followed=0.9), tables.powers, tables.exit_pupils_mm
    )
    records = [pair_record(n, 1.2 + 0.4 * n, 5.0, 6.0 + 0.3 * n) for n in range(8)]
    own = np.array([[0.9, 0.25, 0.0, 0.7]])
    between = log_worst_at(evidence_looks(records), own)[0]
    exact = evidence_looks(records, (there,) * 3)
    apart = np.abs(between - log_worst_at(exact, own)[0])
    assert np.median(apart) < 0.02
    assert apart.max() < 0.08  # a class at the edge of a step of the eye's


def evidence_looks(records: list, tables: tuple | None = None):
    """Looks through the example telescope, with other tables if given."""
    from planner.limits.evidence import looks_at

    instrument = example_instrument()
    return looks_at(records, instrument if tables is None else replace(instrument, tables=tables))


def test_clean_splits_beyond_promise_lower_the_handicap() -> None:
    """Unequal pairs that always do better than promised speak for an easier companion."""
    wide = [pair_record(n, 3.0 + 0.1 * n, 4.0, 7.5, outcome=Outcome.CLEAN) for n in range(12)]
    poor = [replace(record, outcome=Outcome.NOT_SPLIT) for record in wide]
    good, bad = (
        fit(evidence_of(records, example_instrument()), pool().prior).middle
        for records in (wide, poor)
    )
    assert good[Own.HANDICAP] < bad[Own.HANDICAP]
    assert good[Own.SEEING] < bad[Own.SEEING]


def test_intervals_of_simulated_logs_hold() -> None:
    """24 logs, 4 settings: 90 % of 96; four binomial standard errors below and above."""
    random, held, gains = np.random.default_rng(4), 0, []
    for _ in range(24):
        own = truth(pool().prior, random)
        found = fit(simulated(pool(), own, random), pool().prior)
        aside = simulated(pool(), own, random)
        held += sum(one.low <= own[one.own] <= one.high for one in found.learnt)
        kit = log_score(aside, pool().prior.mean[None], np.ones(1))
        gains.append(log_score(aside, found.draws, found.weight) - kit)
    assert stats.binom.ppf(1e-3, 96, 0.9) <= held <= 95
    assert np.mean(gains) > 0.0


def test_more_looks_leave_less_doubt() -> None:
    random = np.random.default_rng(8)
    own = truth(pool().prior, random)
    few, many = (fit(simulated(pool(), own, random, n), pool().prior) for n in (10, 160))
    assert all(b.sd < a.sd for a, b in zip(few.learnt, many.learnt, strict=True))
    assert many.learnt[Own.SEEING].sd < TOLD_BELOW * many.learnt[Own.SEEING].prior_sd


def test_quantiles_of_equal_weights_agree_with_numpy() -> None:
    values = np.random.default_rng(0).normal(size=999)
    expected = np.quantile(values, (0.05, 0.5, 0.95), method="hazen")
    assert quantiles(values, np.full(999, 1 / 999), (0.05, 0.5, 0.95)) == pytest.approx(expected)


def test_foretold_chances_sum_to_one() -> None:
    chance = foretold(pool().looks, pool().prior.mean[None])
    assert chance.sum(axis=2) == pytest.approx(np.ones(chance.shape[:2]))


def test_a_star_far_above_the_limit_teaches_less_than_one_at_it() -> None:
    own = pool().prior.values(np.random.default_rng(1).normal(size=(200, 4)))
    bits, which = information_bits(evidence_looks([star_record(0, 0.5), star_record(1, 6.0)]), own)
    assert bits[0] > 0.05 > 0.01 > bits[1] >= 0.0
    assert which[0] == Own.EYE
