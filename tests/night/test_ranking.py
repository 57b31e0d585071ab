"""The order of the list: shown ones first, then by worth, whatever the order of the tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_nights import judged, plan

from planner.night.judging import Judged
from planner.night.ranking import NEIGHBOUR_COST, ranked
from planner.night.systems import single_systems
from planner.night.worth import Worth
from planner.targets.kind import Kind

ROWS = st.lists(st.tuples(st.booleans(), st.integers(0, 100)), max_size=8)
Rows = list[tuple[bool, int]]


def group(rows: Rows, sorts: list[str] | None = None) -> Judged:
    """A group of such targets, shown or not, with a worth each; the rest is another's."""
    _, (base,) = judged(kinds=frozenset({Kind.PLANET, Kind.MOON}), limit=None)
    zeros = np.zeros(len(rows))
    names = [f"{worth} {number}" for number, (_, worth) in enumerate(rows)]
    return replace(
        base,
        systems=single_systems(len(rows)),
        shown=np.array([shown for shown, _ in rows], dtype=bool),
        worth=Worth(np.array([worth for _, worth in rows], dtype=float), zeros, zeros),
        ids=np.array(names, dtype=object),
        sorts=np.array(sorts or [f"kind{n} Her" for n in range(len(rows))], dtype=object),
    )


@settings(deadline=None, max_examples=80)
@given(ROWS, ROWS)
def test_shown_before_not_shown_and_the_worthier_first(one: Rows, other: Rows) -> None:
    """Over all groups together; without those not shown where they are not asked for."""
    groups, rows = [group(one), group(other)], [one, other]
    everything = [rows[e.group][e.number] for e in ranked(groups, include_all=True)]
    assert sorted(everything) == sorted(one + other)
    keys = [not shown for shown, _ in everything]
    assert keys == sorted(keys)
    hidden = [-worth for shown, worth in everything if not shown]
    assert hidden == sorted(hidden)
    shown = [rows[e.group][e.number] for e in ranked(groups, include_all=False)]
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
    same = {len(r): ["a b"] * len(r) for r in (*rows, *turned)}
    first, second = ([group(r, same[len(r)]) for r in some] for some in (rows, turned))
    straight = [rows[e.group][e.number] for e in ranked(first, include_all=True)]
    again = [turned[e.group][e.number] for e in ranked(second, include_all=True)]
    assert straight == again


def test_variety_puts_another_sort_before_the_third_of_the_same() -> None:
    """Three clusters of Auriga a point apart, and a galaxy a little below the last."""
    rows = [(True, 60), (True, 59), (True, 58), (True, 57)]
    sorts = ["open-cluster Aur", "open-cluster Aur", "open-cluster Aur", "galaxy Leo"]
    order = ranked([group(rows, sorts)], include_all=False)
    assert [entry.number for entry in order] == [0, 3, 1, 2]
    taken = [entry.variety for entry in order]
    assert taken[0] == taken[1] == 0.0 and taken[3] >= taken[2] + NEIGHBOUR_COST


@pytest.mark.parametrize("limit", [0, 1, 7])
def test_the_limit_cuts_the_end_of_the_list(limit: int) -> None:
    """And nothing else."""
    whole = plan(constellation="Her", limit=None)
    cut = plan(constellation="Her", limit=limit)
    assert cut.targets == whole.targets[:limit]
    assert len(cut.targets) == limit < len(whole.targets)
    assert (cut.shown_count, cut.considered) == (whole.shown_count, whole.considered)
    assert whole.shown_count == len(whole.targets)
