"""Slips of the pen: how many, and which names they lead to."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.targets.spelling import all_like, most_like, nearest, slips_between, slips_forgiven

NAMES = ["albireo", "alperi", "achernar", "castor", "kastra", "mizar", "mira", "jupiter", "m57"]
WORDS = st.text("abc", max_size=6)


@pytest.mark.parametrize(
    ("one", "other", "slips"),
    [
        ("", "abc", 3),
        ("izar", "izar", 0),
        ("izzar", "izar", 1),
        ("isar", "izar", 1),
        ("castro", "castor", 1),  # neighbours swapped
        ("alberio", "albireo", 2),  # two letters that are no neighbours
        ("ca", "abc", 3),  # the textbook example of this restricted distance (from memory)
    ],
)
def test_slips_are_counted(one: str, other: str, slips: int) -> None:
    assert slips_between(one, other) == slips


@given(WORDS, WORDS)
@settings(deadline=None, max_examples=60)
def test_slips_are_the_same_both_ways_and_bounded(one: str, other: str) -> None:
    """None only between equals; never fewer than the lengths differ, nor more than the longer."""
    slips = slips_between(one, other)
    assert slips == slips_between(other, one)
    assert (slips == 0) == (one == other)
    assert abs(len(one) - len(other)) <= slips <= max(len(one), len(other))


@pytest.mark.parametrize(
    ("key", "names"),
    [
        ("alberio", ["albireo"]),
        ("castro", ["castor"]),
        ("mizra", ["mizar"]),
        ("juptier", ["jupiter"]),
        ("m5", ["m57"]),
        ("pluto", []),
        ("sun", []),
        ("comet", []),
    ],
)
def test_nearest_gives_the_likely_and_nothing_far_fetched(key: str, names: list[str]) -> None:
    assert nearest(key, NAMES) == names


def test_long_names_are_forgiven_more() -> None:
    forgiven = [slips_forgiven("a" * length) for length in range(1, 20)]
    assert forgiven == sorted(forgiven)
    assert forgiven[2] == 0 < forgiven[3] < forgiven[-1]


def test_what_may_be_meant_is_told_as_it_is_written_the_likest_first() -> None:
    """In capitals or not; nothing where nothing is like it."""
    words = ["Galaxy", "galax", "Nebula"]
    assert most_like("GALAXY", words, cutoff=0.6) == "Galaxy"
    assert all_like("galaxy", words, cutoff=0.6, count=5) == ["Galaxy", "galax"]
    assert all_like("galaxy", words, cutoff=0.6, count=1) == ["Galaxy"]
    assert most_like("xyz", words, cutoff=0.6) is None
