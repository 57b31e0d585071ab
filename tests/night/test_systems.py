"""Which pairs belong to one star, and which stands for it, against a plain search."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.night.systems import by_system, single_systems
from planner.night.worth import Worth, system_worth

ROW = st.tuples(st.sampled_from("abcd"), st.booleans(), st.booleans(), st.integers(0, 5))
ROWS = st.lists(ROW, min_size=1, max_size=14)
Rows = list[tuple[str, bool, bool, int]]


def columns(rows: Rows) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Names, shown, chance and worth."""
    names, shown, chance, worth = zip(*rows, strict=True)
    return (
        np.array(names, dtype=object), np.array(shown), np.array(chance),
        np.array(worth, dtype=float),
    )  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(ROWS)
def test_every_row_belongs_to_one_system_and_the_best_stands_for_it(rows: Rows) -> None:
    """Shown before not, true before chance, then the worthier; the others follow by worth."""
    names, shown, chance, worth = columns(rows)
    found = by_system(names, shown, chance, worth)
    assert len(found) == len(set(names))
    assert sorted(found.rows) == list(range(len(rows)))
    for number in range(len(found)):
        members = found.members(number)
        assert len({names[row] for row in members}) == 1
        lead, *others = members
        assert found.lead[number] == lead
        keys = [(not shown[row], chance[row], -worth[row]) for row in members]
        assert keys[0] == min(keys)
        assert [worth[row] for row in others] == sorted((worth[r] for r in others), reverse=True)


@settings(deadline=None, max_examples=150)
@given(ROWS)
def test_each_further_pair_that_shows_counts_up_to_three(rows: Rows) -> None:
    """Three points for each, whichever pair is in front."""
    names, shown, chance, worth = columns(rows)
    systems = by_system(names, shown, chance, worth)
    zeros = np.zeros(len(worth))
    found = system_worth(systems, shown, Worth(worth, zeros, zeros)).total
    for number in range(len(systems)):
        members = systems.members(number)
        further = sum(bool(shown[row]) for row in members) - 1
        more = found[number] - worth[members[0]]
        assert more == 3.0 * min(max(further, 0), 3)


def test_single_targets_stand_for_themselves() -> None:
    """One row each, also for none."""
    found = single_systems(3)
    assert found.lead.tolist() == [0, 1, 2]
    assert [found.members(number).tolist() for number in range(3)] == [[0], [1], [2]]
    assert len(single_systems(0)) == 0 and single_systems(0).lead.size == 0
