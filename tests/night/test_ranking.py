"""The order of the list: shown ones first, then by worth, whatever the order of the tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_nights import judged, plan

from planner.night.judging import Judged
from planner.night.planning import ranked
from planner.night.systems import single_systems
from planner.targets.kind import Kind

ROWS = st.lists(st.tuples(st.booleans(), st.integers(0, 100)), max_size=8)
Rows = list[tuple[bool, int]]


def group(rows: Rows) -> Judged:
    """A group of such targets, shown or not, with a worth each; the rest is another's."""
    _, (base,) = judged(kinds=frozenset({Kind.PLANET, Kind.MOON}), limit=None)
    return replace(
        base,
        systems=single_systems(len(rows)),
        shown=np.array([shown for shown, _ in rows], dtype=bool),
        worth=np.array([worth for _, worth in rows], dtype=float),
    )


@settings(deadline=None, max_examples=80)
@given(ROWS, ROWS)
def test_shown_before_not_shown_and_the_worthier_first(one: Rows, other: Rows) -> None:
    """Over all groups together; without those not shown where they are not asked for."""
    groups, rows = [group(one), group(other)], [one, other]
    everything = [rows[place][number] for place, number in ranked(groups, include_all=True)]
    assert sorted(everything) == sorted(one + other)
    keys = [(not shown, -worth) for shown, worth in everything]
    assert keys == sorted(keys)
    shown = [rows[place][number] for place, number in ranked(groups, include_all=False)]
    assert shown == [row for row in everything if row[0]]


@settings(deadline=None, max_examples=80)
@given(ROWS, ROWS, st.randoms(use_true_random=False))
def test_ranks_do_not_depend_on_the_order_of_the_candidates(
    one: Rows, other: Rows, random: object
) -> None:
    """Shuffled tables and groups in another order give the same list of worths."""
    mixed = list(one)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    rows, turned = [one, other], [other, mixed]
    straight = [rows[p][n] for p, n in ranked([group(r) for r in rows], include_all=True)]
    again = [turned[p][n] for p, n in ranked([group(r) for r in turned], include_all=True)]
    assert straight == again


@pytest.mark.parametrize("limit", [0, 1, 7])
def test_the_limit_cuts_the_end_of_the_list(limit: int) -> None:
    """And nothing else."""
    whole = plan(constellation="Her", limit=None)
    cut = plan(constellation="Her", limit=limit)
    assert cut.targets == whole.targets[:limit]
    assert len(cut.targets) == limit < len(whole.targets)
    assert (cut.shown_count, cut.considered) == (whole.shown_count, whole.considered)
    assert whole.shown_count == len(whole.targets)
