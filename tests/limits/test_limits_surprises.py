"""Looks that nobody foretold, and their reasons."""

from __future__ import annotations

import datetime as dt

from simulated_logs import example_instrument, pair_record, star_record

from planner.limits.evidence import evidence_of
from planner.limits.fitting import fit
from planner.limits.priors import prior_of
from planner.limits.surprises import Reason, Surprise, surprises
from planner.log.outcome import Outcome
from planner.log.record import Record


def _found(records: list[Record]) -> dict[str, Surprise]:
    instrument = example_instrument()
    evidence = evidence_of(records, instrument)
    fitted = fit(evidence, prior_of(instrument.setup))
    return {one.record.target: one for one in surprises(records, evidence, fitted, instrument)}


def _ordinary() -> list[Record]:
    """Easy pairs split and hard ones not, stars as promised: nothing to wonder at."""
    easy = [pair_record(n, 6.0, 5.0, 5.5, outcome=Outcome.CLEAN) for n in range(12)]
    hard = [pair_record(20 + n, 0.7, 5.0, 5.5, outcome=Outcome.NOT_SPLIT) for n in range(6)]
    stars = [star_record(40 + n, 3.0, outcome=Outcome.PLAIN) for n in range(6)]
    return easy + hard + stars


def test_a_log_as_foretold_has_no_surprise() -> None:
    assert _found(_ordinary()) == {}


def test_a_bright_star_not_seen_is_a_surprise_for_the_worse() -> None:
    found = _found([*_ordinary(), star_record(90, 3.0, outcome=Outcome.NOT_SEEN)])
    assert list(found) == ["T90"]
    assert not found["T90"].better and found["T90"].reason is Reason.SKY


def test_a_close_split_in_written_good_seeing_is_put_down_to_the_night() -> None:
    late = dt.date(2026, 3, 9)
    look = pair_record(91, 1.25, 5.0, 5.3, outcome=Outcome.CLEAN, night=late, seeing_arcsec=0.8)
    one = _found([*_ordinary(), look])["T91"]
    assert one.better and one.reason is Reason.NIGHT
    assert one.seeing_arcsec is not None and one.seeing_arcsec < 1.0


def test_a_wide_pair_not_split_is_left_unexplained() -> None:
    one = _found([*_ordinary(), pair_record(92, 7.0, 5.0, 5.5, outcome=Outcome.NOT_SPLIT)])["T92"]
    assert not one.better and one.reason is Reason.NONE
